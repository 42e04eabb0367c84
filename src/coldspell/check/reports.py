"""Write the result of a check: as text, JSON, annotations of a GitHub workflow, or SARIF 2.1.0."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any
from urllib.parse import quote

from coldspell import __version__
from coldspell.check.base import Check, Finding
from coldspell.check.run import Checked
from coldspell.check.table import CHECKS

_SARIF_SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"


def text(checked: Checked) -> str:
    """Return findings one by one, then a line with the counts."""
    lines: list[str] = []
    for one in checked.findings:
        lines += [f"{one.place}: {one.severity}: {one.what} [{one.check}]", f"  {one.mend}"]
    lines.append(summary(checked))
    return "\n".join(lines) + "\n"


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


def github(checked: Checked) -> str:
    """Return workflow commands, which a GitHub workflow shows beside the lines."""
    lines = [_annotation(one) for one in checked.findings]
    return "".join(line + "\n" for line in [*lines, summary(checked)])


def _annotation(one: Finding) -> str:
    properties = {"file": one.place.file, "line": one.place.line, "col": one.place.column, "title": one.check}
    given = ",".join(f"{key}={_escaped(str(value), ',:')}" for key, value in properties.items() if value)
    return f"::{one.severity} {given}::{_escaped(f'{one.what}. {one.mend}')}"


def _escaped(value: str, also: str = "") -> str:
    for character in "%\r\n" + also:
        value = value.replace(character, f"%{ord(character):02X}")
    return value


def sarif(checked: Checked) -> str:
    """Return a SARIF 2.1.0 log with one run (OASIS standard; columns count code points)."""
    order = {check.id: index for index, check in enumerate(CHECKS)}
    driver = {
        "name": "coldspell species check",
        "version": __version__,
        "rules": [_sarif_rule(check) for check in CHECKS],
    }
    run = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",
        "results": [_sarif_result(one, order[one.check]) for one in checked.findings],
    }
    document = {"$schema": _SARIF_SCHEMA, "version": "2.1.0", "runs": [run]}
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def _sarif_rule(check: Check) -> dict[str, Any]:
    return {
        "id": check.id,
        "shortDescription": {"text": check.says},
        "help": {"text": check.mend},
        "defaultConfiguration": {"level": check.severity},
    }


def _sarif_result(one: Finding, index: int) -> dict[str, Any]:
    address = quote(one.place.file)
    location: dict[str, Any] = {
        "artifactLocation": {"uri": address if address[0] != "/" else "file://" + address}
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


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


REPORTS: Mapping[str, Callable[[Checked], str]] = {
    "text": text,
    "json": as_json,
    "github": github,
    "sarif": sarif,
}
