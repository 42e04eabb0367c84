"""Parts of a botanical name."""

from __future__ import annotations


def genus_of(name: str) -> str:
    """The genus of a name: its first word, without a hybrid sign.

    >>> genus_of("Quercus robur"), genus_of("×Sorbaronia dippelii"), genus_of("× Sorbaronia")
    ('Quercus', 'Sorbaronia', 'Sorbaronia')
    """
    return name.removeprefix("×").strip().split(" ")[0]
