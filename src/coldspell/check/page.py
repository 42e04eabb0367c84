"""The list of checks, docs/checks.md, made from their table."""

from __future__ import annotations

from collections.abc import Iterator

from coldspell.check import table
from coldspell.check.base import Check
from coldspell.check.limits import limits

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
    parts += ["", *_limits()]
    return "\n".join(parts) + "\n"


_LIMITS = """\
## Limits of plausibility

Of `beyond-plausible` and `range-too-wide`, from `src/coldspell/check/limits.yaml`, where the limits of the
other checks stand, too. *Wide*: how many times the low end the high end of a range may be; *span*: how far
they may be apart."""


def _limits() -> Iterator[str]:
    yield from (_LIMITS, "", "| field | least | most | wide | span | because |", "|---|---|---|---|---|---|")
    for one in limits().fields:
        numbers = ("" if n is None else f"{n:g}" for n in (one.least, one.most, one.wide, one.span))
        steps = f" of {', '.join(one.do)}" if one.do else ""
        yield f"| `{one.field}`{steps} | {' | '.join(numbers)} | {one.because} |"


def _rows(checks: tuple[Check, ...]) -> Iterator[str]:
    for check in checks:
        cells = (f"`{check.id}`", check.severity, check.says, check.mend)
        yield "| " + " | ".join(cell.replace("|", "\\|").replace("``", "`") for cell in cells) + " |"
