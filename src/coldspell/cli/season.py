"""``coldspell season LOTS``: a season of many lots; ``season new`` writes the table to fill in."""

# Without postponed annotations: typer would evaluate each of them by itself.

import inspect
import re
import shutil
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path
from typing import Annotated, Any

import typer

from coldspell.cli import table_options
from coldspell.cli.output import aside, write
from coldspell.cli.parameters import RulesFolder, offer, with_parameters
from coldspell.cli.recipe import fact_parameters, facts_of_settings, given_facts
from coldspell.cli.recipe_lots import warn
from coldspell.cli.today import the_day
from coldspell.errors import ColdspellError
from coldspell.near import did_you_mean
from coldspell.typed import read_millimetres, read_span

Opt = typer.Option
_PROGRESS_FROM = 2_000


def _weekdays() -> Sequence[str]:
    from coldspell.season.due import WEEKDAYS

    return WEEKDAYS


LookDay = Annotated[
    str | None,
    Opt(
        help="Day of the week on which lots are looked at.",
        metavar="monday|tuesday|…",
        autocompletion=offer(_weekdays),
    ),
]
Closed = Annotated[
    list[str] | None,
    Opt(
        help="Days on which nobody is there: first and last, or weekends. May be repeated.",
        metavar="FROM..TO|weekends",
    ),
]


def _season(
    lots: Annotated[
        str,
        typer.Argument(help="Table of lots: CSV, TSV, JSON Lines, Excel, Parquet; - reads standard input."),
    ],
    out: Annotated[
        list[Path] | None,
        Opt(
            "-o",
            "--output",
            help="A file too, by suffix: .csv .jsonl .parquet .ics .pdf .html .svg .png; "
            "ticks.pdf or ticks.html: tick sheets by shelf; labels.pdf, pot-labels.pdf: labels. "
            "May be repeated.",
        ),
    ] = None,
    capacity: Annotated[float | None, Opt(help="Litres that the refrigerator or cold room holds.")] = None,
    look_day: LookDay = None,
    closed: Closed = None,
    alarm: Annotated[bool, Opt("--alarm", help="Events of the calendar remind in the morning.")] = False,
    label_form: Annotated[
        str,
        Opt(
            help="What labels.pdf is for; pot-labels.pdf is for pots.",
            metavar="bag|pot",
            autocompletion=offer(("bag", "pot")),
        ),
    ] = "bag",
    label: Annotated[
        str | None, Opt(help="Size of a label in mm; usual 70x37, for pots 120x20.", metavar="WIDTHxHEIGHT")
    ] = None,
    label_paper: Annotated[
        str, Opt(help="Size of the paper in mm; on a roll that of the label.", metavar="WIDTHxHEIGHT")
    ] = "210x297",
    label_margin: Annotated[
        str | None, Opt(help="From the edges to the first label; else they are centred.", metavar="LEFTxTOP")
    ] = None,
    label_gap: Annotated[str | None, Opt(help="Between labels, in mm.", metavar="ACROSSxDOWN")] = None,
    refused: Annotated[
        Path | None, Opt(help="Where refused rows go; else beside the first file of -o.")
    ] = None,
    jobs: Annotated[int, Opt(help="Processes to plan with; the files are the same.")] = 1,
    today: Annotated[str | None, Opt(help="Day that counts as today.")] = None,
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    rules: RulesFolder = None,
    no_settings: Annotated[bool, Opt("--no-settings", help="Leave your settings out.")] = False,
    **said: Any,
) -> int:
    """Plan many lots side by side: what is due when, what does not fit, what it takes.

    Options that say something of a lot hold for the rows that do not say it themselves. A table to fill in:
    coldspell season new lots.csv. What another table changes: coldspell season compare A B.
    """
    from coldspell.season.files.outputs import check_outputs
    from coldspell.season.planning import Setting

    outputs = list(out or [])
    check_outputs(outputs, lots)
    if capacity is not None and not 0 < capacity < 1e9:
        raise ColdspellError(f"--capacity {capacity:g} litres cannot be", mend="litres, as --capacity 300")
    if not 1 <= jobs <= 256:
        raise ColdspellError(f"--jobs {jobs} cannot be", mend="from 1 to 256, as --jobs 4")
    day = the_day(today)
    setting = Setting(
        day, tuple(map(str, library or ())), _working(look_day, closed or ()), lots, str(rules or "")
    )
    facts = _facts_of_all(said, no_settings=no_settings)
    sheet, pots = (
        _label_sheet(form, label, label_paper, label_margin, label_gap) for form in (label_form, "pot")
    )
    return _run(lots, setting, outputs, refused, capacity, jobs, facts, said, alarm, sheet, pots)


