"""``coldspell sheet NAME -o FILE``: the answer as a printed sheet with a drawing of the lot."""

# Without postponed annotations: typer would evaluate each of them by itself.

import inspect
import re
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldspell.cli.output import aside, written
from coldspell.cli.parameters import OfficeFolder, RulesFolder, offer, with_parameters
from coldspell.cli.recipe import facts_of_file, given_facts, option_of
from coldspell.cli.today import the_day
from coldspell.errors import ColdspellError, Place
from coldspell.lot.table import FACTS
from coldspell.placed import put

if TYPE_CHECKING:
    from coldspell.api import Library
    from coldspell.sheet.content import Wanted
    from coldspell.sheet.make import Maker
    from coldspell.write.recipe import Recipe

Opt = typer.Option
KINDS = ("pdf", "png", "html")
PAPERS = ("a4", "letter")


def _answer(
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[NAME...]", help="Botanical or common name, in any case.", show_default=False
        ),
    ] = None,
    output: Annotated[
        Path | None,
        Opt("-o", "--output", help="File (.pdf, .png, .html) to write; with --lots a folder."),
    ] = None,
    lot: Annotated[
        Path | None, Opt(help="File with the facts of the lot (YAML, JSON; - is piped in).")
    ] = None,
    lots: Annotated[str | None, Opt(help="Table of lots (- reads standard input): a sheet for each.")] = None,
    paper: Annotated[
        str | None,
        Opt(help="letter with --units us, else a4.", metavar="|".join(PAPERS), autocompletion=offer(PAPERS)),
    ] = None,
    format_: Annotated[
        str,
        Opt(
            "--format",
            help="What is written into the folder.",
            metavar="|".join(KINDS),
            autocompletion=offer(KINDS),
        ),
    ] = "pdf",
    label: Annotated[str, Opt(help="What the lot is called on the sheet.")] = "",
    june_card: Annotated[
        bool, Opt("--june-card", help="With a card to fill in: what came up by June.")
    ] = False,
    public: Annotated[bool, Opt("--public", help="Without what is only for trained people.")] = False,
    today: Annotated[str | None, Opt(help="Day that counts as today.")] = None,
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    rules: RulesFolder = None,
    office: OfficeFolder = None,
    no_settings: Annotated[bool, Opt("--no-settings", help="Leave your settings out.")] = False,
    **said: Any,
) -> int:
    """Print what one seed lot needs on a sheet, with a drawing of the lot and its days."""
    from coldspell.api import Library
    from coldspell.cli.office import folder_of
    from coldspell.settings.apply import facts_of
    from coldspell.settings.file import read_settings
    from coldspell.sheet.content import Adviser, Wanted

    name = " ".join(words or ())
    if output is None:
        raise ColdspellError("nothing says where to write", mend="-o FILE.pdf, or with --lots -o FOLDER")
    settings = {} if no_settings else read_settings()
    lib = Library(*(library or []), rules=rules, office=folder_of(office, no_settings=no_settings))
    own = lib.office
    adviser = Adviser(*(str(settings.get(key, "")) for key in ("adviser", "office", "note")))
    if own is not None:
        adviser = Adviser(adviser.name or own.name, own.telephone or adviser.office, adviser.note)
    logo = own.logo if own else None
    wanted = Wanted(
        _one_of("--paper", paper.lower() if paper else None, PAPERS) or "",
        adviser,
        label,
        june_card,
        logo=logo,
    )
    day = the_day(today)
    facts = given_facts(said)
    if public:
        facts = {**facts, "professional": "no"}
    if lots is not None:
        if name or lot is not None:
            raise ColdspellError("--lots takes its names from a table", mend="leave out NAME and --lot")
        kind = _one_of("--format", format_, KINDS) or "pdf"
        facts = facts_of(settings, facts) | facts
        return _many(lots, facts, said, output, kind, wanted, day, lib, public)
    if not name:
        raise ColdspellError("nothing says which plant", mend="coldspell sheet NAME -o FILE.pdf")
    kind = _one_of("the suffix of the file", output.suffix.lstrip(".").lower(), KINDS) or ""
    facts = {**facts_of_file(lot, facts), **facts}
    _one(name, facts_of(settings, facts) | facts, output, kind, wanted, day, lib)
    return 0


def _one_of(what: str, value: str | None, allowed: Sequence[str]) -> str | None:
    if value is not None and value not in allowed:
        raise ColdspellError(f"{what} cannot be {value!r}", mend=f"one of: {', '.join(allowed)}")
    return value


