"""Put the program together; a command that is named brings only what it needs."""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable
from typing import Any

import typer

from coldspell import __version__

COMMANDS = {
    "recipe": ("coldspell.cli.recipe", "recipe"),
    "trial": ("coldspell.cli.recipe", "trial"),
    "choose": ("coldspell.cli.choose", "choose"),
    "trouble": ("coldspell.cli.trouble", "trouble"),
    "sheet": ("coldspell.cli.sheet", "sheet"),
    "season": ("coldspell.cli.season", "season"),
    "species": ("coldspell.cli.species", "app"),
    "rules": ("coldspell.cli.rules", "app"),
    "count": ("coldspell.cli.count", "app"),
    "cold": ("coldspell.cli.cold", "command"),
    "germination": ("coldspell.cli.germination", "command"),
    "settings": ("coldspell.cli.settings", "app"),
}
_BY_ARGUMENTS = (
    "recipe",
    "trial",
    "choose",
    "trouble",
    "sheet",
    "season",
)  # made with the options that are typed


# Some versions of typer carry their own copy of click: take its base error from there, not by import.
_UseError: type[Exception] = next(c for c in typer.BadParameter.__mro__ if c.__name__ == "ClickException")


def build(arguments: list[str]) -> Callable[[list[str]], int]:
    """The program for these arguments, ready to run."""
    app = typer.Typer(
        add_completion=False, rich_markup_mode="rich", pretty_exceptions_enable=False, no_args_is_help=True
    )
    app.callback()(_top)
    first = next((a for a in arguments if not a.startswith("-")), None)
    for name in [first] if first in COMMANDS and "--help" not in arguments[:1] else COMMANDS:
        module, attribute = COMMANDS[str(name)]
        found = getattr(importlib.import_module(module), attribute)
        if name in _BY_ARGUMENTS:
            found = found(arguments if first == name else ["--help"])
        if isinstance(found, typer.Typer):
            app.add_typer(found, name=name)
        else:
            app.command(name)(found)
    command = typer.main.get_command(app)
    return lambda given: _run(command, given)


def _run(command: Any, arguments: list[str]) -> int:
    try:
        found = command.main(args=arguments, prog_name="coldspell", standalone_mode=False)
    except typer.Exit as stop:
        return int(stop.exit_code)
    except typer.Abort:
        raise KeyboardInterrupt from None
    except _UseError as error:
        message = error.format_message()  # type: ignore[attr-defined]
        if type(error).__name__ == "NoArgsIsHelpError":
            sys.stdout.write(message + "\n")
            return 0
        context = getattr(error, "ctx", None)
        hint = f"\n  Try: {context.command_path} --help" if context is not None else ""
        sys.stderr.write(f"coldspell: {message}{hint}\n")
        return 2
    return found if isinstance(found, int) else 0


def _version(wanted: bool) -> None:
    if wanted:
        from coldspell.rules.engine import about_engine

        sys.stdout.write(f"coldspell {__version__} (rules: {about_engine()})\n")
        raise typer.Exit


def _top(
    version: bool = typer.Option(
        False, "--version", callback=_version, is_eager=True, help="Show the version."
    ),
) -> None:
    """What a seed lot needs before it is sown: dated, sourced recipes from species records and rules."""
