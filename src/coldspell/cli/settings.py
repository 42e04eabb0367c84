"""``coldspell settings``: what holds for every lot that is asked about here."""

from __future__ import annotations

from typing import Annotated

import typer

from coldspell.cli.parameters import offer
from coldspell.settings.file import read_settings, settings_path
from coldspell.settings.keys import SETTINGS
from coldspell.settings.write import write_setting

app = typer.Typer(help="Keep what holds for all your lots.", no_args_is_help=True)


@app.command()
def show() -> None:
    """Show the settings and the file they stand in."""
    kept = read_settings()
    typer.echo(f"# {settings_path()}")
    width = max(map(len, SETTINGS))
    for key, setting in SETTINGS.items():
        typer.echo(f"{key:{width}}  {kept.get(key, '–')!s:20}  {setting.means}".rstrip())


@app.command(name="set")
def set_(
    key: Annotated[
        str, typer.Argument(help="Which setting.", show_default=False, autocompletion=offer(SETTINGS))
    ],
    value: Annotated[str, typer.Argument(help="What it is; '' takes it out.", show_default=False)],
) -> None:
    """Set one of them."""
    typer.echo(f"{key}: {value or '–'}  ({write_setting(key.strip().lower().replace('-', '_'), value)})")
