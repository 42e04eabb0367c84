"""What a treatment of a record amounts to for one lot: its shape, its days, whether its conditions hold."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import StepDays
from coldspell.decide.progress import rest_left, steps_left
from coldspell.errors import InternalFault
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD, HEAT, MOIST, OPENING, SPELL, TIMED
from coldspell.records.model import Quantity, Record, Step, Treatment
from coldspell.records.when import holds

_SHAPES = {
    ("cold",): "cold",
    ("warm",): "warm",
    ("alternate",): "alternate",
    ("warm", "cold"): "warm_then_cold",
    ("cold", "warm"): "cold_then_warm",
    ("cool",): "cool",
    ("open", "cool"): "scarify_then_cool",
    ("cold", "warm", "cold"): "cold_warm_cold",
    ("open",): "scarify",
    ("open", "heat"): "scarify",
    ("open", "cold"): "scarify_then_cold",
    ("open", "warm"): "scarify_then_warm",
    ("open", "alternate"): "scarify_then_warm",
    ("open", "warm", "cold"): "scarify_then_warm_cold",
    ("cold", "open"): "cold_then_scarify",
    ("heat",): "heat",
    ("heat", "cold"): "heat_then_cold",
    ("rest",): "after_ripen",
    ("rest", "cold"): "rest_then_cold",
    ("rest", "open"): "rest_then_scarify",
}
DRY_HEAT = "dry_heat"
"""Opens a hard coat too, of dry seed alone."""
OUTDOOR_SOWING, SOWING = "sow_outdoors", "sow"
"""Words of the fact ``shape`` for treatments that are a sowing."""
WARM_THEN_COLD = "warm_then_cold"


LostDays = Literal["no", "coat", "order", "not_needed"]


_COLD_ALONE = ("cold", "scarify_then_cold", "heat_then_cold", "cold_then_scarify")


class Candidate(Struct, frozen=True, eq=False):
    """A treatment with what was measured of it. Days are planned ones, less what the lot has had.

    One is itself alone, so that what follows from it and a day can be kept by both.
    """

    treatment: Treatment
    record: Record | None
    fits_lot: bool
    shape: str
    usable: bool
    professional_step: Literal["acid", "regulator", "none"]
    outdoors: bool
    cold_need: Literal["required", "optional", "none"]
    ends: str
    timed: tuple[StepDays, ...]
    moist_days: float | None
    cold_days: float | None
    already_cold: Literal["none", "part", "enough"]
    begun: bool
    may_wait: bool
    then_outdoors: bool = False
    """Whether moist warmth indoors is all of it and the winter outdoors follows."""
    hold_days: float | None = None
    """How long treated seed may wait [days]; a limit that only practice gives binds no calendar."""
    lost_days: LostDays = "no"
    """Why moist days of the lot do not count for it."""
    times: float = 1.0
    """How many times as long its cold lasts in the refrigerator of the grower as where every day counts."""

    @property
    def winter_needed(self) -> float | None:
        """The fewest days of a winter outdoors that do [days]; ``None`` where cold is not all it wants.

        Outdoors it lies in no warm refrigerator, so what that made longer is reckoned back.
        """
        cold: float = sum(
            step.least / (1.0 if step.ends_on_event else self.times)
            for step in self.timed
            if step.name in COLD
        )
        if not cold and not self.begun:  # what only helps may be as short as nothing
            cold = sum(s.days.low for s in self.treatment.steps if s.do in COLD and s.days)
        return cold if cold and self.shape in _COLD_ALONE else None

    @property
    def outdoor_sowing(self) -> bool:
        """Whether it amounts to a sowing outdoors."""
        return self.shape == OUTDOOR_SOWING

    @property
    def sowing_alone(self) -> bool:
        """Whether nothing is left but to sow."""
        return self.shape == SOWING


def measure_candidate(
    treatment: Treatment,
    record: Record | None,
    lot: Lot,
    *,
    shut: bool = False,
    lies_moist: bool = False,
    root_days: float = 0,
    dry: tuple[float, float] = (0, 0),
) -> Candidate:
    """Measure what is left of one treatment of a record for a lot.

    Days count only if water could get in: not behind a coat that is ``shut`` and that the treatment opens.
    What ``lies_moist`` gets no dry rest any more, and no dry heat where water got in. ``root_days`` is what
    is left of the warmth while no root shows (see `steps_left`). ``dry`` holds the days that it has lain dry,
    and the warmest dry rest [°C] for which they count.
    """
    wanted = lot.warm_days_done > 0 or (lot.cold_days_done > 0 and any(s.do in COLD for s in treatment.steps))
    behind = shut and wanted and (lot.swollen == "no" or opens_first(treatment.steps))
    lost: LostDays = "coat" if behind else _lost_days(treatment.steps, lot)
    if behind:
        lot = replace(lot, cold_days_done=0, warm_days_done=0)
    steps = steps_left(treatment.steps, lot.cold_days_done, lot.warm_days_done, root_days)
    if _already_cold(treatment.steps, steps, lot) == "enough":
        steps = tuple(s for s in steps if s.do not in MOIST)
    if lot.swollen == "yes":
        steps = without_opening(steps)
    if lies_moist:
        gone = ("after_ripen",) if shut else ("after_ripen", DRY_HEAT)
        steps = tuple(s for s in steps if s.do not in gone)
    steps = rest_left(steps, *dry)
    begun = _unsoaked(steps) != _unsoaked(treatment.steps)  # a soak alone is no beginning
    moist = [s for s in steps if s.do in MOIST]
    cold = [s for s in steps if s.do in COLD]
    timed = tuple(_step_days(s) for s in steps if s.do in TIMED and _length(s) is not None)
    already = _already_cold(treatment.steps, steps, lot)
    complete = all(s.days is not None for s in moist)
    shape, hold = shape_of(steps), _hold_days(treatment, record)
    return Candidate(
        treatment=replace(treatment, steps=steps) if steps != treatment.steps else treatment,
        record=record,
        fits_lot=all(holds(c, said(lot, fact)) for fact, c in treatment.when.items()),
        shape=shape,
        usable=complete,
        professional_step=_professional(treatment.steps),
        outdoors=any(s.outdoors for s in moist),
        cold_need=_cold_need(cold),
        ends=moist[-1].until if moist else "ready",
        timed=timed,
        moist_days=_planned(timed, MOIST) if complete else None,
        cold_days=_planned(timed, COLD) if complete else None,
        already_cold=already,
        begun=begun,
        may_wait=already == "enough" or _ends_cold(moist),
        then_outdoors=shape == "warm" and any(s.do == "sow" and s.outdoors for s in steps),
        hold_days=_hold_left(hold, treatment.steps, lot) if already == "enough" else hold,
        lost_days=lost,
    )


def _hold_days(treatment: Treatment, record: Record | None) -> float | None:
    hold = treatment.hold
    if hold is None:
        return None
    names = [hold.cite] if isinstance(hold.cite, str) else list(hold.cite)
    told = [record.cites[n].basis for n in names if record is not None and n in record.cites]
    return None if told and all(basis == "practice" for basis in told) else hold.days.high


def _hold_left(hold: float | None, steps: Sequence[Step], lot: Lot) -> float | None:
    """What is left of its wait, once it has lain in the cold for longer than it must [days]."""
    needed = sum(s.days.low for s in steps if s.do in COLD and s.days)
    return None if hold is None else max(hold - max(lot.cold_days_done - needed, 0), 0)


def opens_first(steps: Sequence[Step]) -> bool:
    """Whether coat or shell is opened before the first moist spell."""
    for step in steps:
        if step.do in OPENING or step.do == DRY_HEAT:
            return True
        if step.do in MOIST:
            return False
    return False


def _lost_days(steps: Sequence[Step], lot: Lot) -> Literal["no", "order", "not_needed"]:
    """Why days of cold that went into the seed do not count."""
    if not lot.cold_days_done:
        return "no"
    if not any(s.do in COLD for s in steps):
        return "not_needed"
    moist = [s for s in steps if s.do in MOIST and s.need == "required"]
    if not moist or moist[0].do in COLD or moist[0].days is None:
        return "no"
    return "order" if lot.warm_days_done < moist[0].days.low else "no"


def without_optional_spells(treatment: Treatment) -> Treatment | None:
    """The treatment without the moist spells that only help; ``None`` if it has none.

    For lots that have no time for them: a spell that is cut to nothing is better left out, and said so.
    """
    kept = tuple(s for s in treatment.steps if not (s.do in MOIST and s.need == "optional"))
    if len(kept) == len(treatment.steps):
        return None
    return replace(treatment, steps=kept or (Step("sow"),))


def _unsoaked(steps: Sequence[Step]) -> tuple[Step, ...]:
    return tuple(s for s in steps if s.do != "soak")


def without_opening(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The steps for seed that has swollen: its coat is open, and it is not soaked again."""
    opened = [i for i, s in enumerate(steps) if s.do in OPENING or s.do == DRY_HEAT]
    if not opened:  # what leaching takes out is not said to be gone
        moist = next((i for i, s in enumerate(steps) if s.do in MOIST), 0)
        return tuple(s for i, s in enumerate(steps) if i >= moist or s.do != "soak")
    return tuple(s for i, s in enumerate(steps) if i > opened[-1] and s.do not in ("soak", "leach"))


