"""``coldspell species``: find, show, add and check species records, and who says what in them."""

from __future__ import annotations

import typer

from coldspell.cli.species_check import check
from coldspell.cli.species_diff import diff
from coldspell.cli.species_export import export
from coldspell.cli.species_find import find
from coldspell.cli.species_new import new
from coldspell.cli.species_show import show
from coldspell.cli.species_sources import list_gaps, sources

app = typer.Typer(help="Find, show, add and check species records.", no_args_is_help=True)
app.command("find")(find)
app.command("show")(show)
app.command("new")(new)
app.command("check")(check)
app.add_typer(sources, name="sources")
app.command("gaps")(list_gaps)
app.command("diff")(diff)
app.command("export")(export)
