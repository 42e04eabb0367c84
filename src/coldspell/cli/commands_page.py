"""The reference of commands and options, made from the program itself, as Markdown."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldspell.cli.program import EXAMPLES, made

_HEAD = """# Commands

<!-- Written by python -m coldspell.cli.publish; a test fails when this page is stale. -->

`coldspell COMMAND --help` says the same in a terminal. `coldspell red oak` is `coldspell recipe red oak`.
Exit codes: 0 answered (also when the answer is "do not"), 1 a check found faults or rows were refused,
2 wrong use, 3 a fault of the program, 130 interrupted, 143 terminated (no file is left half written).
Where the answer would have been JSON so is the error,
on standard error: `{"schema": "coldspell/error/1", "error": {…}}` with `what`, `where` (a place in a file or
null), `mend`, `exit_code` and `candidates` (names of which one may be meant); [schema](schemas/error-1.json).

Words after a dash that a word processor made long (—moisture) are refused, and so are words beside a name
that are part of none (red oak dried): what was done to the seed is said by an option.

`coldspell --install-completion` teaches a shell to complete commands, options, their words and plant names.
"""


def page() -> str:
    """Every command in the order of the help, each with its arguments and options."""
    parts = [_HEAD]
    for path, command in every_command():
        parts.append("\n".join(_command(" ".join(path), command)))
    return "\n\n".join(part.strip("\n") for part in parts) + "\n"


def every_command() -> Iterator[tuple[tuple[str, ...], Any]]:
    """Every command that can be typed, by its words: groups that answer by themselves, too."""
    for path, command in _leaves(made(["--help"]), ()):
        yield path, command
        for word in _BY_FIRST_WORD.get(path[0], ()) if len(path) == 1 else ():
            one = made([*path, word, "--help"]).commands[path[0]].commands[word]
            yield (*path, word), one


_BY_FIRST_WORD = {"season": ("new", "compare")}
"""Commands that are made only when the first word after them is typed, for it could be a table."""


def _leaves(command: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any]]:
    if not hasattr(command, "commands"):
        yield path, command
        return
    if path and command.invoke_without_command:
        yield path, command
    for name, one in command.commands.items():
        yield from _leaves(one, (*path, name))


def _command(name: str, command: Any) -> Iterator[str]:
    yield f"## coldspell {name}\n"
    yield " ".join(str(command.help or "").split()) + "\n"
    arguments = [one for one in command.params if not one.opts[0].startswith("-")]
    for one in arguments:
        yield f"`{_metavar(one)}`: {one.help}\n"
    options = [one for one in command.params if one.opts[0].startswith("-") and not one.hidden]
    if options:
        yield "| option | what it says |\n|---|---|"
        yield from (f"| {_typed(one)} | {_says(one)} |" for one in options)
    if name in EXAMPLES:
        yield "\n```text\n" + "\n".join(EXAMPLES[name]) + "\n```"


def _metavar(parameter: Any) -> str:
    return str(parameter.metavar or parameter.name.upper())


def _typed(option: Any) -> str:
    value = "" if option.is_flag else f" {_value(option)}"
    return ", ".join(f"`{name}{value}`" for name in [*option.opts, *option.secondary_opts]).replace(
        "|", "\\|"
    )


def _value(option: Any) -> str:
    choices = getattr(option.type, "choices", None)
    return "|".join(map(str, choices)) if choices else _metavar(option)


def _says(option: Any) -> str:
    return " ".join(str(option.help or "").split()).replace("|", "\\|")
