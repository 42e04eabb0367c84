"""How the rule commands write: lists, tables, findings."""

from __future__ import annotations

import io
import json
import textwrap
from collections.abc import Sequence

from coldspell.cli import output
from coldspell.errors import ColdspellError
from coldspell.near import did_you_mean
from coldspell.rules import Decision, Finding, Rule, RuleBook
from coldspell.rules.audit import Report
from coldspell.rules.checks import CHECKS
from coldspell.rules.model import Answer, Cite
from coldspell.rules.table import Table as Plain
from coldspell.rules.table import as_table, when_words

_GAP = 2
_MOST_COLUMNS = 6  # facts with a column of their own; with more, conditions share one


def listing(book: RuleBook) -> str:
    """One line for each decision."""
    wide = max((len(name) for name in book.decisions), default=0) + 2
    lines = [f"{d.name:<{wide}}{d.asks}" for d in book.decisions.values()]
    rules = sum(len(d.rules) for d in book.decisions.values())
    return "\n".join([*lines, "", f"{len(lines)} decisions, {rules} rules, {len(book.facts)} facts", ""])


def decision(table: Decision, width: int) -> str:
    """A decision as a table, with its answers below."""
    from rich import box
    from rich.console import Console
    from rich.table import Table

    shown = as_table(table)
    if len(shown.head) - 2 > _MOST_COLUMNS or sum(map(_longest_word, _columns(shown))) > width:
        shown = as_table(table, one_column=True)
    grid = Table(box=box.SIMPLE_HEAD, show_lines=False, pad_edge=False)
    for heading, column in zip(shown.head, _columns(shown), strict=True):
        grid.add_column(heading, overflow="fold", min_width=_longest_word(column) - _GAP)
    for line in shown.lines:
        grid.add_row(*line)
    out = io.StringIO()
    console = Console(file=out, width=width, color_system=None, markup=False, highlight=False, emoji=False)
    console.print(f"{table.name}: {table.asks}")
    console.print(_POLICY[table.policy])
    if table.applies:
        console.print("Asked only where " + "; ".join(f"{c.fact} is {c.words}" for c in table.applies) + ".")
    console.print(grid)
    for name, answer in table.answers.items():
        text = f"{name}: {answer.says}{_fields(answer)}"
        console.print(textwrap.fill(text, width, subsequent_indent="    "), soft_wrap=True)
    return "\n".join(line.rstrip() for line in out.getvalue().split("\n"))


def _columns(table: Plain) -> list[tuple[str, ...]]:
    return list(zip(table.head, *table.lines, strict=True))


def _longest_word(column: tuple[str, ...]) -> int:
    """The least width of a column that cuts no word, with the gap beside it."""
    return _GAP + max(len(word) for cell in column for word in cell.split())


_POLICY = {
    "unique": "Exactly one rule holds for every lot.",
    "first": "The first rule that holds answers.",
    "collect": "Every rule that holds adds its answer.",
}


def rule(table: Decision, row: Rule) -> str:
    """One rule with its reason, sources and place."""
    lines = [
        f"{table.name}: {row.name}",
        f"  when     {when_words(row)}",
        f"  answer   {row.answer}"
        + (f": {_answer(table.answers[row.answer])}" if row.answer in table.answers else ""),
        *([f"  text     {row.text}"] if row.text else []),
        f"  because  {row.because}",
        *([f"  guaranteed by  {', '.join(row.guaranteed_by)}"] if row.guaranteed_by else []),
        f"  cite     {'; '.join(map(_cite, row.cites))}",
        f"  at       {row.place}",
        "",
    ]
    return "\n".join(lines)


def _answer(answer: Answer) -> str:
    return answer.says + _fields(answer)


def _fields(answer: Answer) -> str:
    return f" [{', '.join(f'{k}: {v}' for k, v in answer.fields.items())}]" if answer.fields else ""


def _cite(cite: Cite) -> str:
    if cite.source is None:
        return "common practice"
    return f"{cite.source}{f', {cite.at}' if cite.at else ''} [{cite.basis}]"


def check_ids() -> list[str]:
    """The checks of rules by their ids."""
    return [*CHECKS]


def explained(name: str) -> str:
    """What a check finds.

    Raises
    ------
    ColdspellError
        There is no such check.
    """
    if name not in CHECKS:
        raise ColdspellError(f"no check of rules is named '{name}'", mend=did_you_mean(name, CHECKS))
    return output.text([("check", name), ("finds", CHECKS[name])])


def written(form: str, findings: Sequence[Finding], report: Report | None) -> str:
    """The result of a check in the form asked for: text, json, github, sarif or junit."""
    if form in ("text", "json"):
        return (check_json if form == "json" else check_text)(findings, report)
    from coldspell.check import reports
    from coldspell.check.base import Finding as Written

    alike = [
        Written(f.check, "error" if f.severity == "error" else "warning", f.message, f.where, f.mend)
        for f in findings
    ]
    last = check_text(findings, report).rstrip().rpartition("\n")[2]
    return reports.FORMS[form](reports.Report("coldspell rules check", CHECKS, alike, last))


def check_text(findings: Sequence[Finding], report: Report | None) -> str:
    """Findings as lines for people and editors, then what was proved."""
    errors = sum(f.severity == "error" for f in findings)
    lines = [_finding(one) for one in findings]
    if report:
        rules = sum(proof.rules for proof in report.proofs)
        cells = sum(proof.cells for proof in report.proofs)
        counts = [_count(len(report.proofs), "decision"), _count(rules, "rule")]
        lines.append(f"{', '.join(counts)}, {_count(cells, 'combination')} of labels settled")
        if report.lots:
            lines.append(f"asked of {_count(report.lots, 'lot')}")
    verdict = _count(errors, "fault") if errors else "no faults"
    warned = len(findings) - errors
    return "\n".join([*lines, verdict + (f", {_count(warned, 'warning')}" if warned else ""), ""])


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"


def _finding(one: Finding) -> str:
    """A finding in its own lines; what a rule file holds begins none."""
    from coldspell.check.reports import in_line

    said = f"{one.where}: {one.severity}: {in_line(one.message)} [{one.check}]"
    return f"{said}\n  {in_line(one.mend)}" if one.mend else said


def check_json(findings: Sequence[Finding], report: Report | None) -> str:
    """The same as JSON; `proofs` is empty where mistakes of form kept the audit from running."""
    document = {
        "schema": "coldspell/rules-check/1",
        "ok": not any(f.severity == "error" for f in findings),
        "findings": [
            {
                "file": f.where.file,
                "line": f.where.line,
                "column": f.where.column,
                "check": f.check,
                "severity": f.severity,
                "message": f.message,
                "mend": f.mend,
            }
            for f in findings
        ],
        "proofs": [
            {"decision": p.decision, "policy": p.policy, "facts": p.facts, "rules": p.rules, "cells": p.cells}
            for p in (report.proofs if report else ())
        ],
    }
    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"
