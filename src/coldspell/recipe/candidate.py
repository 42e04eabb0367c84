"""What a treatment of a record amounts to for one lot: its shape, its days, whether its conditions hold."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from msgspec import Struct

from coldspell.arithmetic.calendar import StepDays, credit_days
from coldspell.errors import InternalFault
from coldspell.library.model import Condition, Quantity, Record, Step, Treatment
from coldspell.recipe.lot import Lot

MOIST = ("warm_moist", "cool_moist", "cold_moist", "alternate")
TIMED = (*MOIST, "soak", "leach", "ferment", "after_ripen", "dry_back", "hold")
SCARIFY = ("scarify_mechanical", "scarify_hot_water", "scarify_acid", "crack_shell")
HEAT = ("heat_bath", "dry_heat", "smoke")
_CLASSES = {"warm_moist": "warm", "cold_moist": "cold", "cool_moist": "cold", "alternate": "alternate"}
_TREAT_COLD = ("cold_moist", "cool_moist")


class Candidate(Struct, frozen=True):
    """A treatment with what was measured of it. Days are planned ones, less what the lot has had."""

    treatment: Treatment
    record: Record | None
    fits_lot: bool
    shape: str
    usable: bool
    professional_step: str
    outdoors: bool
    cold_need: str
    ends: str
    timed: tuple[StepDays, ...]
    moist_days: float | None
    cold_days: float | None
    already_cold: str


def measure_candidate(treatment: Treatment, record: Record | None, lot: Lot) -> Candidate:
    """Measure one treatment of a record for a lot."""
    steps = treatment.steps
    moist = [s for s in steps if s.do in MOIST]
    cold = [s for s in steps if s.do in _TREAT_COLD]
    timed = tuple(_step_days(s) for s in steps if s.do in TIMED and _length(s) is not None)
    timed = credit_days(timed, "cold_moist", lot.cold_days_done)
    timed = credit_days(timed, "warm_moist", lot.warm_days_done)
    complete = all(s.days is not None for s in moist)
    return Candidate(
        treatment=treatment,
        record=record,
        fits_lot=all(holds(c, said(lot, fact)) for fact, c in treatment.when.items()),
        shape=shape_of(steps),
        usable=complete,
        professional_step=_professional(steps),
        outdoors=any(s.outdoors for s in moist),
        cold_need=_cold_need(cold),
        ends=moist[-1].until if moist else "ready",
        timed=timed,
        moist_days=_planned(timed, MOIST) if complete else None,
        cold_days=_planned(timed, _TREAT_COLD) if complete else None,
        already_cold=_already_cold(cold, lot),
    )


def said(lot: Lot, fact: str) -> str | float:
    """What a lot says of a fact that a treatment's ``when`` asks for."""
    if fact == "rooted":
        return "yes" if lot.rooted else "no"
    value = getattr(lot, fact, None)
    if isinstance(value, str | int | float):
        return value
    raise InternalFault(f"a treatment asks for the fact {fact!r}, which no lot has")


def holds(condition: Condition, value: str | float) -> bool:
    """Whether a condition of a treatment holds: a value, a list, ``not x``, ``up to n``, ``over n``.

    >>> holds("over 2", 3.0), holds("not kernel", "intact"), holds(["intact", "cracked"], "kernel")
    (True, True, False)
    """
    if isinstance(condition, list):
        return any(holds(c, value) for c in condition)
    if isinstance(condition, str):
        limit = re.fullmatch(r"(up to|over) (-?\d+(?:\.\d+)?)", condition)
        if limit and isinstance(value, int | float):
            return value <= float(limit[2]) if limit[1] == "up to" else value > float(limit[2])
        if condition.startswith("not "):
            return not holds(condition.removeprefix("not "), value)
    return condition == value


def shape_of(steps: Sequence[Step]) -> str:
    """The treatment in one word of the fact ``shape``.

    >>> shape_of([Step("soak"), Step("warm_moist"), Step("cold_moist")])
    'warm_then_cold'
    """
    moist = [_CLASSES[s.do] for s in steps if s.do in MOIST]
    runs = [m for i, m in enumerate(moist) if i == 0 or m != moist[i - 1]]
    does = [s.do for s in steps]
    opened = any(d in SCARIFY for d in does)
    heated = any(d in HEAT for d in does)
    if opened or heated:
        if "cold" in runs:
            return "scarify_then_cold"
        if runs:
            return "scarify_then_warm"
        return "scarify" if opened else "heat"
    shapes = {
        (): "",
        ("cold",): "cold",
        ("warm",): "warm",
        ("warm", "cold"): "warm_then_cold",
        ("cold", "warm"): "cold_then_warm",
        ("alternate",): "alternate",
    }
    shape = shapes.get(tuple(runs), "repeated")
    if shape:
        return shape
    if "after_ripen" in does:
        return "after_ripen"
    if any(s.do == "sow" and s.outdoors for s in steps):
        return "sow_outdoors"
    if "soak" in does or "leach" in does:
        return "soak_and_sow"
    return "sow" if "sow" in does else "nothing"


def _length(step: Step) -> Quantity | None:
    """Length of a step in days."""
    if step.days is not None:
        return step.days
    for span, per_day in ((step.hours, 24), (step.minutes, 1440)):
        if span is not None:
            usual = None if span.usual is None else span.usual / per_day
            return Quantity(span.low / per_day, span.high / per_day, usual)
    return None


def _step_days(step: Step) -> StepDays:
    length = _length(step)
    assert length is not None
    optional = step.need == "optional"
    return StepDays(step.do, 0 if optional else length.low, length.high, length.plan, step.until)


def _planned(timed: Sequence[StepDays], names: Sequence[str]) -> float:
    return float(sum(s.plan for s in timed if s.name in names))


def _professional(steps: Sequence[Step]) -> str:
    does = {s.do for s in steps}
    if "scarify_acid" in does:
        return "acid"
    return "regulator" if "growth_regulator" in does else "none"


def _cold_need(cold: Sequence[Step]) -> str:
    if not cold:
        return "none"
    return "required" if any(s.need == "required" for s in cold) else "optional"


def _already_cold(cold: Sequence[Step], lot: Lot) -> str:
    if lot.gathered == "ground_spring":
        return "enough"
    if not lot.cold_days_done or not cold:
        return "none"
    least = sum(s.days.low for s in cold if s.days)
    return "enough" if lot.cold_days_done >= least > 0 else "part"


Facts = Mapping[str, str | float | None]
