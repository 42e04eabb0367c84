"""Put the program together; a command that is named brings only what it needs."""

from __future__ import annotations

import importlib
import sys
from collections.abc import Callable
from typing import Any

import typer

from coldspell import __version__
from coldspell.cli.typing import RECKONING
from coldspell.errors import ColdspellError

COMMANDS = {
    "recipe": ("coldspell.cli.recipe", "recipe"),
    "trial": ("coldspell.cli.recipe", "trial"),
    "choose": ("coldspell.cli.choose", "choose"),
    "trouble": ("coldspell.cli.trouble", "trouble"),
    "sheet": ("coldspell.cli.sheet", "sheet"),
    "season": ("coldspell.cli.season", "season"),
    "page": ("coldspell.cli.page", "app"),
    "species": ("coldspell.cli.species", "app"),
    "rules": ("coldspell.cli.rules", "app"),
    "count": ("coldspell.cli.count", "app"),
    "cold": ("coldspell.cli.cold", "command"),
    "germination": ("coldspell.cli.germination", "command"),
    "settings": ("coldspell.cli.settings", "app"),
    "schema": ("coldspell.cli.schema", "command"),
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


EXAMPLES = {
    "recipe": (
        "coldspell recipe red oak --seeds 40 --moisture fresh",
        "coldspell recipe apple --format json",
    ),
    "trial": ("coldspell trial red oak --seeds 100", "coldspell trial apple --seeds 60 --format json"),
    "settings": ("coldspell settings show", "coldspell settings set units us"),
    "species": ("coldspell species find oak", 'coldspell species show "Quercus rubra"'),
    "rules": ("coldspell rules list", "coldspell rules check"),
    "schema": ("coldspell schema", "coldspell schema recipe"),
    "count": ("coldspell count cut 8/10", "coldspell count plants --want 20 --germination 70-85"),
    "cold": ("coldspell cold fridge.csv --want 90", "coldspell cold - < fridge.csv"),
    "germination": ("coldspell germination counts.csv", "coldspell germination counts.csv --format json"),
    "choose": ("coldspell choose --no-fridge", "coldspell choose --plant shrub --plants-by 2027-06-01"),
    "trouble": ("coldspell trouble red oak --what mould", "coldspell trouble --what dry"),
    "season new": ("coldspell season new", "coldspell season new lots.csv"),
    "rules diff": ("coldspell rules diff mine", "coldspell rules diff rules mine --records 20"),
    "rules copy": ("coldspell rules copy mine", "coldspell rules copy trials/short-towels"),
    "page export": ("coldspell page export FOLDER", 'coldspell page export FOLDER --only "white oak"'),
    "species find": ("coldspell species find oak", "coldspell species find --family Fagaceae --month 10"),
    "species show": ("coldspell species show red oak", "coldspell species show Quercus --format json"),
    "species check": ("coldspell species check", "coldspell species check species/quercus"),
    "species sources": ("coldspell species sources", "coldspell species sources add works.bib"),
    "species export": ("coldspell species export tables", "coldspell species export tables --library DIR"),
    "species gaps": ("coldspell species gaps", "coldspell species gaps --format json"),
    "rules list": ("coldspell rules list", "coldspell rules list --rules DIR"),
    "rules check": ("coldspell rules check", "coldspell rules check --grid"),
}
"""Two commands for the end of each help; a test types them."""


def _examples(name: str) -> str:
    lines = EXAMPLES.get(name, ())
    return "\n\n".join(["Examples:", *lines]) if lines else ""


def build(arguments: list[str], *, complete: bool = False) -> Callable[[list[str]], int]:
    """The program for these arguments, ready to run; with every option where a shell asks for one."""
    command = made(arguments, complete=complete)
    return lambda given: _run(command, given)


def made(arguments: list[str], *, complete: bool = False) -> Any:
    """The command for these arguments as the library of commands has it, with its parameters."""
    completion = complete or bool({*arguments} & {"--help", "--install-completion", "--show-completion"})
    app = typer.Typer(
        add_completion=completion,
        rich_markup_mode="rich",
        pretty_exceptions_enable=False,
        no_args_is_help=True,
        context_settings={"help_option_names": ["-h", "--help"]},
    )
    app.callback()(_top)
    first = next((a for a in arguments if not a.startswith("-")), None)
    named = [first] if first in COMMANDS and "--help" not in arguments[:1] else [*COMMANDS]
    for name in named[-1:] if arguments == ["--version"] else named:  # any one does to say the version
        module, attribute = COMMANDS[str(name)]
        found = getattr(importlib.import_module(module), attribute)
        if name in _BY_ARGUMENTS:
            found = found(arguments if first == name and not complete else ["--help"])
        if isinstance(found, typer.Typer):
            for each in found.registered_commands:
                each.epilog = each.epilog or _examples(f"{name} {each.name}")
            for group in found.registered_groups:
                group.epilog = _examples(f"{name} {group.name}")
            app.add_typer(found, name=name, epilog=_examples(str(name)))
        else:
            app.command(name, epilog=_examples(str(name)))(found)
    return typer.main.get_command(app)


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
        path = context.command_path if context is not None else "coldspell"
        raise ColdspellError(message.rstrip("."), mend=_what_to_type(path, _misspelt(error))) from None
    except (ZeroDivisionError, OverflowError):
        if arguments[:1] and arguments[0] in RECKONING:
            from coldspell.cli.output import TOO_MUCH

            raise ColdspellError(TOO_MUCH, mend="check the numbers; write them in digits") from None
        raise
    return found if isinstance(found, int) else 0


def _misspelt(error: Any) -> str:
    """What to type in place of a misspelt option, where that can be one alone; else nothing."""
    from coldspell.near import nearest

    typed, known = getattr(error, "option_name", None), getattr(error, "possibilities", None)
    if not typed or not known:
        return ""
    longer = [one for one in known if one.startswith(typed)]
    meant = nearest(typed, longer or known) if len(longer) < 2 else None
    return f"type {meant} in place of {typed}; or " if meant else ""


def _what_to_type(path: str, instead: str) -> str:
    lines = EXAMPLES.get(path.removeprefix("coldspell").strip(), ())
    example = instead or (f"type as: {lines[0]}; or " if lines else "")
    return f"{example}see all options: {path} --help"


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
