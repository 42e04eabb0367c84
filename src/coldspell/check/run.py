"""Check library files: read each, check it by the schema and the table, then the library as a whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from coldspell.check import table
from coldspell.check.base import (
    Check,
    Fault,
    Finding,
    Known,
    RecordFile,
    Summary,
    Surroundings,
    footnotes,
)
from coldspell.check.limits import limits
from coldspell.errors import ColdspellError, Place
from coldspell.library.files import BESIDE, BIBLIOGRAPHY, POISONOUS, WORDS, LibraryFile, read_file
from coldspell.library.schema import Violation, shipped_check
from coldspell.records.poisonous import Poisonous
from coldspell.yaml import document

_SCHEMAS = {BIBLIOGRAPHY: "csl-data", WORDS: "common-words", BESIDE: "beside-names", POISONOUS: "poisonous"}
Entry = tuple[str, Path]


@dataclass(slots=True)
class Checked:
    """The result of a check: what was found, and how many records were looked at."""

    findings: list[Finding] = field(default_factory=list)
    records: int = 0

    @property
    def errors(self) -> int:
        """The number of errors."""
        return sum(finding.severity == "error" for finding in self.findings)

    @property
    def warnings(self) -> int:
        """The number of warnings that nobody accepted."""
        return len(self.findings) - self.errors


def check_files(
    files: Iterable[Entry],
    *,
    source_types: Mapping[str, str],
    around: Mapping[str, Summary] | None = None,
    poisonous: Mapping[str, Poisonous] | None = None,
    asked: frozenset[str] = frozenset(),
    latest: str = "",
    today: date,
) -> Checked:
    """Check files of a library, one after the other, then all of them together.

    Parameters
    ----------
    files
        (path relative to the library, path) of each file.
    source_types
        CSL types by source id: what the records may cite.
    around
        Records of other libraries, which the checked ones may name but are not checked themselves.
    poisonous
        Plants for which a record must name a hazard.
    asked
        Files whose faults are wanted, else those changed: what two records have between them is told there.
    latest
        The file that was written last, where nobody knows what was changed: it decides between two.
    today
        The day against which notes on law are dated.
    """
    result = Checked()
    surroundings = Surroundings(source_types, today)
    summaries: dict[str, list[Summary]] = {}
    settled: dict[str, set[str]] = {}
    for relative, path in files:
        record = _check_file(relative, path, surroundings, result, settled)
        if record:
            summaries.setdefault(record.name, []).append(record)
    paths = {summary.file for each in summaries.values() for summary in each}
    if paths:
        _check_whole(Known(summaries, around or {}, poisonous or {}, asked, latest), result, settled)
    _check_accepted(summaries, settled, result)
    result.findings.sort(key=lambda one: (one.place.file, one.place.line, one.place.column, one.check))
    return result


def _check_file(
    relative: str, path: Path, around: Surroundings, result: Checked, settled: dict[str, set[str]]
) -> Summary | None:
    try:
        file = read_file(path, relative)
        root = document.parse(document.decode(file.data, file.shown), file.shown)
    except ColdspellError as error:
        result.findings.append(_unreadable(error))
        return None
    kind = _SCHEMAS.get(relative, "record")
    report: list[Violation] = []
    shipped_check(kind)(root, report)
    name = _name_of(root)
    check = table.BIBLIOGRAPHY if kind == "csl-data" else table.SCHEMA
    for violation in report:
        place = document.place(violation.node, file.shown)
        result.findings.append(_finding(check, place, violation.what, violation.mend, name))
    if kind != "record":
        if not report and kind == "csl-data":
            result.findings += bibliography_faults(root, file, around.today)
        elif not report and kind == "poisonous":
            result.findings += poisonous_faults(root, file, around)
        return None
    result.records += 1
    if report:
        return None
    record = RecordFile(file.shown, path.stem, root, document.plain(root))
    _check_record(record, around, result, settled)
    return record.summary()


def _check_record(
    record: RecordFile, around: Surroundings, result: Checked, settled: dict[str, set[str]]
) -> None:
    accepted = record.values.get("accept", {})
    for check in table.RECORD_CHECKS:
        assert check.record is not None
        for fault in check.record(record, around):
            if check.severity == "warning" and check.id in accepted:
                settled.setdefault(record.file, set()).add(check.id)
            else:
                result.findings.append(_at(check, record, fault))
    for name in accepted:
        if name not in table.ACCEPTABLE:
            what = f"'{name}' is not a warning that can be accepted"
            fault = Fault(("accept", name), what, f"These can: {', '.join(sorted(table.ACCEPTABLE))}.")
            result.findings.append(_at(table.UNKNOWN_ACCEPT, record, fault))


def _check_whole(known: Known, result: Checked, settled: dict[str, set[str]]) -> None:
    for check in table.LIBRARY_CHECKS:
        assert check.library is not None
        for summary, fault in check.library(known):
            other = fault.other
            both = [(summary, other.name), (other, summary.name)] if other else [(summary, "")]
            warning = check.severity == "warning"
            accepting = [one for one, named in both if warning and one.accepts(check.id, named)]
            for one in accepting:
                settled.setdefault(one.file, set()).add(check.id)
            if not accepting:
                result.findings.append(
                    _finding(check, summary.place(fault.path), fault.what, fault.mend, summary.name)
                )


def _check_accepted(
    summaries: dict[str, list[Summary]], settled: dict[str, set[str]], result: Checked
) -> None:
    for each in summaries.values():
        for summary in each:
            for name in sorted((summary.accept.keys() & table.ACCEPTABLE) - settled.get(summary.file, set())):
                what = f"the record accepts '{name}', but does not give that warning"
                where = summary.place(("accept", name))
                finding = _finding(table.NEEDLESS_ACCEPT, where, what, "Take the line out.", summary.name)
                result.findings.append(finding)


def bibliography_faults(root: document.Node, file: LibraryFile, today: date) -> Iterator[Finding]:
    """Find ids that stand twice or out of order, and years that cannot be; the form is valid."""
    assert isinstance(root, document.Sequence)
    seen: set[str] = set()
    last = ""
    for item in root.items:
        assert isinstance(item, document.Mapping)
        node = item.items["id"]
        assert isinstance(node, document.Scalar)
        own = str(node.value)
        where = document.place(node, file.shown)
        if own in seen:
            yield _finding(table.BIBLIOGRAPHY, where, f"the id '{own}' stands twice", "Keep one.")
        elif own < last:
            what = f"'{own}' stands after '{last}'"
            yield _finding(table.BIBLIOGRAPHY, where, what, "Sort the sources by id.")
        seen.add(own)
        last = max(last, own)
        year = _year(document.plain(item))
        if year is not None and not limits().work_years_from <= year <= today.year + 1:
            what = f"'{own}' is said to be of the year {year}"
            yield _finding(table.BIBLIOGRAPHY, where, what, "Correct 'issued' by the work itself.")


def _year(work: Any) -> int | None:
    """The year in which a work appeared, where its parts are given."""
    parts = (work.get("issued") or {}).get("date-parts") or [[]]
    try:
        return int(parts[0][0])
    except (IndexError, TypeError, ValueError):
        return None


def poisonous_faults(root: document.Node, file: LibraryFile, around: Surroundings) -> Iterator[Finding]:
    """Find entries of ``poisonous.yaml`` that name no plant or two, one twice, or an unknown source."""
    assert isinstance(root, document.Sequence)
    seen: set[str] = set()
    for item in root.items:
        entry, where = document.plain(item), document.place(item, file.shown)
        names = [entry[key] for key in ("genus", "species") if key in entry]
        if len(names) != 1:
            yield _finding(table.POISONOUS, where, "an entry names one plant", "Give 'genus:' or 'species:'.")
        elif names[0] in seen:
            yield _finding(table.POISONOUS, where, f"'{names[0]}' stands twice", "Keep one.")
        seen.update(names)
        for source in footnotes(entry["cite"]):
            if source != "practice" and source not in around.source_types:
                what = f"the source '{source}' is not in the bibliography"
                yield _finding(table.POISONOUS, where, what, "Add it, correct its id, or write 'practice'.")


def source_types(files: Sequence[LibraryFile]) -> dict[str, str]:
    """Return the CSL types by id of the bibliographies among library files; faults are left to the check."""
    types: dict[str, str] = {}
    for file in files:
        if file.relative != BIBLIOGRAPHY:
            continue
        try:
            root = document.plain(document.parse(document.decode(file.data, file.shown), file.shown))
        except ColdspellError:
            continue
        for item in root if isinstance(root, list) else ():
            if isinstance(item, dict) and isinstance(item.get("id"), str):
                types[item["id"]] = str(item.get("type", ""))
    return types


def _unreadable(error: ColdspellError) -> Finding:
    place = error.where if isinstance(error.where, Place) else Place(str(error.where or ""))
    return _finding(table.UNREADABLE, place, error.what, error.mend)


def _at(check: Check, record: RecordFile, fault: Fault) -> Finding:
    return _finding(check, record.place(fault.path), fault.what, fault.mend, record.name)


def _finding(check: Check, place: Place, what: str, mend: str, record: str = "") -> Finding:
    return Finding(check.id, check.severity, what, place, mend, record)


def _name_of(root: document.Node) -> str:
    name: Any = root.items.get("name") if isinstance(root, document.Mapping) else None
    return str(name.value) if isinstance(name, document.Scalar) else ""
