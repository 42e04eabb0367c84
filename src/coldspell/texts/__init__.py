"""Labels and sentences that belong to no rule or record: ``en.yaml``, read with the rules."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct

ENGLISH = Path(__file__).parent / "en.yaml"


class Texts(Struct, frozen=True):
    """Sentences by key, with places in braces for what changes."""

    sentences: dict[str, str]

    def say(self, key: str, **values: object) -> str:
        """The sentence of a key, filled in."""
        sentence = self.sentences[key]
        return sentence.format(**values) if values else sentence

    def count(self, key: str, count: int, shown: str = "", **values: object) -> str:
        """The sentence for so many, that of ``KEY_one`` for one; ``shown``: the number as written."""
        return self.say(f"{key}_one" if count == 1 else key, count=shown or count, **values)

    def listed(self, names: Sequence[str]) -> str:
        """Names as a list in a sentence: "a", "a and b", "a, b and c"."""
        first, last = ", ".join(names[:-1]), names[-1]
        return first + self.say("and") + last if first else last
