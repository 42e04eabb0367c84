"""Write the result of a check: as text, JSON, annotations of a GitHub workflow, SARIF 2.1.0 or JUnit."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from typing import Any, NamedTuple
from urllib.parse import quote
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from coldspell import __version__
from coldspell.check.base import Finding
from coldspell.check.run import Checked
from coldspell.check.table import CHECKS
from coldspell.errors import Place

_SARIF_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
_NOT_XML = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


class Report(NamedTuple):
    """What a check found, ready for any form: of records, or of rules."""

    tool: str
    checks: Mapping[str, str]
    """What each check finds, by id."""
    findings: Sequence[Finding]
    summary: str


def report(checked: Checked) -> Report:
    """Return what was found in records."""
    says = {check.id: check.says for check in CHECKS}
    return Report("coldspell species check", says, checked.findings, summary(checked))


def text(checked: Checked) -> str:
    """Return findings one by one, then a line with the counts."""
    lines: list[str] = []
    for one in checked.findings:
        lines += [f"{one.place}: {one.severity}: {in_line(one.what)} [{one.check}]", f"  {in_line(one.mend)}"]
    lines.append(summary(checked))
    return "\n".join(lines) + "\n"


def in_line(text: str) -> str:
    """The text in one line: what a file holds must not begin a line that a log reader obeys."""
    return text.replace("\r", "\\r").replace("\n", "\\n")


def summary(checked: Checked) -> str:
    """Return the counts in one line."""
    return (
        f"{_count(checked.records, 'record')} checked: {_count(checked.errors, 'error')}, "
        f"{_count(checked.warnings, 'warning')}"
    )


def as_json(checked: Checked) -> str:
    """Return a JSON object with the counts and the findings."""
    document = {
        "schema": "coldspell/species-check/1",
        "tool": __version__,
        "records": checked.records,
        "errors": checked.errors,
        "warnings": checked.warnings,
        "findings": [
            {
                "check": one.check,
                "severity": one.severity,
                "record": one.record or None,
                "file": one.place.file,
                "line": one.place.line or None,
                "column": one.place.column or None,
                "what": one.what,
                "mend": one.mend,
            }
            for one in checked.findings
        ],
    }
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def github(found: Report) -> str:
    """Return workflow commands, which a GitHub workflow shows beside the lines."""
    lines = [_annotation(one) for one in found.findings]
    return "".join(line + "\n" for line in [*lines, found.summary])


def _annotation(one: Finding) -> str:
    properties = {"file": one.place.file, "line": one.place.line, "col": one.place.column, "title": one.check}
    given = ",".join(f"{key}={_escaped(str(value), ',:')}" for key, value in properties.items() if value)
    return f"::{one.severity} {given}::{_escaped(f'{one.what}. {one.mend}')}"


def _escaped(value: str, also: str = "") -> str:
    for character in "%\r\n" + also:
        value = value.replace(character, f"%{ord(character):02X}")
    return value


def sarif(found: Report) -> str:
    """Return a SARIF 2.1.0 log with one run (OASIS standard; columns count code points)."""
    order = {check: index for index, check in enumerate(found.checks)}
    driver = {
        "name": found.tool,
        "version": __version__,
        "rules": [{"id": check, "shortDescription": {"text": says}} for check, says in found.checks.items()],
    }
    run = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",
        "results": [_sarif_result(one, order.get(one.check, -1)) for one in found.findings],
    }
    document = {"$schema": _SARIF_SCHEMA, "version": "2.1.0", "runs": [run]}
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def _sarif_result(one: Finding, index: int) -> dict[str, Any]:
    address = quote(one.place.file, errors="surrogateescape")
    location: dict[str, Any] = {
        "artifactLocation": {"uri": address if address[:1] != "/" else "file://" + address}
    }
    if one.place.line:
        location["region"] = {"startLine": one.place.line, "startColumn": max(one.place.column, 1)}
    return {
        "ruleId": one.check,
        "ruleIndex": index,
        "level": one.severity,
        "message": {"text": f"{one.what}. {one.mend}"},
        "locations": [{"physicalLocation": location}],
    }


def junit(found: Report) -> str:
    """Return a JUnit report: a failed test for each error, one with output for each warning, the rest."""
    errors = [one for one in found.findings if one.severity == "error"]
    warnings = [one for one in found.findings if one.severity != "error"]
    quiet = [check for check in found.checks if check not in {one.check for one in found.findings}]
    count = str(len(found.findings) + len(quiet))
    numbers = {"name": found.tool, "tests": count, "failures": str(len(errors)), "errors": "0"}
    root = Element("testsuites", numbers)
    suite = SubElement(root, "testsuite", numbers | {"skipped": "0"})
    for one in errors:
        failure = SubElement(_case(suite, one.check, one.place), "failure", type=one.check)
        failure.set("message", _in_xml(one.what))
        failure.text = _in_xml(f"{one.place}: {one.what}\n{one.mend}")
    for one in warnings:
        SubElement(_case(suite, one.check, one.place), "system-out").text = _in_xml(
            f"{one.place}: {one.severity}: {one.what}\n{one.mend}"
        )
    for check in quiet:
        _case(suite, check, Place(found.tool))
    indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(root, "unicode") + "\n"


def _case(suite: Element, check: str, place: Place) -> Element:
    where = f" {place.line}:{place.column}" if place.line else ""
    return SubElement(suite, "testcase", classname=_in_xml(place.file), name=check + where)


def _in_xml(text: str) -> str:
    """The text without what XML 1.0 has no place for; it is spelled out as in JSON."""
    return _NOT_XML.sub(lambda found: f"\\u{ord(found[0]):04x}", text)


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


FORMS: Mapping[str, Callable[[Report], str]] = {"github": github, "sarif": sarif, "junit": junit}
"""What is written alike for records and rules."""


def _of_records(write: Callable[[Report], str], checked: Checked) -> str:
    return write(report(checked))


REPORTS: Mapping[str, Callable[[Checked], str]] = {
    "text": text,
    "json": as_json,
    **{name: partial(_of_records, write) for name, write in FORMS.items()},
}