def said(lot: Lot, fact: str) -> str | float:
    """What a lot says of a fact that a treatment's ``when`` asks for."""
    if fact == "rooted":
        return "yes" if lot.mostly_rooted else "no"
    value = getattr(lot, fact, None)
    if isinstance(value, str | int | float):
        return value
    raise InternalFault(f"a treatment asks for the fact {fact!r}, which no lot has")


def shape_of(steps: Sequence[Step]) -> str:
    """The treatment in one word of the fact ``shape``: its spells in their order.

    >>> shape_of([Step("soak"), Step("warm_moist"), Step("cold_moist")])
    'warm_then_cold'
    >>> shape_of([Step("cold_moist"), Step("scarify_mechanical")])
    'cold_then_scarify'
    """
    outdoors = any(s.do == "sow" and s.outdoors for s in steps)
    helps = HEAT | OPENING if outdoors else HEAT | {"crack_shell"}  # the seasons open what a blade only helps
    spells = [SPELL[s.do] for s in steps if s.do in SPELL and not (s.do in helps and s.need == "optional")]
    runs = tuple(m for i, m in enumerate(spells) if i == 0 or m != spells[i - 1])
    if runs:
        return _SHAPES.get(
            runs, "repeated" if set(runs) <= {"warm", "cool", "cold", "alternate"} else "several"
        )
    does = [s.do for s in steps]
    if outdoors:
        return OUTDOOR_SOWING
    if "soak" in does or "leach" in does:
        return "soak_and_sow"
    return SOWING if "sow" in does else "nothing"


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


