"""What ``when`` of a treatment may ask of a lot: the facts and the values they can have.

Declared here alone: the check of records and the pages about records read this table. The values are those a
lot can have, so what a lot cannot say is not among them.
"""

from __future__ import annotations

from msgspec import Struct


class AskedFact(Struct, frozen=True):
    """One fact of a lot: what it means, and its words with their meanings (none: it is a number)."""

    says: str
    words: dict[str, str] = {}
    unit: str = ""

    def values(self) -> str:
        """The values it can have, in one line of Markdown."""
        words = (f"`{word}`: {says.rstrip('.').lower()}" for word, says in self.words.items())
        return "; ".join(words) or f"a number of {self.unit}, `up to 2`, `over 2`"


_UNKNOWN = {"unknown": "Not known."}
WHEN: dict[str, AskedFact] = {
    "moisture": AskedFact(
        "Whether the seed has dried since it ripened.",
        {"fresh": "Never dried.", "dried": "Dried, or bought dry."},
    ),
    "stored_years": AskedFact("How long it has been stored.", unit="years"),
    "shell": AskedFact(
        "What is left around the kernel.",
        {
            "husk": "In its husk or flesh.",
            "intact": "Cleaned, the shell whole.",
            "cracked": "The shell cracked.",
            "kernel": "Without shell or coat.",
        },
    ),
    "origin": AskedFact(
        "From which part of the plant's range it comes.",
        {"north": "The north of it.", "south": "The south of it."} | _UNKNOWN,
    ),
    "gathered": AskedFact(
        "How it was got.",
        {
            "green": "From the plant, before it was ripe.",
            "ripe": "From the plant, or as it fell.",
            "ground_autumn": "From the ground in autumn.",
            "ground_spring": "From the ground after a winter.",
            "bought": "Bought or given.",
        }
        | _UNKNOWN,
    ),
    "rooted": AskedFact(
        "Whether most of it shows a root.", {"yes": "It does.", "no": "It does not, or nobody said so."}
    ),
}

NUMBER_FORM = r"^(up to|over) \d+(\.\d+)?$"
"""How a number is asked for, beside the bare number."""
