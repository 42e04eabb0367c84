"""What the checks of rules find; docs/rules.md ends with this table."""

from __future__ import annotations

_ROWS = (
    ("gap", "a lot for which no rule of a `unique` table holds"),
    ("overlap", "a lot for which two do"),
    ("dead-row", "a rule that never holds"),
    ("unreachable-answer", "an answer without a rule that can give it"),
    ("circle", "tables that wait for each other"),
    ("never-asked", "`applies` that cannot hold"),
    ("unguaranteed", "an impossible row without `guaranteed_by`, or with one that nobody has"),
    ("reached", "an impossible row, a gap or an overlap met by a lot that was run"),
    ("undeclared-fact undeclared-value undeclared-answer", "a name that was not declared"),
    ("not-given", "a rule tests a fact that is not in `given`"),
    ("text-fact collect-fact per-fact", "a fact or answer that cannot be tested"),
    (
        "condition always never bounds number",
        "a condition that is not written as above, or holds for all or none",
    ),
    ("otherwise", "a `first` table without its last row, or with one too early"),
    (
        "unknown-field missing-field",
        "an answer with a field that is not declared for its table, or without one that is; a field"
        " of a table that is not there",
    ),
    (
        "field-word field-kind",
        "a field with a word or number that is not declared; a declaration with neither words nor bounds",
    ),
    ("contract", "a name that the program uses and the rules have not, or the other way round"),
    (
        "practice",
        "a number of practice below nothing, beyond what its unit can be, falling, or of another unit than"
        " its name says",
    ),
    ("placeholder digits-with-unit", "a text with an unknown name in braces, or a measure"),
    (
        "missing-cite cite unknown-source",
        "an empty `cite`, practice with a source, a source that is not in the bibliography",
    ),
    ("twice name reserved-name", "a name used twice, not well formed, or with a meaning of its own"),
    (
        "file shape unknown-key missing-key unknown-word fact-kind no-rules",
        "the file is not of the form above",
    ),
    ("practice-far", "a warning: a number of practice many times the shipped one, or a small part of it"),
    ("untested-fact unused-fact", "warnings: `given` or `facts.yaml` names what nothing uses"),
)
CHECKS = {one: says for ids, says in _ROWS for one in ids.split()}
"""What each check finds, by id."""


def table() -> str:
    """Return the table of docs/rules.md."""
    rows = (f"| {', '.join(f'`{one}`' for one in ids.split())} | {says} |" for ids, says in _ROWS)
    return "\n".join(["| id | what is wrong |", "|---|---|", *rows]) + "\n"
