"""What an error says to type, with the options that were typed already: nobody types them twice."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import takewhile
from typing import Any

from coldspell.cli.program import COMMANDS
from coldspell.lot.table import FACTS, options

_OF_A_PLANT = ("recipe", "trial", "trouble", "sheet")
_PLANT = r'coldspell recipe (?:"[^"]*"|(?!-)[^\s"]+)'
_LINE = re.compile(rf"(?P<all>{_PLANT})(?P<behind>(?: --\S.*)?(?:$| {{3,}}.*))", re.M)
"""A whole command for one plant; behind it its options, or what the plant is called."""


def with_options(mend: str, arguments: Sequence[str], what: str = "") -> str:
    """The advice with the command and the options that were typed in every line that says what to type.

    Parameters
    ----------
    mend
        What an error says to do.
    arguments
        What was typed.
    what
        What is wrong; where the name of the plant stands behind its options, this tells it from them.
    """
    words = list(takewhile(lambda one: not one.startswith("-"), arguments))
    if not words:
        return mend
    if words[0] in COMMANDS and words[0] not in _OF_A_PLANT:
        return _in_its_place(mend, arguments, what)
    command = words[0] if words[0] in _OF_A_PLANT else "recipe"
    rest = arguments[len(words) :]
    if words == [command]:
        named = re.search(r"'([^']+)'", what)
        name = named[1].split() if named else [""]
        if list(rest[-len(name) :]) != name:
            return mend
        rest = rest[: -len(name)]
    typed_ones = "".join(f" {quoted(one)}" for one in rest)

    def typed(line: re.Match[str]) -> str:
        said = line["all"].replace("recipe", command, 1)
        first = re.match(r" (--[a-z-]+)", line["behind"])
        if first:  # what is advised comes first, and in place of the same option as it was typed
            return said + line["behind"] + ("" if f" {first[1]} " in f"{typed_ones} " else typed_ones)
        return said + typed_ones + line["behind"]

    return _LINE.sub(typed, mend)


def _in_its_place(mend: str, arguments: Sequence[str], what: str) -> str:
    """The advice with all that was typed, and what is advised in place of the name that was refused."""
    at = next((n for n, one in enumerate(arguments) if repr(_value(one)) in what), None)
    if at is None:
        return mend

    def typed(line: re.Match[str]) -> str:
        name = line["all"].removeprefix("coldspell recipe ").strip('"')
        said = arguments[at].removesuffix(_value(arguments[at])) + name
        whole = [*arguments[:at], said, *arguments[at + 1 :]]
        return " ".join(["coldspell", *map(quoted, whole)]) + line["behind"]

    return _LINE.sub(typed, mend)


def _value(argument: str) -> str:
    """What an argument says: of an option with its value the value."""
    return argument.partition("=")[2] if argument.startswith("--") and "=" in argument else argument


def said_again(facts: Mapping[str, Any], more: Sequence[str] = ()) -> str:
    """The options that say what was said of a lot, each behind a space; then others that were typed."""
    words: list[str] = []
    for name, value in facts.items():
        fact = FACTS[name]
        for one in value if fact.many else (value,):
            words += [options(fact)[0]] if fact.kind is bool else [options(fact)[0], str(one)]
    return "".join(f" {quoted(one)}" for one in (*words, *more))


def quoted(argument: str) -> str:
    """As it is typed in any shell, Windows among them."""
    if argument and re.fullmatch(r"[\w./:@%+=,~-]+", argument):
        return argument
    option, equals, value = argument.partition("=")
    if equals and option.startswith("--"):
        return f'{option}="{value}"'
    return f'"{argument}"'
