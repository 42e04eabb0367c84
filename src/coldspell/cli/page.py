"""``coldspell page``: ask and read in a browser, on this machine; ``page export`` writes a static site."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from coldspell.cli.parameters import OfficeFolder, RulesFolder
from coldspell.errors import ColdspellError
from coldspell.extras import extra

Opt = typer.Option


app = typer.Typer()


@app.callback(invoke_without_command=True)
def page(
    context: typer.Context,
    port: Annotated[int, Opt(min=0, max=65535, help="Port to listen on; 0 takes any that is free.")] = 8000,
    host: Annotated[
        str, Opt(help="Address to listen on; any other than this one opens the page to the network.")
    ] = "127.0.0.1",
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    rules: RulesFolder = None,
    write: Annotated[
        bool, Opt("--write", help="The form of a record may write into the last --library (or the clone).")
    ] = False,
    public: Annotated[
        bool, Opt("--public", help="Leave out what is only for trained people, whatever is said of a lot.")
    ] = False,
    office: OfficeFolder = None,
    no_settings: Annotated[bool, Opt("--no-settings", help="Leave your settings out.")] = False,
) -> None:
    """Ask and read in a browser: a local page, and the same as JSON; or export a static site."""
    if context.invoked_subcommand is not None:
        return
    for module in ("litestar", "uvicorn", "jinja2", "segno", "typst", "icalendar"):
        extra(module, "page", "the page")
    from datetime import date

    from coldspell.api import Library
    from coldspell.cli.office import folder_of
    from coldspell.settings.file import read_settings
    from coldspell.web.record_file import folder_to_write
    from coldspell.web.server import make_app, serve

    folders = library or []
    if write and host not in ("127.0.0.1", "localhost", "::1"):
        raise ColdspellError("--write is for this machine alone", mend="leave out --host, or --write")
    into = folder_to_write(folders) if write else None
    settings = {} if no_settings else read_settings()
    found = Library(*folders, rules=rules, office=folder_of(office, no_settings=no_settings))
    _ = found.office  # a fault in it is told before anybody asks
    site = make_app(found, settings, date.today, folders, into, public=public)
    serve(site, host, port, _ready)


@app.command("export")
def export(
    folder: Annotated[Path, typer.Argument(help="Where it goes; an earlier export there is replaced.")],
    only: Annotated[
        list[str] | None, Opt(help="A plant to export, instead of all; may be repeated.", metavar="NAME")
    ] = None,
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
    rules: RulesFolder = None,
    jobs: Annotated[int, Opt(min=1, max=64, help="Processes to write with; the files are the same.")] = 1,
) -> None:
    """Write the library and undated answers as a static site, for any host or a memory stick."""
    extra("jinja2", "page", "the site")
    from coldspell.api import shipped
    from coldspell.web.export.site import export as written

    shown = sys.stderr.isatty()

    def told(done: int, of: int) -> None:
        if shown:
            sys.stderr.write(f"\r{done} of {of} plants" + ("\n" if done == of else ""))
            sys.stderr.flush()

    made = written(folder, library or [], only or [], jobs, told, rules)
    size = f"{made.size / 1e6:.1f}"
    say = shipped().texts.count
    sys.stdout.write(say("export_made", made.plants, folder=folder, files=made.files, size=size) + "\n")


def _ready(address: str) -> None:
    sys.stdout.write(f"Coldspell is at {address} (Ctrl+C stops it)\n")
    sys.stdout.flush()
