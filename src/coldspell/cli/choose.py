"""``coldspell choose``: what can be started or gathered, by what somebody has."""

# Without postponed annotations: typer would evaluate each of them by itself.

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Annotated, Any

import msgspec
import typer

from coldspell.cli.lot_command import lot_command
from coldspell.cli.output import columns, write
from coldspell.cli.parameters import RulesFolder, offer
from coldspell.cli.recipe import facts_of_settings, given_facts
from coldspell.cli.today import the_day
from coldspell.counter.choose import Wishes
from coldspell.errors import ColdspellError

Opt = typer.Option
FORMATS = ("text", "csv", "json")
_OWN = (
    *("--plant", "--gather", "--any-start", "--harmless", "--plants-by", "--easy", "--closed", "--read"),
    *("--limit", "--today", "--format", "--library", "--rules", "--no-settings"),
)
_SEEDS = 100


def _answer(
    kind: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[KIND...]",
            help="Kind of plant: conifer, shrub, perennial, nut tree, …",
            show_default=False,
        ),
    ] = None,
    plant: Annotated[str | None, Opt(metavar="KIND", help="The same as an option.")] = None,
    gather: Annotated[bool, Opt("--gather", help="What is ripe this month.")] = False,
    any_start: Annotated[bool, Opt("--any-start", help="Also what begins later than in two weeks.")] = False,
    harmless: Annotated[bool, Opt("--harmless", help="No hazard is on record.")] = False,
    plants_by: Annotated[
        str | None, Opt(metavar="YYYY-MM-DD", help="Up by that day, also as 15 May.")
    ] = None,
    easy: Annotated[bool, Opt("--easy", help="One stage, no coat to open, not root first.")] = False,
    closed: Annotated[
        list[str] | None,
        Opt(metavar="FROM..TO", help="Days on which nobody can look after it; may be repeated."),
    ] = None,
    read: Annotated[bool, Opt("--read", help="The treatment was read in a source.")] = False,
    limit: Annotated[int, Opt(min=1, help="At most so many.")] = 20,
    today: Annotated[str | None, Opt(metavar="YYYY-MM-DD", help="Day that counts as today.")] = None,
    format_: Annotated[
        str,
        Opt(
            "--format",
            metavar="text|csv|json",
            help="How it is written.",
            autocompletion=offer(("text", "csv", "json")),
        ),
    ] = "text",
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    rules: RulesFolder = None,
    no_settings: Annotated[bool, Opt("--no-settings", help="Leave your settings out.")] = False,
    **said: Any,
) -> int:
    """What can I start or gather now? Kinds that fit, the likeliest to succeed first, each with its reason.

    Facts of a lot hold for every kind: --no-fridge, --southern, --winter mild, --moisture dried. With
    --place a kind says what is noted on the law of sowing it there.
    """
    from coldspell.api import Library
    from coldspell.lot.days import read_said
    from coldspell.typed import read_span
    from coldspell.views import choices

    if format_ not in FORMATS:
        raise ColdspellError(f"--format cannot be {format_!r}", mend=f"one of: {', '.join(FORMATS)}")
    plant = _kind(" ".join(kind or ()) or plant)
    facts = {"seeds": _SEEDS, **given_facts(said)}
    facts |= {} if no_settings else facts_of_settings(facts)
    lib, day = Library(*(library or []), rules=rules), the_day(today)
    by = read_said("--plants-by", plants_by, day) if plants_by else None
    wishes = Wishes(
        start=not any_start,
        no_fridge=facts.get("refrigerator") == "none",
        harmless=harmless,
        plants_by=by,
        easy=easy,
        closed=tuple(read_span("--closed", each) for each in closed or ()),
        gather=gather,
        plant=plant,
        read=read,
    )
    found = lib.choose(wishes, today=day, **facts)
    if format_ == "json":
        write(msgspec.json.format(msgspec.json.encode(found[:limit]), indent=2).decode() + "\n", json=True)
    elif format_ == "csv":
        write(choices.as_csv(found[:limit]))
    else:
        place = str(facts.get("place") or "")
        write(choices.render(found[:limit], len(found), lib.texts, columns(), by=by, place=place))
    return 0


def _kind(typed: str | None) -> str | None:
    """A kind of plant as records name it; its plural, too."""
    if typed is None:
        return None
    from coldspell.near import nearest
    from coldspell.records.terms import PLANT

    word = " ".join(typed.casefold().split())
    for known in PLANT:
        if word in (known, f"{known}s", f"{known}es"):
            return known
    near = nearest(word, PLANT)
    mend = f"one of: {', '.join(PLANT)}"
    raise ColdspellError(
        f"{typed!r} is no kind of plant", mend=f"did you mean {near}? {mend}" if near else mend
    )


def choose(arguments: Sequence[str]) -> Callable[..., int]:
    """The command with an option for each fact of a lot that the arguments name."""
    return lot_command(_answer, _OWN, arguments)
