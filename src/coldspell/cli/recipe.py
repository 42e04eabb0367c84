"""``coldspell recipe NAME``: one seed lot in, one dated, sourced recipe out.

The options that say something of the lot are made from the table of lot facts.
"""

# Without postponed annotations: typer would evaluate each of them by itself.

import inspect
import re
import shutil
import sys
from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldspell.cli.output import write, written
from coldspell.cli.parameters import (
    OfficeFolder,
    RulesFolder,
    Tally,
    TextOrJson,
    offer,
    option_names,
    with_parameters,
)
from coldspell.cli.today import the_day
from coldspell.errors import ColdspellError
from coldspell.lot.table import FACTS, LotFact, options, shape_of

if TYPE_CHECKING:
    from coldspell.api import Library
    from coldspell.write.recipe import Recipe

Opt = typer.Option
FORMATS = ("text", "json")


def _names(ctx: typer.Context, incomplete: str) -> list[str]:
    """What a shell offers for the next word of a name."""
    from coldspell.cli.complete import next_words
    from coldspell.library.load import load_library, shipped_dirs

    return next_words(load_library(shipped_dirs()), ctx.params.get("name") or (), incomplete)


def _answer(
    name: Annotated[
        list[str],
        typer.Argument(
            help="Botanical or common name, in any case; several words need no quotation marks.",
            metavar="NAME...",
            show_default=False,
            autocompletion=_names,
        ),
    ],
    lot: Annotated[
        Path | None, Opt(help="File with the facts of the lot (YAML, JSON; - is piped in).")
    ] = None,
    today: Annotated[str | None, Opt(help="Day that counts as today.")] = None,
    format_: TextOrJson = "text",
    full: Annotated[bool, Opt("--full", help="Print everything: other ways, reasons, all sources.")] = False,
    as_: Annotated[
        str | None,
        Opt(
            "--as",
            metavar="message",
            help="As a message of at most 200 words; the parts of a trial take more.",
            autocompletion=offer(("message",)),
        ),
    ] = None,
    ask: Annotated[
        bool, Opt("--ask", help="The three questions that change the answer most; which species first.")
    ] = False,
    why: Annotated[bool, Opt("--why", help="Say what made the answer; with --full every rule.")] = False,
    why_not: Annotated[str | None, Opt(help="Why not this answer? list: those that can be asked.")] = None,
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    rules: RulesFolder = None,
    lots: Annotated[
        str | None, Opt(help="Table of lots (- reads standard input): a recipe for each row, as JSON Lines.")
    ] = None,
    office: OfficeFolder = None,
    tally: Tally = False,
    no_settings: Annotated[bool, Opt("--no-settings", help="Leave your settings out.")] = False,
    out: Annotated[Path | None, Opt("-o", "--output", help="Write its days as a calendar: FILE.ics.")] = None,
    **said: Any,
) -> int:
    """Say what one seed lot needs, with dates, amounts and sources."""
    plant = " ".join(name or ())
    trial = bool(said.pop("trial", False))
    if lots is not None and trial:
        raise ColdspellError("a trial divides one lot", mend="leave out --lots, and name the kind")
    if lots is not None:
        of_one = full or why or ask or bool(why_not or as_ or out)
        return _many(plant, lots, said, today, format_, library or [], rules, lot, of_one, no_settings)
    if format_ not in FORMATS:
        mend = f"one of: {', '.join(FORMATS)}; a table of lots (--lots) gives jsonl"
        raise ColdspellError(f"--format cannot be {format_!r}", mend=mend)
    if as_ not in (None, "message"):
        raise ColdspellError(f"--as cannot be {as_!r}", mend="--as message")
    from coldspell.api import Library

    if ask or as_:
        from coldspell.cli.recipe_counter import asked, message

        facts = {**facts_of_file(lot, given_facts(said)), **given_facts(said)}
        facts |= {} if no_settings else facts_of_settings(facts)
        lib = Library(*(library or []), rules=rules, office=_folder(office, no_settings))
        if ask:
            page = asked(plant, facts, today, format_, lib)
        else:
            page = message(plant, facts, today, format_, lib, trial=trial)
        _tallied(lib, plant, today, tally)
        write(page, json=format_ == "json")
        return 0
    if out is not None:
        facts = {**facts_of_file(lot, given_facts(said)), **given_facts(said)}
        kept = {} if no_settings else facts_of_settings(facts)
        return _calendar(out, plant, {**facts, **kept}, today, library, rules, trial=trial)
    lib = Library(*(library or []), rules=rules, office=_folder(office, no_settings))
    made = _made(lib, plant, lot, said, today, format_, full, why, why_not, no_settings, trial=trial)
    _tallied(lib, plant, today, tally)
    write(made, json=format_ == "json")
    return 0


def _folder(office: Path | None, no_settings: bool) -> Path | None:
    from coldspell.cli.office import folder_of

    return folder_of(office, no_settings=no_settings)


