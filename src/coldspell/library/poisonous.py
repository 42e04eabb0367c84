"""Plants known to be dangerous: ``poisonous.yaml`` of each library, for which a record must name a hazard.

The list only asks that a record says something; what a record says carries its own footnote.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

import msgspec

from coldspell.errors import ColdspellError
from coldspell.library.files import POISONOUS, read_file
from coldspell.records.poisonous import Poisonous
from coldspell.yaml.document import decode, parse, plain


def read_poisonous(folders: Iterable[Path]) -> dict[str, Poisonous]:
    """Return what ``poisonous.yaml`` of each library says, by genus or species; a later library wins.

    A file that cannot be read or is not in the right form is left to the check of that file.
    """
    found: dict[str, Poisonous] = {}
    for folder in folders:
        if not (folder / POISONOUS).is_file():
            continue
        try:
            file = read_file(folder / POISONOUS, POISONOUS)
            values = plain(parse(decode(file.data, file.shown), file.shown))
            entries = msgspec.convert([_listed(value) for value in values], list[Poisonous])
        except (ColdspellError, msgspec.ValidationError, AttributeError, TypeError):
            continue
        found.update({one.species or one.genus or "": one for one in entries})
    return found


def _listed(value: Mapping[str, object]) -> dict[str, object]:
    """The entry with its footnotes as a list, also where one stands alone."""
    cite = value.get("cite")
    return {**value, "cite": [cite] if isinstance(cite, str) else cite}
