"""Slips of units that are planted in the shipped records are seen, and the true records are not.

The bounds are common sense and common practice (the comments in `coldspell.check.plausible` say which); what
they let through is told here, so that nobody takes the check for more than it is.
"""

from __future__ import annotations

from unit_slips import count, records, seen

AT_LEAST = {
    "seeds in a gram for a kilogram": 85,
    "a hundred times too many": 65,
    "ten times too few": 10,
    "centimetres for millimetres of seed": 90,
    "depth in centimetres": 40,
    "depth in inches": 80,
    "depth ten times too deep": 40,
    "weeks for days": 50,
    "months for days": 95,
}
"""Per cent of planted slips that must be seen; over all records: 91, 74, 20, 97, 52, 90, 54, 64, 100."""


def test_planted_slips_are_seen_and_true_records_are_quiet() -> None:
    every = list(records())[::6]
    quiet = [values for values in every if not seen(values)]
    assert len(quiet) >= 0.97 * len(every)  # the others accept what they are told, with the reason
    for name, (planted, told) in count(quiet).items():
        assert 100 * told >= AT_LEAST[name] * planted > 0, (name, told, planted)