def _one(
    name: str,
    facts: Mapping[str, Any],
    output: Path,
    kind: str,
    wanted: "Wanted",
    day: date,
    library: "Library",
) -> None:
    """Write the sheet of one lot."""
    from coldspell.sheet.make import Maker

    maker = Maker(kind)
    recipe = library.recipe(name, today=day, **facts)
    whole(output, maker.made(recipe, library.texts, _pictured(wanted, recipe, library)))
    written(output)


def _pictured(wanted: "Wanted", recipe: "Recipe", library: "Library") -> "Wanted":
    """With the photographs that the office has of the kind."""
    if library.office is None:
        return wanted
    from msgspec.structs import replace

    from coldspell.office.add import captions

    return replace(wanted, photographs=captions(library.office, recipe.species.name, library.texts))


def _many(
    lots: str,
    facts: Mapping[str, Any],
    said: Mapping[str, Any],
    folder: Path,
    kind: str,
    wanted: "Wanted",
    day: date,
    library: "Library",
    public: bool,
) -> int:
    """Write a sheet for each row of a table into a folder; 1 when some rows were refused."""
    from coldspell.cli.recipe_lots import warn
    from coldspell.cli.table_options import table_form
    from coldspell.sheet.make import Maker
    from coldspell.tables.read import open_lots

    maker = Maker(kind)
    with open_lots(lots, table_form(said), facts) as table:
        _folder(folder)
        refused = made = 0
        for line in _sheets(table, maker, library, day, wanted, public):
            if isinstance(line, str):
                refused += 1
                aside(line)
            else:
                made += 1
                whole(folder / f"{line[0]}.{kind}", line[1])
        warn(table.headings)
    told = library.texts.count("sheet_written", made, folder=folder)
    if refused:
        told = library.texts.count("sheet_refused", refused, written=told)
    sys.stdout.write(f"{told}\n")
    return 1 if refused else 0


def _sheets(
    rows: Any, maker: "Maker", library: "Library", day: date, wanted: "Wanted", public: bool
) -> Iterator[str | tuple[str, bytes]]:
    """For each row the name of its file and its sheet, or what is wrong with it."""
    from msgspec.structs import replace

    from coldspell.ask import Question
    from coldspell.tables.rows import Refused

    taken: set[str] = set()
    for row in rows:
        if isinstance(row, Refused):
            yield str(row)
            continue
        lot = replace(row.lot, professional=False) if public else row.lot
        own = replace(wanted, lot_name=row.own.lot or wanted.lot_name)
        try:
            recipe = library.recipe_of(Question(row.name, lot, day))
            sheet = maker.made(recipe, library.texts, _pictured(own, recipe, library))
        except ColdspellError as error:
            yield f"row {row.number}: {error}"
            continue
        yield _file_name(row.number, row.own.lot or row.name, taken), sheet


def _file_name(number: int, text: str, taken: set[str]) -> str:
    """A name for a file that every system takes and no other row has."""
    plain = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:60] or f"row-{number}"
    name = plain if plain not in taken else f"{plain}-{number}"
    taken.add(name)
    return name


def _folder(path: Path) -> None:
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise ColdspellError(
            f"the folder cannot be made: {error.strerror}",
            Place(str(path)),
            mend="name a folder that you may write in",
        ) from None


def whole(path: Path, content: bytes) -> None:
    """Write a file whole or not at all; what stood there before stays until the new one is there.

    Raises
    ------
    ColdspellError
        It cannot be written.
    """
    try:
        put(path, content)
    except OSError as error:
        raise ColdspellError(
            f"the file cannot be written: {error.strerror}", Place(str(path)), "is there such a folder?"
        ) from None


def sheet(arguments: Sequence[str]) -> Callable[..., int]:
    """The command, with an option for each fact of a lot."""
    from coldspell.cli.table_options import signature

    own = list(inspect.signature(_answer).parameters.values())[:-1]
    keyword = inspect.Parameter.KEYWORD_ONLY
    first, rest = own[:1], [p.replace(kind=keyword) for p in own[1:]]
    table = [p.replace(kind=keyword) for p in inspect.signature(signature).parameters.values()]
    facts = [parameter for fact in FACTS.values() for parameter in option_of(fact)]
    return with_parameters(_answer, [*first, *rest, *facts, *table])
