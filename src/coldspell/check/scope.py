"""What a check covers: which libraries the named paths belong to, and which of their files are wanted."""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from coldspell.check.base import Finding, Summary
from coldspell.check.run import Checked, check_files, source_types
from coldspell.check.table import BIBLIOGRAPHY as BOOK
from coldspell.errors import ColdspellError, Place
from coldspell.library.files import BIBLIOGRAPHY, NOT_RECORDS, read_file, shown, walk
from coldspell.library.library import Library
from coldspell.library.load import load_library
from coldspell.library.poisonous import read_poisonous
from coldspell.records.model import Taxon
from coldspell.shipped import is_source


@dataclass(frozen=True, slots=True)
class Scope:
    """A library directory, and the paths in it whose findings are wanted (none: all)."""

    root: Path
    wanted: tuple[Path, ...] = ()

    def wants(self, file: Path) -> bool:
        """Say whether findings in a file are wanted."""
        return not self.wanted or any(path == file or path in file.parents for path in self.wanted)


class Summaries(Mapping[str, Summary]):
    """The records of a loaded library as checks need them, made when asked for."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._made: dict[str, Summary] = {}

    def __getitem__(self, name: str) -> Summary:
        if name not in self._made:
            self._made[name] = self._summary(name)
        return self._made[name]

    def _summary(self, name: str) -> Summary:
        record = self._library.get(name)
        answers = record.asks.answers if record.asks else ()
        return Summary(
            name=record.name,
            file=record.path,
            rank=record.rank,
            family=record.family,
            synonyms=record.synonyms,
            common_names=record.common_names,
            hazards=frozenset(hazard.kind for hazard in record.hazards),
            asked_names=tuple(name for answer in answers for name in answer.then),
            accept=record.accept,
            places={},
            taxon={} if record.taxon is None else _ids(record.taxon),
        )

    def __iter__(self) -> Iterator[str]:
        return iter(self._library.names)

    def __len__(self) -> int:
        return len(self._library)


def _ids(taxon: Taxon) -> dict[str, str | int]:
    return {key: value for key in ("wfo", "gbif") if (value := getattr(taxon, key)) is not None}


def scopes(paths: Sequence[Path]) -> list[Scope]:
    """Group paths by the library they belong to (see :func:`library_of`).

    Raises
    ------
    ColdspellError
        If a path does not exist.
    """
    wanted: dict[Path, list[Path]] = {}
    for path in paths:
        if not path.exists():
            raise ColdspellError("there is no such file or directory", shown(path), "Check the path.")
        full = path.absolute()
        root = library_of(full)
        wanted.setdefault(root, []).append(full)
    return [Scope(root, () if root in each else tuple(each)) for root, each in wanted.items()]


def library_of(path: Path) -> Path:
    """Return the library directory that a file or folder belongs to."""
    start = path if path.is_dir() else path.parent
    for folder in (start, *start.parents):
        if (folder / BIBLIOGRAPHY).is_file():
            return folder
    return start


def changed(root: Path, base: str) -> tuple[Path, ...]:
    """Return the YAML files below a folder that differ from a git revision or are gone, and those new to git.

    Raises
    ------
    ColdspellError
        If git is missing, the folder is in no repository, or there is no such revision.
    """
    if base.startswith("-"):
        raise ColdspellError(f"'{base}' is not a git revision", mend="Name a branch, tag or commit.")
    top = Path(_git(root, "rev-parse", "--show-toplevel").strip())
    since = _git(root, "diff", "--name-only", "-z", "--no-renames", base, "--", ".")
    new = _git(root, "ls-files", "--others", "--exclude-standard", "--full-name", "-z", "--", ".")
    names = {name for name in (since + new).split("\0") if name.endswith(".yaml")}
    return tuple(sorted(top / name for name in names))


def uncommitted(root: Path, files: Sequence[Path]) -> tuple[Path, ...]:
    """Return the files of a library that differ from its last commit; none where git knows nothing of it."""
    try:
        found = {path.resolve() for path in changed(root, "HEAD")}
    except ColdspellError:  # no git, no repository, no commit yet
        return ()
    return tuple(path for path in files if path.resolve() in found) if found else ()


def _written(path: Path) -> int:
    try:
        return path.stat().st_mtime_ns
    except OSError:  # gone meanwhile, or a link to nothing: reading it will say so
        return 0


def _git(root: Path, *arguments: str) -> str:
    command = ["git", "-c", "core.quotePath=off", "-C", str(root), *arguments]
    try:
        done = subprocess.run(command, capture_output=True, text=True, timeout=120)
    except (OSError, subprocess.TimeoutExpired) as error:
        raise ColdspellError(
            f"git could not be run: {error}", shown(root), "Check without --changed."
        ) from None
    if done.returncode:
        said = done.stderr.strip().split("\n")[0]
        raise ColdspellError(f"git says: {said}", shown(root), "Name a revision with --base.")
    return done.stdout


def check_text(text: str, path: Path, library: Library, folders: Sequence[Path], today: date) -> Checked:
    """Check the text of a record that is not written yet, as if it stood in its file.

    Parameters
    ----------
    path
        Where it is to stand.
    library, folders
        The loaded library that it is to be part of, and its folders: what it may cite and name.
    """
    with tempfile.TemporaryDirectory() as work:
        draft = Path(work, path.name)
        draft.write_text(text, encoding="utf-8", newline="\n")
        found = check_files(
            [(path.name, draft)],
            source_types=_types(library),
            around=Summaries(library),
            poisonous=read_poisonous(folders),
            today=today,
        )
    file = shown(path)
    found.findings = [
        replace(one, place=Place(file, one.place.line, one.place.column)) for one in found.findings
    ]
    return found


def _types(library: Library) -> dict[str, str]:
    """The CSL types by id of the works of a library: compiled already, which its bibliography is not."""
    return {name: str(work.get("type", "")) for name, work in library.bibliography.items()}


def check_scope(scope: Scope, libraries: Sequence[Path], today: date, cache: Path | None = None) -> Checked:
    """Check one library among others and keep what is wanted.

    Parameters
    ----------
    scope
        The library and the wanted paths in it; the whole library is read, so that names are compared.
    libraries
        Other libraries: their sources may be cited, their records named.
    today
        The day against which notes on law are dated.
    cache
        Directory for the compiled libraries.
    """
    others = [path for path in libraries if path.resolve() != scope.root.resolve()]
    if is_source(scope.root):  # the shipped library itself: an installed copy of it must not lend it anything
        others = []
    book = scope.root / BIBLIOGRAPHY
    own = source_types([read_file(book, BIBLIOGRAPHY)] if book.is_file() else [])
    known = load_library(others, cache=cache) if others else None
    types = own if known is None else {**_types(known), **own}
    around = {} if known is None else Summaries(known)
    files = list(walk(scope.root))
    wanted = [path for _, path in files if scope.wants(path)] if scope.wanted else []
    names = frozenset(shown(path) for path in wanted)
    poisonous = read_poisonous((*others, scope.root))
    paths = [path for _, path in files]
    asked = names if scope.wanted else frozenset(map(shown, uncommitted(scope.root, paths)))
    latest = "" if asked or not paths else shown(max(paths, key=_written))
    result = check_files(
        files,
        source_types=types,
        around=around,
        poisonous=poisonous,
        asked=asked,
        latest=latest,
        today=today,
    )
    if not types and not book.is_file():
        _without_sources(result, shown(book))
    elif scope.wanted:
        result.findings = [one for one in result.findings if one.place.file in names]
        result.records = sum(path.suffix == ".yaml" and path.name not in NOT_RECORDS for path in wanted)
    return result


def _without_sources(result: Checked, book: str) -> None:
    """Tell once that there is no bibliography, not at every footnote."""
    missing = "is not in the bibliography"
    unknown = [one for one in result.findings if one.what.endswith(missing)]
    if unknown:
        result.findings = [one for one in result.findings if not one.what.endswith(missing)]
        count = len({one.record for one in unknown if one.record})
        cite = "record cites" if count == 1 else "records cite"
        what = f"there is no bibliography, and {count} {cite} works"
        mend = "Put the file back, or add the works: coldspell species sources add FILE --into DIR"
        result.findings.insert(0, Finding(BOOK.id, BOOK.severity, what, Place(book), mend))
