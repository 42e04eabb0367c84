"""``coldspell species check``: are the records sound, and what is to be mended where."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldspell.cli import output
from coldspell.cli.parameters import offer
from coldspell.cli.species_options import Libraries
from coldspell.cli.today import the_day
from coldspell.errors import ColdspellError
from coldspell.library.load import shipped_dirs
from coldspell.near import did_you_mean
from coldspell.shipped import is_installed

if TYPE_CHECKING:
    from coldspell.check.scope import Scope


class Report(StrEnum):
    """What the result is written as."""

    text = "text"
    json = "json"
    github = "github"
    sarif = "sarif"
    junit = "junit"


def check(
    paths: Annotated[
        list[Path] | None,
        typer.Argument(
            metavar="[PATH]...", help="Files or folders; else each --library, else the shipped one."
        ),
    ] = None,
    libraries: Libraries = None,
    report: Annotated[
        Report, typer.Option("--format", help="text, json, github (annotations), sarif (2.1.0) or junit")
    ] = Report.text,
    only_changed: Annotated[
        bool, typer.Option("--changed", help="Report only files that differ from a git revision.")
    ] = False,
    base: Annotated[str, typer.Option(help="The revision for --changed.")] = "HEAD",
    fix: Annotated[
        bool,
        typer.Option("--fix", help="First mend what is safe to mend: version, defaults, spaces, order."),
    ] = False,
    strict: Annotated[
        bool, typer.Option("--strict", help="Warnings that nobody accepted fail, too.")
    ] = False,
    explain: Annotated[
        str | None,
        typer.Option(
            metavar="ID", help="Say what a check finds and how that is mended.", autocompletion=offer(_ids)
        ),
    ] = None,
    today: Annotated[
        str | None, typer.Option(metavar="YYYY-MM-DD", help="Day that counts as today, for notes on law.")
    ] = None,
) -> None:
    """Check species records: form, footnotes, ranges, limits, names; exit code 1 when there are errors."""
    from coldspell.check.reports import REPORTS
    from coldspell.check.run import Checked
    from coldspell.check.scope import Scope, changed, check_scope, scopes
    from coldspell.library.files import BIBLIOGRAPHY

    if explain is not None:
        output.write(_explained(explain))
        return
    if fix and not paths and not libraries and is_installed("species"):
        what = "--fix without a path would change the installed library"
        raise ColdspellError(what, mend="Name the files or folders that are to be mended.")
    if only_changed and not paths and not libraries and is_installed("species"):
        what = "--changed without a path would ask git about the installed library"
        raise ColdspellError(what, mend="Name the folder: coldspell species check --changed species")
    around = [*shipped_dirs(), *(libraries or [])]
    day = the_day(today)
    whole = Checked()
    for scope in scopes(paths or libraries or list(shipped_dirs())):
        chosen = scope
        if only_changed:
            differ = changed(scope.root, base)
            files = tuple(file for file in differ if scope.wants(file) and file.exists())
            # what cites a source, or names a record that is gone, may be wrong now
            others = any(file.name == BIBLIOGRAPHY or not file.exists() for file in differ)
            if not files and not others:
                continue
            chosen = scope if others else Scope(scope.root, files)
        if fix:
            _fix(chosen)
        part = check_scope(chosen, around, day)
        whole.findings += part.findings
        whole.records += part.records
    output.write(REPORTS[report.value](whole))
    if whole.errors or (strict and whole.warnings):
        raise typer.Exit(1)


def _ids() -> list[str]:
    from coldspell.check.table import CHECKS

    return [check.id for check in CHECKS]


def _explained(name: str) -> str:
    from coldspell.check.table import ACCEPTABLE, CHECKS

    checks = {check.id: check for check in CHECKS}
    if name not in checks:
        raise ColdspellError(f"no check of records is named '{name}'", mend=did_you_mean(name, checks))
    one = checks[name]
    rows = [("check", f"{one.id} ({one.severity})"), ("finds", one.says), ("mend", one.mend)]
    if name in ACCEPTABLE:
        rows.append(("accept", f"accept: {{{name}: the reason}} in a record that is right all the same"))
    return output.text([(left, right.replace("``", "'")) for left, right in rows])


def _fix(scope: Scope) -> None:
    """Mend the wanted files of a library and say on stderr what was done to each."""
    from coldspell.check.fix import fix_file
    from coldspell.library.files import shown, walk

    for relative, path in walk(scope.root):
        if scope.wants(path):
            done = fix_file(path, relative)
            if done:
                output.aside(f"{shown(path)}: {'; '.join(done)}")
