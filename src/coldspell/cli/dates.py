"""``coldspell count dates``: steps on the calendar, back from a sowing date or forward from a start."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from coldspell.arithmetic.calendar import Infeasible, Plan, plan_back, plan_forward
from coldspell.arithmetic.lengths import StepDays
from coldspell.cli import output
from coldspell.cli.output import Form
from coldspell.cli.today import the_day
from coldspell.errors import ColdspellError
from coldspell.typed import read_day

_STEP = "a name, = and days, as cold_moist=90-120 or cold_moist=120-189:sprouted"
_BINDS = {
    "today": "too little time is left from today",
    "collected": "too little time is left after gathering",
    "wait_before": "the seed cannot wait so long before the treatment",
}


def command(
    step: Annotated[list[str], typer.Option(help="in order, as cold_moist=90-120; may be given again")],
    sow: Annotated[str | None, typer.Option(help="day of sowing: when to start?")] = None,
    start: Annotated[str | None, typer.Option(help="day of the start: when ready?")] = None,
    today: Annotated[str | None, typer.Option(help="nothing starts before")] = None,
    collected: Annotated[str | None, typer.Option(help="day of gathering")] = None,
    hold: Annotated[float | None, typer.Option(help="days treated seed may wait")] = None,
    shortened: Annotated[bool, typer.Option("--shortened", help="use low ends where needed")] = False,
    form: Annotated[Form, typer.Option("--format", help="text or json")] = Form.text,
) -> None:
    """When to start for a sowing date, or when seed started on a day is ready."""
    if (sow is None) == (start is None):
        raise ColdspellError(
            "say either --sow or --start", mend="as --sow 2027-04-15 --step cold_moist=90-120"
        )
    steps = [_step(text) for text in step]
    if start is not None:
        found: Plan | Infeasible = plan_forward(read_day("--start", start), steps, hold_days=hold)
    else:
        found = plan_back(
            read_day("--sow", sow or ""),
            steps,
            None if today is None else the_day(today),
            None if collected is None else read_day("--collected", collected),
            hold,
            shortened=shortened,
        )
    if isinstance(found, Plan):
        values: dict[str, Any] = {"plan": found, "infeasible": None}
        output.answer(form, "count-dates", values, _plan_rows(found), _plan_notes(found))
    else:
        values = {"plan": None, "infeasible": found}
        output.answer(form, "count-dates", values, _infeasible_rows(found))


def _plan_rows(plan: Plan) -> list[output.Row]:
    rows = []
    for each in plan.steps:
        until = f", until {each.until}" if each.until != "ready" else ""
        rows.append((each.name, f"{each.start} to {each.end}, {each.days} days{until}"))
    ready = str(plan.ready)
    if plan.ready_earliest != plan.ready_latest:
        ready = f"{plan.ready_earliest} to {plan.ready_latest}, as the seed decides"
    rows.append(("ready", ready))
    rows.append(("sow", str(plan.target)))
    rows.append(("may start", f"{plan.window_first} to {plan.window_last}, {plan.slack_days} days to spare"))
    rows.append(("may be kept", f"until {plan.hold_until}; the first sprouts end it sooner"))
    return rows


def _plan_notes(plan: Plan) -> list[str]:
    return ["Some steps are shorter than planned: the low ends are used."] if plan.shortened else []


def _infeasible_rows(found: Infeasible) -> list[output.Row]:
    low = "that fits" if found.days_short_low == 0 else f"still {found.days_short_low} days short"
    rows = [
        ("no schedule", f"{_BINDS[found.constraint]}: {found.days_short} days short"),
        ("needed", f"{found.needed_days} days; {found.available_days} are left from {found.first_day}"),
        ("with low ends", f"{found.needed_days_low} days: {low}"),
        ("sow instead", f"{found.sow_date}, or {found.sow_date_low} with low ends"),
    ]
    if found.next_target is not None:
        rows.append(("or next year", f"{found.next_target}, waiting {found.next_wait_days} days first"))
    return rows


def _step(text: str) -> StepDays:
    name, equals, rest = text.partition("=")
    length, _, until = rest.partition(":")
    try:
        days = [float(part) for part in length.split("-")]
    except ValueError:
        days = []
    if not (equals and name.strip() and len(days) in (1, 2, 3)):
        raise ColdspellError(f"--step: {text[:40]!r} is not like cold_moist=90-120", mend=f"give {_STEP}")
    usual = days[1] if len(days) == 3 else None
    return StepDays(name.strip(), days[0], days[-1], usual, until or "ready")
