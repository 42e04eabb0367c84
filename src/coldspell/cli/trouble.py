"""``coldspell trouble [NAME]``: what is wrong with a lot, one test to do now, keep it or throw it out."""

# Without postponed annotations: typer would evaluate each of them by itself.

import shutil
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Annotated, Any

import typer

from coldspell.cli.lot_command import lot_command
from coldspell.cli.output import write
from coldspell.cli.parameters import OfficeFolder, RulesFolder, Tally, TextOrJson, offer
from coldspell.cli.recipe import facts_of_settings, given_facts
from coldspell.cli.retype import said_again
from coldspell.cli.today import the_day
from coldspell.errors import ColdspellError

Opt = typer.Option
_WHAT = ("smell", "mould", "sprouts", "dry", "temperature", "grubs", "nothing", "bare")
_ALSO = {
    **dict.fromkeys(("mold", "mouldy", "moldy", "rot", "rotten", "schimmel", "moisi"), "mould"),
    **dict.fromkeys(("smells", "stinks", "smelly", "riecht"), "smell"),
    **dict.fromkeys(("sprout", "sprouted", "sprouting", "roots", "keimt"), "sprouts"),
    **dict.fromkeys(("dried", "trocken"), "dry"),
    **dict.fromkeys(("frozen", "froze", "warm", "hot", "frost"), "temperature"),
    **dict.fromkeys(("grub", "holes", "worms", "insects"), "grubs"),
}
"""Other words for the same, as people type them."""
_OWN = ("--what", "--office", "--tally", "--today", "--format", "--library", "--rules", "--no-settings")


def _answer(
    name: Annotated[
        list[str] | None,
        typer.Argument(
            help="Botanical or common name, without quotation marks; left out: by kind of seed.",
            metavar="[NAME...]",
            show_default=False,
        ),
    ] = None,
    what: Annotated[
        str | None,
        Opt(metavar="|".join(_WHAT), help="What is wrong.", autocompletion=offer(_WHAT)),
    ] = None,
    today: Annotated[str | None, Opt(help="Day that counts as today.", metavar="YYYY-MM-DD")] = None,
    format_: TextOrJson = "text",
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    rules: RulesFolder = None,
    office: OfficeFolder = None,
    tally: Tally = False,
    no_settings: Annotated[bool, Opt("--no-settings", help="Leave your settings out.")] = False,
    **said: Any,
) -> int:
    """Say what to do about a bag that smells, moulds, sprouts, dried out, froze, or shows nothing."""
    from coldspell.api import Library
    from coldspell.cli.office import folder_of, tallied
    from coldspell.views import json_view, trouble_page
    from coldspell.views.layout import fits

    if format_ not in ("text", "json"):
        raise ColdspellError(f"--format cannot be {format_!r}", mend="one of: text, json")
    lib = Library(*(library or []), rules=rules, office=folder_of(office, no_settings=no_settings))
    plant = " ".join(name or ())
    if what is None:
        name_ = lib.record(plant).name if plant else ""
        menu = trouble_page.menu(name_, lib.texts)
        if format_ == "json":
            raise ColdspellError("nothing says what is wrong", mend=f"--what, one of: {', '.join(_WHAT)}")
        write(menu)
        return 0
    what = _ALSO.get(what.casefold(), what.casefold())
    day = the_day(today)
    facts = given_facts(said)
    more = [part for one in library or () for part in ("--library", str(one))]
    for option, value in (("--today", today), ("--rules", rules), ("--office", office)):
        more += [option, str(value)] if value is not None else []
    again = said_again(facts, [*more, "--no-settings"] if no_settings else more)
    facts |= {} if no_settings else facts_of_settings(facts)
    if tally:
        tallied(lib, plant, day, what)
    ascii_only = not fits("–°×½", sys.stdout.encoding)
    width = shutil.get_terminal_size((80, 24)).columns
    if not plant:
        kinds = lib.trouble_by_kind(what, today=day, **facts)
        if format_ == "json":
            write(json_view.render(kinds), json=True)
        else:
            write(trouble_page.by_kind(kinds, lib.texts, width, ascii_only=ascii_only, said=again))
        return 0
    found = lib.trouble(what, plant, today=day, **facts)
    if format_ == "json":
        write(json_view.render(found), json=True)
        return 0
    page = trouble_page.render(
        found, lib.texts, width, ascii_only=ascii_only, of=lib.record(plant).asks, said=again
    )
    write(page)
    return 0


def trouble(arguments: Sequence[str]) -> Callable[..., int]:
    """The command with an option for each fact of a lot that the arguments name."""
    return lot_command(_answer, _OWN, arguments)
