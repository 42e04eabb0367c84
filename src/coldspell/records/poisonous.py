"""The declaration of ``poisonous.yaml``: plants known to be dangerous."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:
    from coldspell.records.kinds import BotanicalName, Sentence, SourceIds
    from coldspell.records.terms import HazardKind, HazardTo
else:
    BotanicalName = Sentence = HazardKind = HazardTo = str
    SourceIds = tuple[str, ...]


class Poisonous(Struct, frozen=True):
    """One genus or one species, and what it does to whom."""

    kind: HazardKind
    """What it does."""
    to: tuple[HazardTo, ...]
    """To whom."""
    cite: SourceIds
    """Ids of the sources in bibliography.yaml, or `practice` where it is common knowledge of the trade."""
    genus: BotanicalName | None = None
    """The genus, where all of it is meant."""
    species: BotanicalName | None = None
    """The species, where only it is meant."""
    says: Sentence | None = None
    """One plain line."""
