"""A command whose parameters are put together when it is called: its own, and those that were typed."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Annotated, Any

import typer


def with_parameters(
    answer: Callable[..., int], parameters: Sequence[inspect.Parameter], **fixed: Any
) -> Callable[..., int]:
    """A function that takes just these parameters, for typer to read, and calls ``answer`` with them.

    Parameters
    ----------
    answer
        What is done; its docstring is the help.
    fixed
        What it is given besides.
    """

    def command(**given: Any) -> int:
        return answer(**given, **fixed)

    command.__doc__ = answer.__doc__
    command.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    command.__annotations__ = {p.name: p.annotation for p in parameters}
    return command


def option_names(parameter: inspect.Parameter) -> list[str]:
    """What is typed for an option that is declared by its annotation; its name where nothing is said."""
    option = parameter.annotation.__metadata__[0]
    said = [word for word in (option.default, *(option.param_decls or ())) if isinstance(word, str)]
    return said or [f"--{parameter.name.replace('_', '-')}"]


def offer(words: Iterable[str] | Callable[[], Iterable[str]]) -> Callable[[str], list[str]]:
    """What a shell offers where one of some words is typed; a function is asked for them only then."""

    def offered(incomplete: str) -> list[str]:
        return [word for word in (words() if callable(words) else words) if word.startswith(incomplete)]

    return offered


TextOrJson = Annotated[
    str,
    typer.Option(
        "--format", help="How it is written.", metavar="text|json", autocompletion=offer(("text", "json"))
    ),
]
"""The option of commands whose answer is text or JSON."""

RulesFolder = Annotated[
    Path | None,
    typer.Option("--rules", help="Directory of rules in place of the shipped ones, to try a change."),
]
"""The option of every command that decides."""
OfficeFolder = Annotated[
    Path | None,
    typer.Option(help="Folder of the office: its own notes by kind and place, logo, photographs."),
]
Tally = Annotated[
    bool, typer.Option("--tally", help="Count the question in the folder of the office: day, kind, trouble.")
]
"""The options of an office, as the commands that take them share them."""