def _facts_of_all(said: Mapping[str, Any], *, no_settings: bool) -> dict[str, Any]:
    """Facts for the rows that do not say them: as typed, else of the settings."""
    facts = given_facts(said)
    return {**({} if no_settings else facts_of_settings(facts)), **facts}


def _label_sheet(form: str, label: str | None, paper: str, margin: str | None, gap: str | None) -> Any:
    from coldspell.season.print.sheet import LabelSheet

    if form not in ("bag", "pot"):
        raise ColdspellError(f"--label-form cannot be {form!r}", mend="one of: bag, pot")
    width, height = read_millimetres("--label", label or {"bag": "70x37", "pot": "120x20"}[form], 2)
    across, down = read_millimetres("--label-paper", paper, 2)
    return LabelSheet(
        "pot" if form == "pot" else "bag",
        (width, height),
        (across, down),
        _sides("--label-margin", margin),
        _sides("--label-gap", gap) or (0.0, 0.0),
    ).checked()


def _sides(what: str, text: str | None) -> tuple[float, float] | None:
    """Two lengths in mm, of which either may be nothing."""
    if text is None:
        return None
    found = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*[x×X*]\s*(\d+(?:\.\d+)?)\s*", text)
    if found is None:
        raise ColdspellError(f"{what}: {text[:40]!r} is not like MMxMM", mend="millimetres, as 5x10")
    return float(found[1]), float(found[2])


def _run(
    lots: str,
    setting: Any,
    outputs: Sequence[Path],
    refused: Path | None,
    capacity: float | None,
    jobs: int,
    facts: Mapping[str, Any],
    given: Mapping[str, Any],
    alarm: bool,
    sheet: Any,
    pots: Any,
) -> int:
    from coldspell.season import page
    from coldspell.season.build import Building
    from coldspell.season.files.outputs import Outputs, Told
    from coldspell.season.planning import Planner
    from coldspell.tables.read import open_lots
    from coldspell.texts import Texts
    from coldspell.views.layout import fits

    with open_lots(lots, table_options.table_form(given), facts) as table:
        planner = Planner(setting)
        texts = Texts(planner.tables.texts)
        rejects = refused or _beside(outputs, table.fixed)
        carried = table.headings.carried if table.fixed else None
        told = Told(texts, setting.today.isoformat(), carried, alarm, sheet, pots, capacity)
        with Outputs(outputs, rejects, table.columns, told) as files, _progress() as shown:
            building = Building(planner, capacity, (files.add,))
            building.run(shown(table), jobs)
            season = building.season(str(files.rejected or ""))
            written = files.commit(season)
        warn(table.headings)
    width, ascii_only = shutil.get_terminal_size((80, 24)).columns, not fits("–°×·", sys.stdout.encoding)
    write(page.render(season, texts, width, ascii_only=ascii_only))
    if written:
        sys.stderr.write(texts.say("season_written", files=", ".join(map(str, written))) + "\n")
    return 1 if building.refused_count else 0


def _beside(outputs: Sequence[Path], fixed: bool) -> Path | None:
    if not outputs:
        return None
    return outputs[0].with_name(f"{outputs[0].stem}.refused.{'csv' if fixed else 'jsonl'}")


def _working(look_day: str | None, closed: Sequence[str]) -> Any:
    from coldspell.season.due import WEEKDAYS, Working

    weekday = None
    if look_day is not None:
        found = [
            i for i, name in enumerate(WEEKDAYS) if len(look_day) > 2 and name.startswith(look_day.lower())
        ]
        if not found:
            mend = did_you_mean(look_day.lower(), WEEKDAYS)
            raise ColdspellError(f"--look-day {look_day[:40]!r} is no day of the week", mend=mend)
        weekday = found[0]
    spells = [text for text in closed if text.strip().lower() not in ("weekend", "weekends")]
    return Working(weekday, tuple(sorted(map(_spell, spells))), weekends=len(spells) < len(closed))


def _spell(text: str) -> tuple[date, date]:
    """Closed days: the first, and the day after the last."""
    one, two = read_span("--closed", text)
    return one, two + timedelta(days=1)


