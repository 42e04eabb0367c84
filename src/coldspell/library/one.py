"""The one record that a name means, or an error that ends with what to type."""

from __future__ import annotations

import re

from coldspell.errors import ColdspellError
from coldspell.library.library import Library
from coldspell.library.names import Found, Missing, Several, look_up
from coldspell.records.model import Record

_MOST = 12
RECIPE = "coldspell recipe"


def one_found(library: Library, text: str, otherwise: str = "", command: str = RECIPE) -> Found:
    """The one record that a name means, and how it was meant; never a silent first match.

    Parameters
    ----------
    library, text
        As for `look_up`.
    otherwise
        What to do with a plant that is not on record; ends the message.
    command
        What is typed before a name.

    Raises
    ------
    ColdspellError
        Nothing is known by that name (the nearest are offered), or it means several plants (they are listed).
    """
    return the_one(library, look_up(library, text), text, otherwise, command)


def the_one(
    library: Library, found: Found | Several | Missing, text: str, otherwise: str = "", command: str = RECIPE
) -> Found:
    """The one record among what a name was looked up as; raises as `one_found`."""
    if isinstance(found, Found):
        return found
    if isinstance(found, Several):
        raise _several(library, found, text, command)
    raise _missing(library, found, text, otherwise, command)


def one_record(library: Library, text: str, otherwise: str = "", command: str = RECIPE) -> Record:
    """The one record that a name means; as `one_found`."""
    return one_found(library, text, otherwise, command).record


def typed(command: str, name: str) -> str:
    """What to type for a plant: the command with its name, in quotation marks where it has several words.

    >>> typed("coldspell recipe", "Malus × domestica"), typed("coldspell recipe", "Quercus")
    ('coldspell recipe "Malus domestica"', 'coldspell recipe Quercus')
    """
    plain = name.replace("× ", "").replace("×", "")
    return f'{command} "{plain}"' if " " in plain or "'" in plain else f"{command} {plain}"


def _several(library: Library, found: Several, text: str, command: str) -> ColdspellError:
    shown = text.strip()[:80]
    what = {
        "shared": f"{shown!r} is the name of several plants",
        "genus": f"{shown!r} is a genus, and its species may need different things",
        "part": f"no plant on record is called just {shown!r}",
    }[found.why]
    rows = [(typed(command, alone(library, record)), _common(record)) for record in found.records[:_MOST]]
    width = max(len(row[0]) for row in rows)
    lines = ["Type one of these:" if len(rows) > 1 else "If you mean this one, type:"]
    lines += [f"  {one:<{width}}   {name}".rstrip() for one, name in rows]
    if len(found.records) > _MOST:
        lines.append(f"and {len(found.records) - _MOST} more: {typed('coldspell species find', shown)}")
    if found.why == "genus" and command == RECIPE:
        lines.append(f"Of the genus as a whole type: {typed(command, f'{shown} spp.')}")
    if found.unrecorded:
        lines.append(f"Also {', '.join(found.unrecorded)}, of which there is no record.")
    return ColdspellError(what, mend="\n  ".join(lines))


def alone(library: Library, record: Record) -> str:
    """The botanical name, so that it means nothing else: that of a genus may be a common name of others."""
    plain = isinstance(look_up(library, record.name), Found)
    return record.name if plain else f"{record.name} spp."


def _missing(library: Library, found: Missing, text: str, otherwise: str, command: str) -> ColdspellError:
    if not any(letter.isalpha() for letter in text):
        shown = f"{text.strip()[:80]!r} is no name" if text.strip() else "no plant is named"
        return ColdspellError(shown, mend=f"type a name in letters, as: {command} red oak")
    genus = library.genus(text.strip().capitalize())
    lines = []
    if found.variety:
        name, variety = found.variety
        lines.append(f"If {variety!r} is a variety of it, type: {_quoted(command, name, variety)}")
    if genus:
        lines.append(f"For the genus type: {typed(command, genus.name)}")
    elif re.fullmatch(r"[A-Z][a-z]{3,}", text.strip()):
        lines.append(f"If that is a genus, type: {typed(command, f'{text.strip()} sp.')}")
    if found.nearest:
        lines.append("The nearest names; type one of these:")
        lines += [f"  {typed(command, name)}" for name in found.nearest]
    if otherwise:
        lines.append(otherwise)
    if not lines:
        lines.append('To see what is on record type: coldspell species find "part of a name"')
    return ColdspellError(f"no record for {text[:80]!r}", mend="\n  ".join(lines))


def _quoted(command: str, name: str, variety: str) -> str:
    plain = variety.replace("'", "").replace('"', "")
    return f"{command} \"{name} '{plain}'\""


def _common(record: Record) -> str:
    return next((names[0] for names in record.common_names.values() if names), "")
