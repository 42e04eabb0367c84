"""The one record that a name means, or an error that ends with what to type."""

from __future__ import annotations

import re

from coldspell.errors import ColdspellError
from coldspell.library.beside import BesideNames, refuse_long_dash
from coldspell.library.fold import fold
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


def refusal(library: Library, found: Missing, text: str) -> ColdspellError:
    """Why a name without a record is refused, and the names of which one may be meant."""
    try:
        return _missing(library, found, text, "", RECIPE)
    except ColdspellError as error:
        return error


def one_record(library: Library, text: str, otherwise: str = "", command: str = RECIPE) -> Record:
    """The one record that a name means; as `one_found`."""
    return one_found(library, text, otherwise, command).record


def typed(command: str, name: str) -> str:
    """What to type for a plant: the command with its name, in quotation marks where it has several words.

    >>> typed("coldspell recipe", "Malus × domestica"), typed("coldspell recipe", "Quercus")
    ('coldspell recipe "Malus domestica"', 'coldspell recipe Quercus')
    """
    plain = name.replace("× ", "").replace("×", "")
    return (f'{command} "{plain}"' if " " in plain or "'" in plain else f"{command} {plain}").strip()


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
    error = ColdspellError(what, mend="\n  ".join(lines))
    error.candidates = tuple(record.name for record in found.records[:_MOST])
    return error


def alone(library: Library, record: Record) -> str:
    """The botanical name, so that it means nothing else: that of a genus may be a common name of others."""
    plain = isinstance(look_up(library, record.name), Found)
    return record.name if plain else f"{record.name} spp."


def _missing(library: Library, found: Missing, text: str, otherwise: str, command: str) -> ColdspellError:
    if not any(letter.isalpha() for letter in text):
        shown = f"{text.strip()[:80]!r} is no name" if text.strip() else "no plant is named"
        return ColdspellError(shown, mend=f"type a name in letters, as: {command} red oak")
    words = text.split()
    refuse_long_dash(words)
    genus = library.genus(text.strip().capitalize())
    lines = []
    part = _bare(words, library.beside) or _known_part(library, words)
    if part is not None and any(map(library.beside.no_name, part[1])):
        return _not_only_a_name(library.beside, text, *part, command)
    if found.variety:
        name, variety = found.variety
        lines.append(f"If {variety!r} is a variety of it, type: {_quoted(command, name, variety)}")
    if genus:
        lines.append(f"For the genus type: {typed(command, genus.name)}")
    elif re.fullmatch(_LIKE_A_GENUS, text.strip()):
        lines.append(f"If that is a genus, type: {typed(command, f'{text.strip()} sp.')}")
    nearest = found.nearest or ((part[0],) if part is not None and not lines else ())
    if nearest:
        lines.append("The nearest names; type one of these:")
        lines += [f"  {typed(command, name)}" for name in nearest]
    if otherwise:
        lines.append(otherwise)
    if not lines:
        lines.append('To see what is on record type: coldspell species find "part of a name"')
    error = ColdspellError(f"no record for {text[:80]!r}", mend="\n  ".join(lines))
    error.candidates = nearest
    return error


_LIKE_A_GENUS = r"[A-Z][a-z]{2,}(?:a|us|um|is|os|on|ys|[aeiy]x|as|es|ne|oe|le|me)"


def _bare(words: list[str], beside: BesideNames) -> tuple[str, list[str]] | None:
    """A text without the words at its ends that are part of no name, and those words."""
    parts = [at for at, word in enumerate(words) if not beside.no_name(word)]
    if not parts or len(parts) == len(words) or parts[-1] - parts[0] >= len(parts):
        return None
    first, end = parts[0], parts[-1] + 1
    return " ".join(words[first:end]), [*words[:first], *words[end:]]


def _known_part(library: Library, words: list[str]) -> tuple[str, list[str]] | None:
    """The longest beginning or end of a text that is a name, and the words beside it."""
    for count in range(min(len(words), _MOST) - 1, 0, -1):
        for name, rest in ((words[:count], words[count:]), (words[-count:], words[:-count])):
            found = look_up(library, " ".join(name))
            if not isinstance(found, Missing) and not (isinstance(found, Several) and found.why == "part"):
                return " ".join(name), rest
    return None


def _not_only_a_name(
    beside: BesideNames, text: str, name: str, rest: list[str], command: str
) -> ColdspellError:
    """The refusal of a name with words beside it that are part of none: an option says them, or nothing."""
    parts = [word for word in rest if fold(word) in beside.no_seed]
    options = [option for option in map(beside.option_of, rest) if option]
    line = " ".join([typed(command, name), *options])
    if parts:
        error = ColdspellError(
            f"{text[:80]!r} is no seed, and this program is about seed alone",
            mend=f"Of its seed type: {line}",
        )
    else:
        said = "say what was done to the seed by options" if options else "leave out what is no part of it"
        error = ColdspellError(
            f"{' '.join(rest)[:60]!r} is no part of the name of a plant", mend=f"{said}; type: {line}"
        )
    error.candidates = (name,)
    return error


def _quoted(command: str, name: str, variety: str) -> str:
    plain = variety.replace("'", "").replace('"', "")
    return f"{command} \"{name} '{plain}'\""


def _common(record: Record) -> str:
    return next((names[0] for names in record.common_names.values() if names), "")
