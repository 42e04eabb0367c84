"""``coldspell page``: ask and read in a browser, on this machine."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from coldspell.extras import extra

Opt = typer.Option


def page(
    port: Annotated[int, Opt(min=0, max=65535, help="Port to listen on; 0 takes any that is free.")] = 8000,
    host: Annotated[
        str, Opt(help="Address to listen on; any other than this one opens the page to the network.")
    ] = "127.0.0.1",
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    no_settings: Annotated[bool, Opt("--no-settings", help="Leave your settings out.")] = False,
) -> None:
    """Ask and read in a browser: a local page, and the same as JSON."""
    for module in ("litestar", "uvicorn", "jinja2", "segno", "typst", "icalendar"):
        extra(module, "page", "the page")
    from datetime import date

    from coldspell.api import Library
    from coldspell.settings.file import read_settings
    from coldspell.web.server import make_app, serve

    app = make_app(Library(*(library or [])), {} if no_settings else read_settings(), date.today)
    serve(app, host, port, _ready)


def _ready(address: str) -> None:
    sys.stdout.write(f"Coldspell is at {address} (Ctrl+C stops it)\n")
    sys.stdout.flush()
