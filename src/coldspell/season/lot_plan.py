"""One lot of a season: the values of its plan that a season goes by, small enough to keep or to send."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any, Literal

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.containers import Bag
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import MaterialFields, PlaceFields, TimeFields
from coldspell.decide.practice import Practice
from coldspell.plan.plan import LOOKED_AT, Dated
from coldspell.plan.steps import PlanStep, soak_hours
from coldspell.records.do import COLD, COUNTS_AS, MOIST
from coldspell.tables.rows import Own, Row

ASKED = (*LOOKED_AT, Ask.TIME, Ask.PLACE, Ask.LOOKS, Ask.TEST_RESULTS)
"""Decisions that a season goes by."""
Kind = Literal["start", "move", "do", "keep", "sow", "look"]
Spell = tuple[date, date]
"""A first day, and the day after the last."""


class Event(Struct, frozen=True):
    """One thing to do for a lot on a day, or from a day to another.

    ``start`` is the first step that takes the seed in hand, ``move`` the way into another spell of moisture,
    ``keep`` leaving it as it is or where it lies already, ``do`` any other step; ``what`` is the step's word.
    """

    day: date
    end: date
    kind: Kind
    what: str


class Wants(Struct, frozen=True):
    """What a lot takes: litres of medium, containers of which form, sheets of towel, room in the cold."""

    form: str = ""
    material: str = ""
    medium_litres: float = 0.0
    bags: int = 0
    boxes: int = 0
    trays: int = 0
    rolls: int = 0
    sheets: int = 0
    room_litres: float = 0.0


class LotPlan(Struct, frozen=True):
    """The plan of one lot.

    ``cold`` are the spells in the cold room, in which it takes ``wants.room_litres``. ``first`` names the
    steps without a day, which come before all others. ``late`` is by how many days the treatment should
    have begun sooner, ``short`` how many are lacking to the day that was asked for.
    """

    number: int
    own: Own
    name: str
    species: str
    seeds: int
    moisture: str
    route: str
    page: str
    says: str
    asked: date | None
    sow: date | None
    held_until: date | None
    late: int
    short: int
    spare: int | None
    first: tuple[str, ...]
    events: tuple[Event, ...]
    cold: tuple[Spell, ...]
    wants: Wants
    plants: tuple[int, int, int] | None
    hazards: tuple[str, ...]
    carried: Mapping[str, Any]
    closed: tuple[Event, ...] = ()
    """What falls on days on which nobody is there."""
    unseen: tuple[Spell, ...] = ()
    """Times between two looks, around closed days, that are longer than its kind should wait."""
    begun: bool = False
    """Whether it lies in its medium already: nothing is laid down for it."""
    may_hold: bool = False
    """Whether it may be kept moist and cold instead of being sown at once."""
    soak_hours: tuple[float, float] | None = None
    """How long the soak takes that has no day, where there is one."""
    sown: date | None = None
    """The day on which it was sown, where it lies in the ground already."""

    @property
    def label(self) -> str:
        """How the lot is called: by its number, else by its row."""
        return self.own.lot or f"row {self.number}"

    def word(self, event: Event) -> str:
        """The word for what is done; of what lies in the ground the seedlings are looked for."""
        return "seedlings" if self.sown is not None and event.what == "test" else event.what

    @property
    def start(self) -> date | None:
        """The day on which the seed is first taken in hand, or goes on in what it lies in."""
        kinds = ("start", "sow", "move", "keep", "do") if self.begun else ("start", "sow")
        return next((e.day for e in self.events if e.kind in kinds), None)

    @property
    def tasks(self) -> tuple[Event, ...]:
        """What somebody has to do, each once; a look on the day of sowing is part of the sowing."""
        sown = {event.day for event in self.events if event.kind == "sow"}
        return tuple(
            e
            for e in dict.fromkeys(self.events)
            if not (e.kind == "look" and e.day in sown) and not (e.kind == "keep" and e.what in MOIST)
        )

    @property
    def packs(self) -> int:
        """How many bags, boxes, trays or rolls it lies in, or one for the lot as it is."""
        moist = any(event.what in MOIST for event in self.events)
        wants = self.wants
        return max(1, wants.bags + wants.boxes + wants.trays + wants.rolls) if moist else 1

    @property
    def labels(self) -> int:
        """How many labels it takes: one for each bag, box, tray or roll; none where nothing is started."""
        return self.packs if self.page == "plan" and self.events else 0

    @property
    def looks(self) -> tuple[date, ...]:
        """The days on which it is looked at."""
        return tuple(e.day for e in self.events if e.kind == "look")


def waits_cold(plan: Dated) -> PlanStep | None:
    """The wait of a lot whose treatment is behind it, moist and cold in what it lies in."""
    if plan.decisions.route.lies != "as_it_lies":
        return None
    return next((s for s in plan.steps if s.do == "hold" and s.start is not None and s.end is not None), None)


def room_litres(plan: Dated) -> float:
    """What a lot takes up in the cold room [litres]."""
    place = plan.decisions.fields(Ask.PLACE, PlaceFields)
    return 0.0 if place is None or place.cold_room == "no" else plan.amounts.space_litres or 0.0


def lot_plan(row: Row, plan: Dated, practice: Practice, waiting_litres: float = 0.0) -> LotPlan:
    """What a season goes by, of the plan for a row.

    ``waiting_litres`` is the room of a lot that `waits_cold`: its own plan lays nothing, so it names none.
    """
    decisions = plan.decisions
    dated, time = decisions.schedule, decisions.fields(Ask.TIME, TimeFields)
    fits = time.fits if time is not None else ""
    short = dated.infeasible.days_short if dated.infeasible is not None else 0
    plants = plan.expected.plants if decisions.answer(Ask.FINISH) is not None else None
    spare = dated.days_spare
    return LotPlan(
        number=row.number,
        own=row.own,
        name=row.name,
        species=plan.name,
        seeds=plan.lot.seeds,
        moisture=plan.lot.moisture,
        route=plan.route,
        page=decisions.route.page,
        says=decisions.rules(Ask.ROUTE)[0].says,
        asked=dated.asked,
        sow=plan.sowing_day,
        held_until=plan.hold_until,
        late=short if fits == "tight" else 0,
        short=short if fits == "too_short" else 0,
        spare=None if spare is None else int(spare),
        first=tuple(dict.fromkeys(s.do for s in plan.steps if s.timeless and s.do != "sow" and _to_do(s))),
        events=_events(plan),
        cold=_waiting(plan) if waiting_litres else _cold(plan),
        wants=replace(_wants(plan), room_litres=waiting_litres) if waiting_litres else _wants(plan),
        plants=None if plants is None else (plants.low, round(plants.mean), plants.high),
        hazards=tuple(dict.fromkeys(hazard.kind for hazard, _, _ in decisions.hazards)),
        carried=row.carried,
        begun=_begun(plan),
        may_hold=decisions.route.sown == "first_day" and decisions.route.lies == "cold",
        soak_hours=_soak_hours(plan, practice),
        sown=plan.lot.sown if decisions.decided(Ask.AFTER_SOWING).applies else None,
    )


def _begun(plan: Dated) -> bool:
    """Whether part of the treatment is behind the lot, and what is left of it goes on in the same medium."""
    chosen, lot = plan.decisions.chosen, plan.lot
    moist = any(step.do in MOIST and step.start is not None for step in plan.steps)
    return bool(moist and chosen and chosen.candidate.begun and (lot.cold_days_done or lot.warm_days_done))


def _goes_on(step: PlanStep, plan: Dated) -> bool:
    """Whether a lot that has begun lies in this spell already."""
    had = {"cold": plan.lot.cold_days_done, "warm": plan.lot.warm_days_done}
    return bool(had.get(COUNTS_AS.get(step.do, ""), 0.0))


def _soak_hours(plan: Dated, practice: Practice) -> tuple[float, float] | None:
    """Hours of the soak that comes before all dated steps."""
    for step in plan.steps:
        if step.do == "soak" and step.timeless:
            hours = None if step.of_record is None else step.of_record.hours
            if hours is not None:
                return hours.low, hours.high
            if any(rule.fields.get("takes") == "soak" for rule in step.rules):
                return soak_hours(plan.decisions, practice)
    return None


def _events(plan: Dated) -> tuple[Event, ...]:
    """Every dated step and every look, by day."""
    found = []
    begun = moist = on = _begun(plan)
    for step in plan.steps:
        if step.start is None:
            continue
        kind: Kind = "do"
        if step.do == "sow":
            kind, begun = "sow", True
        elif step.do == "test":
            pass
        elif step.do == "hold":
            kind = "keep"
        elif not begun:
            kind, begun = "start", True
        elif step.do in MOIST and on and _goes_on(step, plan):
            kind, on = "keep", False
        elif step.do in MOIST and moist:
            kind = "move"
        moist = moist or step.do in MOIST
        found.append(Event(step.start, step.end or step.start, kind, step.do))
    if _looked_at(plan):
        found += [Event(day, day, "look", "look") for day in plan.looks.dates or _looks_waiting(plan)]
    return tuple(sorted(found, key=lambda event: event.day))


def _looks_waiting(plan: Dated) -> tuple[date, ...]:
    """Looks at a lot that waits in the cold, as often as its recipe says, and on the day it is sown."""
    step, every = waits_cold(plan), plan.looks.every_days_after
    if step is None or step.start is None or step.end is None or not every:
        return ()
    days = range(every, (step.end - step.start).days, every)
    return (*(step.start + timedelta(days=day) for day in days), step.end)


def _waiting(plan: Dated) -> tuple[Spell, ...]:
    step = waits_cold(plan)
    if step is None or step.start is None or step.end is None or step.end <= step.start:
        return ()
    return ((step.start, step.end),)


def _to_do(step: PlanStep) -> bool:
    """Whether there is something to do, rather than to leave undone."""
    return all(rule.fields.get("takes") != "nothing" for rule in step.rules)


def _looked_at(plan: Dated) -> bool:
    """Whether the recipe says when to look (as `coldspell.write.sowing.checks`)."""
    name = Ask.TEST_RESULTS if plan.decisions.route.page == "test" else Ask.LOOKS
    return plan.decisions.decided(name).applies


def _cold(plan: Dated) -> tuple[Spell, ...]:
    """The spells in the cold room: each cold, and the waiting after it."""
    place = plan.decisions.fields(Ask.PLACE, PlaceFields)
    if place is None or place.cold_room == "no" or not plan.amounts.space_litres:
        return ()
    spells: list[Spell] = []
    before: PlanStep | None = None
    for step in plan.steps:
        waits = step.do == "hold" and before is not None
        if (step.do in COLD or waits) and step.start is not None and step.end is not None:
            if spells and spells[-1][1] >= step.start:
                spells[-1] = (spells[-1][0], max(spells[-1][1], step.end))
            elif step.end > step.start:
                spells.append((step.start, step.end))
        if step.do in MOIST:
            before = step if step.do in COLD else None
    return tuple(spells)


def _wants(plan: Dated) -> Wants:
    amount, material = plan.amounts, plan.decisions.fields(Ask.MATERIAL, MaterialFields)
    count = amount.containers or 0
    rolled, bag = amount.sheets is not None, isinstance(amount.container, Bag)
    return Wants(
        form=plan.decisions.answer(Ask.MEDIUM) or "",
        material=material.same_as if material is not None else "",
        medium_litres=amount.litres or 0.0,
        bags=count if bag and not rolled else 0,
        boxes=count if amount.container is not None and not bag and not rolled else 0,
        trays=count if amount.container is None and not rolled else 0,
        rolls=count if rolled else 0,
        sheets=amount.sheets or 0,
        room_litres=amount.space_litres or 0.0,
    )