def _tallied(lib: "Library", name: str, today: str | None, tally: bool) -> None:
    """Count the question, on wish: before any of the answer is written, for counting may be refused."""
    if tally:
        from coldspell.cli.office import tallied

        tallied(lib, name, the_day(today))


def _calendar(
    out: Path,
    name: str,
    facts: Mapping[str, Any],
    today: str | None,
    libraries: Sequence[Path] | None,
    rules: Path | None,
    *,
    trial: bool,
) -> int:
    """The days of one lot as a calendar; those of its parts where it is a trial, or no record tells of it."""
    from coldspell.api import Library
    from coldspell.season.files.ics import write_one, write_trial

    day, lib = the_day(today), Library(*(libraries or ()), rules=rules)
    if trial or lib.plan(name, today=day, **facts).trial is not None:
        write_trial(out, lib.trial(name, today=day, **facts), lib.texts)
    else:
        write_one(out, name, facts, day, libraries or (), rules)
    written(out)
    return 0


def _many(
    name: str,
    lots: str,
    said: Mapping[str, Any],
    today: str | None,
    form: str,
    libraries: Sequence[Path],
    rules: Path | None,
    lot: Path | None,
    of_one: bool,
    no_settings: bool,
) -> int:
    """A recipe for each row of a table; the options say what its rows do not."""
    from coldspell.cli.recipe_lots import recipes

    if name or lot is not None or of_one:
        raise ColdspellError(
            "--lots takes its names and facts from a table",
            mend="leave out NAME, --lot, -o, --full, --as, --ask, --why and --why-not",
        )
    if form not in ("text", "jsonl"):
        raise ColdspellError(f"with --lots the answer is JSON Lines, not {form!r}", mend="--format jsonl")
    day = the_day(today)
    facts = given_facts(said)
    kept = {} if no_settings else facts_of_settings(facts)
    return recipes(lots, {**kept, **facts}, day, libraries, said, frozenset(kept), rules)


def option_of(fact: LotFact) -> list[inspect.Parameter]:
    """The options that say one fact: a word, a number, a day, or a flag with its value."""
    about = fact.about
    found = []
    if fact.kind is not bool:
        kind = list[str] | None if fact.many else str | None
        help_ = _sentence(about.means) + (" May be given more than once." if fact.many else "")
        words = offer(fact.words) if fact.words else None
        option = Opt(
            options(fact)[0],
            help=help_,
            metavar=shape_of(fact) or "TEXT",
            rich_help_panel=about.group,
            autocompletion=words,
        )
        found.append(_parameter(fact.field, Annotated[kind, option], None))
    if about.flag is not None:
        *_, means = about.flag
        option = Opt(options(fact)[-1], help=_sentence(means), rich_help_panel=about.group)
        found.append(_parameter(_flag_name(fact), Annotated[bool, option], False))
    return found


def _sentence(means: str) -> str:
    return f"{means[0].upper()}{means[1:]}."


def _parameter(name: str, annotation: Any, default: Any) -> inspect.Parameter:
    return inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, default=default, annotation=annotation)


def _flag_name(fact: LotFact) -> str:
    return f"{fact.field}_flag"


def recipe(arguments: Sequence[str]) -> Callable[..., int]:
    """The command ``recipe``."""
    return _command(arguments, trial=False)


def trial(arguments: Sequence[str]) -> Callable[..., int]:
    """The command ``trial``: the same question, answered by how to find out for oneself."""
    return _command(arguments, trial=True)


def _command(arguments: Sequence[str], *, trial: bool) -> Callable[..., int]:
    """A command with an option for each fact of a lot that the arguments name; with all of them for help.

    Making an option takes typer a quarter of a millisecond, and there are nearly fifty.
    """
    typed = _typed(arguments)
    own = list(inspect.signature(_answer).parameters.values())[:-1]
    first, rest = own[:2], [p.replace(kind=inspect.Parameter.KEYWORD_ONLY) for p in own[2:]]
    if "--lots" in typed or typed - {*_OWN, *(name for fact in FACTS.values() for name in options(fact))}:
        from coldspell.cli.table_options import parameters, refuse_without_table

        refuse_without_table(typed)
        rest += parameters() if typed & {"--lots", "--help"} and not trial else []
    if trial and "--lots" not in typed:  # refused, so that it is not offered
        rest = [one for one in rest if one.name != "lots"]
    if "--lots" in typed:  # the rows name the plants
        first = [first[0].replace(default=None), first[1]]
    every = [*first, *fact_parameters(arguments, _OWN), *_typed_ones(rest, arguments)]
    command = with_parameters(_answer, every, trial=trial)
    command.__doc__ = _TRIAL if trial else _answer.__doc__
    return command


