"""The files that were asked for, by suffix: opened together, and put in place together at the end."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol

from msgspec import Struct

from coldspell.errors import ColdspellError, Place
from coldspell.season.files.flat import CsvFile, JsonLinesFile, RejectFile
from coldspell.season.files.whole import WholeFile
from coldspell.season.lot_plan import LotPlan
from coldspell.season.phrases import Season
from coldspell.season.print.sheet import LabelSheet
from coldspell.tables.rows import Refused
from coldspell.texts import Texts


class Output(Protocol):
    """A file that plans go into one by one."""

    file: WholeFile

    def add(self, lot: LotPlan) -> None:
        """One more plan."""

    def finish(self, season: Season) -> None:
        """What comes last, when all rows are through."""


class Told(Struct, frozen=True):
    """What files are made with beside the plans."""

    texts: Texts
    today_iso: str
    carried: tuple[str, ...] | None
    alarms: bool = False
    labels: LabelSheet = LabelSheet()
    pots: LabelSheet = LabelSheet("pot", (120.0, 20.0))
    capacity: float | None = None


def _csv(path: Path, told: Told) -> Output:
    return CsvFile(path, told.carried)


def _json_lines(path: Path, told: Told) -> Output:
    return JsonLinesFile(path)


def _parquet(path: Path, told: Told) -> Output:
    from coldspell.season.files.arrow import ParquetFile

    return ParquetFile(path)


def _ics(path: Path, told: Told) -> Output:
    from datetime import date

    from coldspell.season.files.ics import Calendar, IcsFile

    return IcsFile(path, Calendar(told.texts, date.fromisoformat(told.today_iso), alarms=told.alarms))


def _pdf(path: Path, told: Told) -> Output:
    from datetime import date

    from coldspell.season.print.labels import LabelFile

    name = "".join(filter(str.isalpha, path.stem.lower()))
    if not name.endswith("labels"):
        return _sheet(path, told)
    sheet = told.pots if name.endswith("potlabels") else told.labels
    return LabelFile(path, told.texts, date.fromisoformat(told.today_iso), sheet)


def _drawn(path: Path, told: Told) -> Output:
    from datetime import date

    from coldspell.season.files.drawn import DrawnFile

    return DrawnFile(path, told.texts, date.fromisoformat(told.today_iso), told.capacity)


def _sheet(path: Path, told: Told) -> Output:
    from coldspell.season.print.files import SheetFile

    return SheetFile(path, told.texts)


WRITERS: dict[str, Callable[[Path, Told], Output]] = {
    ".csv": _csv,
    ".jsonl": _json_lines,
    ".parquet": _parquet,
    ".ics": _ics,
    ".pdf": _pdf,
    ".html": _sheet,
    ".svg": _drawn,
    ".png": _drawn,
}


def check_outputs(paths: Sequence[Path], source: str) -> None:
    """Refuse a suffix that nothing is known of, and a file that would be written twice or over the table.

    Raises
    ------
    ColdspellError
        With the file, and what to type.
    """
    seen = {Path(source).resolve()} if source != "-" else set()
    for path in paths:
        if path.suffix.lower() not in WRITERS:
            raise ColdspellError(
                f"no file of a season ends with {path.suffix or 'nothing'}",
                Place(str(path)),
                f"one of: {', '.join(WRITERS)}",
            )
        if path.resolve() in seen:
            raise ColdspellError(
                "it is the table itself or named twice", Place(str(path)), "give it another name"
            )
        seen.add(path.resolve())


class Outputs:
    """All files of one run; use it in a ``with``: what fails leaves none of them behind."""

    def __init__(
        self, paths: Sequence[Path], rejects: Path | None, headings: Sequence[str] | None, told: Told
    ) -> None:
        self._files: list[Output] = []
        self._rejects = RejectFile(rejects, headings) if rejects is not None else None
        try:
            for path in paths:
                self._files.append(WRITERS[path.suffix.lower()](path, told))
        except BaseException:
            self.discard()
            raise

    def __enter__(self) -> Outputs:
        return self

    def __exit__(self, kind: object, *_: object) -> None:
        if kind is not None:
            self.discard()

    def add(self, found: LotPlan | Refused) -> None:
        """One more row, planned or refused."""
        if isinstance(found, Refused):
            if self._rejects is not None:
                self._rejects.add(found)
            return
        for each in self._files:
            each.add(found)

    @property
    def rejected(self) -> Path | None:
        """Where refused rows go, if there are any."""
        return self._rejects.path if self._rejects is not None and self._rejects.file is not None else None

    def commit(self, season: Season) -> list[Path]:
        """Put every file in its place; their paths."""
        for each in self._files:
            each.finish(season)
        files = [each.file for each in self._files]
        if self._rejects is not None and self._rejects.file is not None:
            files.append(self._rejects.file)
        for file in files:
            file.commit()
        return [file.path for file in files]

    def discard(self) -> None:
        """Leave nothing behind."""
        for each in self._files:
            each.file.discard()
        if self._rejects is not None and self._rejects.file is not None:
            self._rejects.file.discard()