@contextmanager
def _progress() -> Iterator[Callable[[Any], Iterator[Any]]]:
    """Rows of a table as they pass; on a terminal, where they are many, with their count.

    Of a file the bar says how much is left; nobody knows how much is still to come of what is piped in.
    """

    def quiet(table: Any) -> Iterator[Any]:
        yield from table

    if not sys.stderr.isatty():
        yield quiet
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, SpinnerColumn, TextColumn, TimeElapsedColumn
    from rich.progress import TimeRemainingColumn as TimeLeftColumn

    rows = TextColumn("{task.fields[rows]:,} rows")
    columns = (SpinnerColumn(), BarColumn(), rows, TimeElapsedColumn(), TextColumn("left"), TimeLeftColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:

        def counted(table: Any) -> Iterator[Any]:
            task = None
            for count, row in enumerate(table, 1):
                if count % 500 == 0 and count >= _PROGRESS_FROM:
                    share = table.share
                    if task is None:
                        task = bar.add_task("", total=None if share is None else 1.0, rows=count)
                    bar.update(task, completed=share, rows=count)
                yield row

        yield counted


def _new(
    path: Annotated[
        Path | None, typer.Argument(help="File to write; without it the table is printed.")
    ] = None,
) -> None:
    """Write a table to fill in, with what each column takes."""
    from coldspell.rulebook import load_tables
    from coldspell.rules.plain import PlainEngine
    from coldspell.season.files.whole import WholeFile
    from coldspell.season.template import template
    from coldspell.texts import Texts

    text = template(Texts(load_tables(PlainEngine()).texts))
    if path is None:
        write(text)
        return
    if path.exists():
        raise ColdspellError(f"{path} is there already", mend="name a file that is not there yet")
    if path.suffix.lower() != ".csv":
        raise ColdspellError(
            f"the table is written as CSV, not {path.suffix or 'without suffix'}", mend="lots.csv"
        )
    with WholeFile(path) as file:
        file.write("\ufeff" + text)  # spreadsheets take it for UTF-8 by that mark
    aside(f"{path} is written: fill it in, then: coldspell season {path}")


def _compare(
    first: Annotated[str, typer.Argument(help="Table of lots.", metavar="A")],
    second: Annotated[str, typer.Argument(help="The same lots, otherwise.", metavar="B")],
    look_day: LookDay = None,
    closed: Closed = None,
    today: Annotated[str | None, Opt(help="Day that counts as today.")] = None,
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    rules: RulesFolder = None,
    no_settings: Annotated[bool, Opt("--no-settings", help="Leave your settings out.")] = False,
    **said: Any,
) -> int:
    """Say which lots of two tables change, and what they gain. Options hold for both, as for a season."""
    from coldspell.season import compare
    from coldspell.season.planning import Planner, Setting, planned
    from coldspell.tables.read import open_lots
    from coldspell.texts import Texts
    from coldspell.views.layout import fits

    day = the_day(today)
    working = _working(look_day, closed or ())
    planner = Planner(Setting(day, tuple(map(str, library or ())), working, rules=str(rules or "")))
    facts, sides = _facts_of_all(said, no_settings=no_settings), []
    for source in (first, second):
        with open_lots(source, table_options.table_form(said), facts) as table:
            sides.append(compare.side(planned(table, planner), day))
            warn(table.headings)
    width, ascii_only = shutil.get_terminal_size((80, 24)).columns, not fits("–", sys.stdout.encoding)
    before, after = sides
    write(compare.render(before, after, Texts(planner.tables.texts), width, ascii_only=ascii_only))
    return 1 if before.refused or after.refused else 0


def season(arguments: Sequence[str]) -> Callable[..., Any]:
    """The command for these arguments; a first word ``new`` or ``compare`` is a command of its own."""
    after = list(arguments[1:]) if arguments[:1] == ["season"] else list(arguments)
    if after[:1] == ["new"]:
        return _named("new", _new)
    if after[:1] == ["compare"]:
        return _named("compare", _of_tables(_compare, 2, after))
    return _of_tables(_season, 1, after)


def _of_tables(function: Callable[..., int], tables: int, arguments: Sequence[str]) -> Callable[..., Any]:
    """A command for so many tables of lots, with the facts of lots and what a table is as options."""
    own = list(inspect.signature(function).parameters.values())[:-1]
    rest = [p.replace(kind=inspect.Parameter.KEYWORD_ONLY) for p in own[tables:]]
    rest += table_options.parameters()
    flags = {f"--{p.name.replace('_', '-')}" for p in rest} | {"--output", "--look-day"}
    return with_parameters(function, [*own[:tables], *fact_parameters(arguments, flags), *rest])


def _named(word: str, function: Callable[..., Any]) -> typer.Typer:
    app = typer.Typer(help="A season of many lots.", no_args_is_help=True)
    app.callback()(lambda: None)
    app.command(word)(function)
    return app
