"""Labels and sentences that belong to no rule or record: ``en.yaml``, read with the rules."""

from __future__ import annotations

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