def _typed_ones(own: Sequence[inspect.Parameter], arguments: Sequence[str]) -> list[inspect.Parameter]:
    """Those whose option is typed; all of them where any other is, that it can be explained."""
    typed = {word.partition("=")[0] for word in arguments if word.startswith("-")}
    known = {"-o", *_OWN, *(name for fact in FACTS.values() for name in options(fact))}
    return [one for one in own if not typed <= known or typed & {*option_names(one)}]


_TRIAL = "Divide a lot into parts, with days and labels, to learn what its kind wants."


def fact_parameters(arguments: Sequence[str], own: Collection[str]) -> list[inspect.Parameter]:
    """An option for each fact of a lot that is typed; all of them for help, and where a word is not known."""
    typed = _typed(arguments)
    known = typed <= {*own, *(name for fact in FACTS.values() for name in options(fact))}
    wanted = [f for f in FACTS.values() if not known or typed & {"--help"} or typed & {*options(f)}]
    return [parameter for fact in wanted for parameter in option_of(fact)]


def _typed(arguments: Sequence[str]) -> set[str]:
    return {word.partition("=")[0] for word in arguments if word.startswith("--")}


_OWN = (
    *("--lot", "--today", "--format", "--full", "--why", "--why-not"),
    *("--office", "--tally", "--as", "--ask", "--library", "--rules", "--lots", "--no-settings", "--output"),
)


def given_facts(options: Mapping[str, Any]) -> dict[str, Any]:
    """What was said of the lot, by the names of lot files."""
    said = {}
    for fact in FACTS.values():
        flag = fact.about.flag
        if flag is not None and options.get(_flag_name(fact)):
            said[fact.name] = flag[1]
        if options.get(fact.field):
            said[fact.name] = options[fact.field]
    return said


def _made(
    lib: "Library",
    name: str,
    lot_file: Path | None,
    options: Mapping[str, Any],
    today: str | None,
    form: str,
    full: bool,
    why: bool,
    why_not: str | None,
    no_settings: bool,
    *,
    trial: bool,
) -> str:
    """The recipe as text in the form asked for."""

    said = given_facts(options)
    facts: dict[str, Any] = {**facts_of_file(lot_file, said), **said}
    day = the_day(today)
    kept = {} if no_settings else facts_of_settings(facts)
    facts |= kept
    ask = lib.trial if trial else lib.recipe
    found = _marked(_asked(ask, name, day, facts, said), kept)
    if form == "json":
        from coldspell.views.json_view import render

        return render(found)
    from coldspell.views.layout import fits

    width, ascii_only = shutil.get_terminal_size((80, 24)).columns, not fits("–°×½", sys.stdout.encoding)
    page = lib.page(found, width, full=full, ascii_only=ascii_only)
    if why:
        from coldspell.views import reasons

        if full:
            page += "\n" + reasons.tree(found, width, ascii_only=ascii_only)
        else:
            page += "\n" + reasons.sentences(found, lib.texts, width, ascii_only=ascii_only)
    if why_not == "list":
        from coldspell.views import reasons

        page = reasons.askable(lib.tables.book.decisions, width, ascii_only=ascii_only)
    elif why_not:
        from coldspell.views import reasons

        near = lib.why_not(why_not, name, today=day, **facts)
        page += "\n" + reasons.near_misses(why_not, near, width, ascii_only=ascii_only)
    return page


def facts_of_settings(said: Mapping[str, Any]) -> dict[str, Any]:
    """The facts that the settings add to what was said."""
    from coldspell.settings.file import read_settings

    settings = read_settings()
    if not settings:
        return {}
    from coldspell.settings.apply import facts_of

    return facts_of(settings, said)


def _marked(found: "Recipe", kept: Mapping[str, Any]) -> "Recipe":
    """The recipe with the names of the facts that came from the settings."""
    if not kept:
        return found
    from msgspec.structs import replace

    return replace(found, lot=replace(found.lot, from_settings=tuple(sorted(kept))))


def _asked(ask: Any, name: str, day: date, facts: Mapping[str, Any], said: Mapping[str, Any]) -> Any:
    """The recipe; what is wrong with an option is told by its name on the command line."""
    try:
        return ask(name, today=day, **facts)
    except ColdspellError as error:
        fact = next((fact for fact in said if re.match(rf"{fact}\b", error.what)), None)
        if fact is None:
            raise
        option = options(FACTS[fact])[0]
        raise type(error)(error.what.replace(fact, option, 1), error.where, error.mend) from None


def facts_of_file(path: Path | None, said: Mapping[str, Any]) -> dict[str, Any]:
    """The facts of a lot file, without those that an option rules out."""
    if path is None:
        return {}
    from coldspell.lot.file import read_lot_file
    from coldspell.lot.read import EITHER

    facts = read_lot_file(path)
    for one, other in EITHER:
        if one in said and other not in said:
            facts.pop(other, None)
        if other in said and one not in said:
            facts.pop(one, None)
    return facts