def _planned(timed: Sequence[StepDays], names: Collection[str]) -> float:
    return float(sum(s.plan for s in timed if s.name in names))


def _professional(steps: Sequence[Step]) -> Literal["acid", "regulator", "none"]:
    does = {s.do for s in steps}
    if "scarify_acid" in does:
        return "acid"
    return "regulator" if "growth_regulator" in does else "none"


def _cold_need(cold: Sequence[Step]) -> Literal["required", "optional", "none"]:
    if not cold:
        return "none"
    return "required" if any(s.need == "required" for s in cold) else "optional"


def _ends_cold(moist: Sequence[Step]) -> bool:
    """Whether the last spell is a cold in which the seed may wait."""
    last = moist[-1] if moist else None
    return last is not None and last.do in COLD and last.until == "ready" and not last.outdoors


def _already_cold(whole: Sequence[Step], left: Sequence[Step], lot: Lot) -> Literal["none", "part", "enough"]:
    """How much of the cold is behind the lot; a winter on the ground is all of it where cold comes first."""
    cold = [s for s in whole if s.do in COLD]
    still = [s for s in left if s.do in COLD]
    if not cold:
        return "none"
    if lot.gathered == "ground_spring":
        moist = [s.do for s in whole if s.do in MOIST and s.need == "required"]
        return "enough" if "warm_moist" not in moist and "alternate" not in moist else "none"
    if not still and not any(s.do in MOIST | OPENING for s in left):
        return "enough"
    return "part" if still != cold else "none"
