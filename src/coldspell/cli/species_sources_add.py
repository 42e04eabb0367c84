"""``coldspell species sources add FILE``: works from CSL-JSON or BibTeX into a bibliography."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from coldspell import shipped
from coldspell.bibliography.add import added, checked
from coldspell.bibliography.entry import entry
from coldspell.bibliography.read import Work, form_of, read_works
from coldspell.check.fix import create_file, replace_file
from coldspell.cli import output
from coldspell.cli.species_options import Libraries, load
from coldspell.errors import ColdspellError
from coldspell.library.files import BIBLIOGRAPHY, read_file
from coldspell.yaml.document import decode


class Written(StrEnum):
    """The form in which works are given."""

    csl = "csl"
    bibtex = "bibtex"


def add(
    file: Annotated[
        str, typer.Argument(metavar="FILE", help="CSL-JSON (.json), BibTeX (.bib); - reads standard input.")
    ],
    into: Annotated[Path | None, typer.Option("--into", metavar="DIR", help="Library to write into.")] = None,
    name: Annotated[
        str | None, typer.Option("--id", metavar="NAME", help="Id of the one work in the file.")
    ] = None,
    form: Annotated[
        Written | None, typer.Option("--format", help="csl or bibtex, where the suffix does not say it.")
    ] = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Show what would be added; write nothing.")
    ] = False,
    libraries: Libraries = None,
) -> None:
    """Add the works of a file to a bibliography, sorted by id; all of them, or none where one has a fault."""
    folder = _folder(into)
    works = _read(file, form)
    if name is not None and len(works) > 1:
        raise ColdspellError(f"--id names one work, and {file} has {len(works)}", mend="Leave --id out.")
    library = load(list(dict.fromkeys([*(libraries or ()), *([into] if into else ())])))
    path = folder / BIBLIOGRAPHY
    before = decode(read_file(path, BIBLIOGRAPHY).data, str(path)) if path.exists() else None
    items = checked(works, _shown(file), library.bibliography, name or "")
    text = added(before or "", items, str(path))
    if not dry_run:
        _write(path, text, new=before is None)
    output.write("\n".join(entry(one).rstrip("\n") for one in items) + "\n")
    _tell(works, [one["id"] for one in items], path, dry_run)


def _folder(into: Path | None) -> Path:
    if into is None and shipped.is_installed("species"):
        what = "a source in the installed program would be lost with the next version of it"
        raise ColdspellError(what, mend="Name your library: --into DIR.")
    folder = into or shipped.find("species")
    if not folder.is_dir():
        raise ColdspellError("there is no such folder", str(folder), "Name the folder of a library.")
    return folder


def _read(file: str, form: Written | None) -> list[Work]:
    if file == "-":
        if form is None:
            raise ColdspellError(
                "the form of standard input is not said", mend="Give --format csl or bibtex."
            )
        return read_works(output.standard_input().read().encode(), _shown(file), form)
    path = Path(file)
    kind = form or form_of(path)
    try:
        data = path.read_bytes()
    except OSError as error:
        raise ColdspellError(
            f"cannot be read: {error.strerror}", file, "Name a file that is there."
        ) from None
    return read_works(data, file, kind)


def _shown(file: str) -> str:
    return "standard input" if file == "-" else file


def _write(path: Path, text: str, *, new: bool) -> None:
    if new:
        create_file(path, text)
    else:
        replace_file(path, text)


def _tell(works: list[Work], ids: list[str], path: Path, dry_run: bool) -> None:
    """On standard error: where it stands, ids that are new, and what was left out."""
    lines = [f"{path}: {len(ids)} {'to add; nothing is written' if dry_run else 'added'}"]
    for work, own in zip(works, ids, strict=True):
        written = str(work.item.get("id", ""))
        if written and written != own:
            lines.append(f"{own}: was {written[:60]}")
        if work.left_out:
            lines.append(f"{own}: left out: {', '.join(work.left_out)}")
    sys.stderr.write("\n".join(lines) + "\n")
