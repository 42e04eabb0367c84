"""The options of every command that reads a table of lots, and what they state about the table."""

# Without postponed annotations: typer would evaluate each of them by itself.

import inspect
from collections.abc import Collection, Mapping
from typing import Annotated, Any

import typer

from coldspell.cli.parameters import offer, option_names
from coldspell.errors import ColdspellError
from coldspell.tables.read import KINDS
from coldspell.tables.rows import TableForm

PANEL = "The table"
Opt = typer.Option


def signature(
    table: Annotated[
        str | None,
        Opt(
            help="What the table is, where its suffix does not say.",
            metavar="|".join(KINDS),
            autocompletion=offer(KINDS),
            rich_help_panel=PANEL,
        ),
    ] = None,
    date_format: Annotated[
        str | None,
        Opt(help="How dates are written, if not 2027-04-15: as \"%d/%m/%Y\".", rich_help_panel=PANEL),
    ] = None,
    decimal_comma: Annotated[
        bool, Opt("--decimal-comma", help="1,250 means one and a quarter.", rich_help_panel=PANEL)
    ] = False,
    delimiter: Annotated[
        str | None, Opt(help="Between cells, if it is not plain from the file.", rich_help_panel=PANEL)
    ] = None,
    encoding: Annotated[str | None, Opt(help="If it is not UTF-8, as cp1252.", rich_help_panel=PANEL)] = None,
    sheet: Annotated[
        str | None, Opt(help="Sheet of an Excel file, if not the first.", rich_help_panel=PANEL)
    ] = None,
) -> None:
    """Only a signature."""


def table_form(given: Mapping[str, Any]) -> TableForm:
    """What the options state about a table.

    Raises
    ------
    ColdspellError
        The form of dates has no sign for day, month and year.
    """
    form = given.get("date_format")
    if form and "%" not in form:
        mend = 'write it as "%d.%m.%Y" (%d day, %m month, %Y year)'
        raise ColdspellError(f"--date-format {form[:40]!r} says no day, month and year", mend=mend)
    return TableForm(
        kind=given.get("table"),
        delimiter="\t" if given.get("delimiter") == "\\t" else given.get("delimiter"),
        decimal_comma=bool(given.get("decimal_comma")),
        date_format=given.get("date_format"),
        encoding=given.get("encoding"),
        sheet=given.get("sheet"),
    )


def parameters() -> list[inspect.Parameter]:
    """The options as parameters of a command."""
    table = inspect.signature(signature).parameters.values()
    return [one.replace(kind=inspect.Parameter.KEYWORD_ONLY) for one in table]


def refuse_without_table(typed: Collection[str]) -> None:
    """Refuse what is said of a table where none is named.

    Raises
    ------
    ColdspellError
        One of the options is typed without ``--lots``.
    """
    if {"--lots", "--help"} & {*typed}:
        return
    for one in parameters():
        for name in option_names(one):
            if name in typed:
                what = f"{name} says how a table of lots is written"
                raise ColdspellError(what, mend="name the table: coldspell recipe --lots FILE")
