"""Parts of a botanical name."""

from __future__ import annotations

import re


def genus_of(name: str) -> str:
    """The genus of a name: its first word, without a hybrid sign.

    >>> genus_of("Quercus robur"), genus_of("×Sorbaronia dippelii"), genus_of("× Sorbaronia")
    ('Quercus', 'Sorbaronia', 'Sorbaronia')
    """
    return name.removeprefix("×").strip().split(" ")[0]


def slug(name: str) -> str:
    """The file name (without ending) for a botanical name.

    >>> slug("Malus × domestica"), slug("Acer saccharum subsp. nigrum")
    ('malus-x-domestica', 'acer-saccharum-subsp-nigrum')
    """
    return re.sub(r"[^a-z0-9]+", "-", name.lower().replace("×", "x")).strip("-")
