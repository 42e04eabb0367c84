"""What people type before the program reads it: a plant in the place of a command, numbers that are none."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from itertools import takewhile

from coldspell.errors import ColdspellError

_NO_NUMBER = r"(?i)(?:--[a-z-]+=)?[+-]?(?:inf|infinity|nan)"
RECKONING = frozenset({"count", "cold", "germination"})


def meant(arguments: Sequence[str], commands: Collection[str]) -> list[str]:
    """The arguments with ``recipe`` before them where they begin with the name of a plant.

    Raises
    ------
    ColdspellError
        The first word is neither a command nor, with those after it, a plant; says what to type.
    """
    given = _flags([_as_meant(one) for one in arguments])
    if any(one[:2].strip("-") and not one[:2].isascii() for one in given):
        from coldspell.library.beside import refuse_long_dash

        refuse_long_dash(given)
    if given[:1] in (["help"], ["version"]):
        return ["--version"] if given[0] == "version" else [*given[1:], "--help"]
    words = list(takewhile(lambda one: not one.startswith("-"), given))
    if not words or words[0] in commands:
        return given
    from coldspell.library.load import load_library, shipped_dirs
    from coldspell.library.names import Missing, look_up
    from coldspell.library.one import RECIPE, typed
    from coldspell.near import nearest

    name, library = " ".join(words), load_library(shipped_dirs())
    found = look_up(library, name)

    def known(one: str) -> bool:
        return not isinstance(look_up(library, one), Missing)

    if not isinstance(found, Missing):
        return ["recipe", *given]
    lines = []
    command = nearest(words[0].casefold(), commands)
    if command is not None:
        lines.append(f"The nearest command; type: coldspell {' '.join([command, *words[1:]])}")
    lines += [f"The nearest plant; type: {typed(RECIPE, plant)}" for plant in found.nearest[:1]]
    said = [one for one in words if len(one) > 3 and known(one)][-1:]
    lines += [f"A plant among these words; type: {typed(RECIPE, plant)}" for plant in said]
    lines.append(f'Commands: {", ".join(commands)}. Of a plant type: {RECIPE} "its name"')
    what = f"{words[0][:60]!r} is no command"
    raise ColdspellError(f"{what}, and {name[:80]!r} is no plant on record", mend="\n  ".join(lines))


_SAID = {"yes": True, "true": True, "no": False, "false": False}


def _flags(given: list[str]) -> list[str]:
    """The arguments with options that take no value as they are typed: "--children yes" is "--children"."""
    if not any(one.rpartition("=")[2].casefold() in _SAID for one in given):
        return given
    from coldspell.lot.table import FACTS

    flags = {f"--{fact.about.flag[0]}" for fact in FACTS.values() if fact.about.flag}
    found: list[str] = []
    rest = iter(range(len(given)))
    for at in rest:
        option, equals, value = given[at].partition("=")
        if option in flags and not equals and at + 1 < len(given):
            value = given[at + 1]
        said = _SAID.get(value.casefold()) if option in flags else None
        if said is None:
            found.append(given[at])
            continue
        if not equals:
            next(rest)  # the word behind it
        found += [option] if said else []
    return found


_SPELLED = {"-h": "--help", "--mold": "--mould"}


def _as_meant(one: str) -> str:
    """An argument in our spelling, without the single quotes that a shell of Windows leaves round it."""
    option, equals, value = one.partition("=")
    option = _SPELLED.get(option, option)
    if not equals or not option.startswith("--"):
        return option if not equals and option != one else _bare(one)
    return f"{option}={_bare(value)}"


def _bare(text: str) -> str:
    """A text without a pair of single quotes round the whole; what was typed ('white oak') means the same.

    >>> _bare("'%d.%m.%Y'"), _bare("''"), _bare("apple 'Example'"), _bare("'Example' apple")
    ('%d.%m.%Y', '', "apple 'Example'", "'Example' apple")
    """
    return text[1:-1] if len(text) > 1 and text[0] == text[-1] == "'" and "'" not in text[1:-1] else text


def refuse_no_numbers(arguments: Sequence[str]) -> None:
    """Refuse infinity and not-a-number where sums are done with them."""
    if arguments[:1] and arguments[0] in RECKONING:
        for one in arguments[1:]:
            if re.fullmatch(_NO_NUMBER, one):
                raise ColdspellError(
                    f"{one!r} is no number to reckon with", mend="write it in digits, as 12.5"
                )
