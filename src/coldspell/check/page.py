"""The list of checks, docs/checks.md, made from their table."""

from __future__ import annotations

from collections.abc import Iterator

from coldspell.check import table
from coldspell.check.base import Check

_HEAD = """\
# Checks of species records

<!-- Written by python -m coldspell.cli.publish; a test fails when this page is stale. -->

`coldspell species check` runs these on every record. An **error** makes it exit with 1. A **warning** does
not (unless `--strict`); a record settles one by accepting it with the reason:

```yaml
accept: {cold-outside-usual-range: "chilling at −2 °C is the published treatment"}
```

An acceptance that the record does not need is an error itself. Each check has a case of what it finds under
`tests/records/bad/`.
"""


def page() -> str:
    """Return the page."""
    parts = [_HEAD]
    for title, checks in (
        ("Reading and form", table.READING),
        ("Each record", table.RECORD_CHECKS),
        ("The library as a whole", table.LIBRARY_CHECKS),
    ):
        parts += ["", f"## {title}", "", "| id | severity | finds | mend |", "|---|---|---|---|"]
        parts += list(_rows(checks))
    return "\n".join(parts) + "\n"


def _rows(checks: tuple[Check, ...]) -> Iterator[str]:
    for check in checks:
        cells = (f"`{check.id}`", check.severity, check.says, check.mend)
        yield "| " + " | ".join(cell.replace("|", "\\|").replace("``", "`") for cell in cells) + " |"
