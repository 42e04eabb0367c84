"""What ``when`` of a treatment may ask of a lot: the facts, the values they can have, and how they are read.

Declared here alone: a lot takes its words for these facts from here, and so do the check of records and the
pages about records.
"""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

import re
from typing import Any, Literal

from msgspec import Struct

from coldspell.records.model import WhenValue


class AskedFact(Struct, frozen=True):
    """One fact of a lot: what it means, and its words with their meanings (none: it is a number)."""

    says: str
    words: dict[Any, str] = {}
    unit: str = ""

    def values(self) -> str:
        """The values it can have, in one line of Markdown."""
        words = (f"`{word}`: {says.rstrip('.').lower()}" for word, says in self.words.items())
        return "; ".join(words) or f"a number of {self.unit}, `up to 2`, `over 2`"


Moisture = Literal["fresh", "dried"]
_MOISTURE: dict[Moisture, str] = {"fresh": "Never dried.", "dried": "Dried, or bought dry."}
Shell = Literal["husk", "intact", "cracked", "kernel"]
_SHELL: dict[Shell, str] = {
    "husk": "In its husk or flesh.",
    "intact": "Cleaned, the shell whole.",
    "cracked": "The shell cracked.",
    "kernel": "Without shell or coat.",
}
Origin = Literal["north", "south", "unknown"]
_ORIGIN: dict[Origin, str] = {
    "north": "The north of it.",
    "south": "The south of it.",
    "unknown": "Not known.",
}
Gathered = Literal["green", "ripe", "ground_autumn", "ground_spring", "bought", "unknown"]
_GATHERED: dict[Gathered, str] = {
    "green": "From the plant, before it was ripe.",
    "ripe": "From the plant, or as it fell.",
    "ground_autumn": "From the ground in autumn.",
    "ground_spring": "From the ground after a winter.",
    "bought": "Bought or given.",
    "unknown": "Not known.",
}
_ROOTED = {"yes": "It does.", "no": "It does not, or nobody said so."}

WHEN: dict[str, AskedFact] = {
    "moisture": AskedFact("Whether the seed has dried since it ripened.", _MOISTURE),
    "stored_years": AskedFact("How long it has been stored.", unit="years"),
    "shell": AskedFact("What is left around the kernel.", _SHELL),
    "origin": AskedFact("From which part of the plant's range it comes.", _ORIGIN),
    "gathered": AskedFact("How it was got.", _GATHERED),
    "rooted": AskedFact("Whether most of it shows a root.", _ROOTED),
}

NUMBER_FORM = r"^(up to|over) \d+(\.\d+)?$"
"""How a number is asked for, beside the bare number."""


def holds(condition: WhenValue, value: str | float) -> bool:
    """Whether a condition of a treatment holds: a value, a list, ``not x``, ``up to n``, ``over n``.

    >>> holds("over 2", 3.0), holds("not kernel", "intact"), holds(["intact", "cracked"], "kernel")
    (True, True, False)
    """
    if isinstance(condition, list):
        return any(holds(one, value) for one in condition)
    if isinstance(condition, str):
        if isinstance(value, int | float) and re.fullmatch(NUMBER_FORM, condition):
            form, _, limit = condition.rpartition(" ")
            return value <= float(limit) if form == "up to" else value > float(limit)
        if condition.startswith("not "):
            return not holds(condition.removeprefix("not "), value)
    return condition == value


def can_hold(fact: str, condition: str | float | bool) -> bool:
    """Whether a lot can have what one condition on a fact asks for.

    >>> can_hold("shell", "not kernel"), can_hold("stored_years", "over 2"), can_hold("shell", "over 2")
    (True, True, False)
    """
    words = WHEN[fact].words
    if words:
        return isinstance(condition, str) and condition.removeprefix("not ") in words
    if isinstance(condition, (int, float)) and not isinstance(condition, bool):
        return condition >= 0
    return re.fullmatch(NUMBER_FORM, str(condition)) is not None
