"""``coldspell settings``: what holds for every lot that is asked about here."""

from __future__ import annotations

from typing import Annotated

import typer

from coldspell.cli.parameters import offer
from coldspell.settings.file import read_settings, settings_path
from coldspell.settings.keys import SETTINGS, settings_schema
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


def _words(ctx: typer.Context, incomplete: str) -> list[str]:
    """What a shell offers for the value: the words that may stand there."""
    schema = settings_schema()["properties"].get(_key(str(ctx.params.get("key") or "")), {})
    return [word for word in schema.get("enum", ()) if word.startswith(incomplete)]


def _key(typed: str) -> str:
    return typed.strip().lower().replace("-", "_")


@app.command(name="set")
def set_(
    key: Annotated[
        str, typer.Argument(help="Which setting.", show_default=False, autocompletion=offer(SETTINGS))
    ],
    value: Annotated[str, typer.Argument(help="What it is.", show_default=False, autocompletion=_words)],
) -> None:
    """Set one of them."""
    kept, path = write_setting(_key(key), value)
    typer.echo(f"{_key(key)}: {'–' if kept is None else kept}  ({path})")


@app.command()
def unset(
    key: Annotated[
        str, typer.Argument(help="Which setting.", show_default=False, autocompletion=offer(SETTINGS))
    ],
) -> None:
    """Take one of them out."""
    _, path = write_setting(_key(key), "")
    typer.echo(f"{_key(key)}: –  ({path})")
