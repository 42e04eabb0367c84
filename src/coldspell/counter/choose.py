"""What can be started or gathered: kinds whose plan fits the wishes, the likeliest to succeed first."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from coldspell.arithmetic.calendar import add_days
from coldspell.arithmetic.seasons import in_months, season_month
from coldspell.decide.decide import Decisions
from coldspell.decide.facts import yes
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.asks import Ask, values_of
from coldspell.decide.names.fields import ChoiceFields, as_fields
from coldspell.decide.practice import Practice
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.library.library import Library
from coldspell.lot.place import is_noted_for
from coldspell.plan.plan import Dated, up_of
from coldspell.records.do import COLD, MOIST, OPENING
from coldspell.records.model import Record, Step
from coldspell.texts import Texts
from coldspell.write.notes import law_told

if TYPE_CHECKING:
    from coldspell.decide.names.facts import ChoiceFacts

Span = tuple[date, date]
Way = Literal["sown", "cold", "warm", "stages", "outdoors", "open"]


class Wishes(Struct, frozen=True):
    """What somebody has or wants; what is not said does not matter.

    ``closed`` are spans in which nobody can look after it, both days included: nothing is due in them, and no
    sown pot stands without water for the whole of one.
    """

    start: bool = True
    """It can be started now."""
    no_fridge: bool = False
    harmless: bool = False
    """No hazard is on record, of the species or its genus."""
    plants_by: date | None = None
    easy: bool = False
    """It asks for little by the rules: one stage at most, no coat to open, not root first."""
    closed: tuple[Span, ...] = ()
    gather: bool = False
    """It is gathered in the month of the day."""
    plant: str | None = None
    read: bool = False
    """Its treatment was read in a source."""


class Choice(Struct, frozen=True):
    """A kind that fits the wishes."""

    name: str
    common_name: str
    plant: str
    way: Way
    """What is done: sown, chilled, kept warm, several stages, sown outdoors, its coat opened."""
    moist_days: int
    start: date | None
    sow: date | None
    up: date | None
    plants: float | None
    """Plants to expect from a hundred seeds, in the middle; ``None`` where nobody can tell."""
    known_by: str
    warm: bool
    """It comes from a country without frost, and needs warmth all its life elsewhere."""
    ripe: tuple[int, int] | None
    """Months in which it is gathered, in the hemisphere that was asked for."""
    law: tuple[str, ...] = ()
    """What is noted on sowing or growing it at the place that was said; never a permission."""


def choose(
    library: Library,
    plan_of: Callable[[str], Dated],
    wishes: Wishes,
    today: date,
    tables: Tables,
    *,
    southern: bool,
) -> list[Choice]:
    """All species whose plan fits, the likeliest to succeed first, those of warm countries after the others.

    Parameters
    ----------
    plan_of
        Gives the plan of a kind for a hundred seeds on the day; kinds that it refuses are left out.
    today
        The day that counts as today.
    """
    found = [
        _choice(plan, today, tables, southern=southern)
        for plan in _plans(library, plan_of, wishes, today, southern=southern)
        if fits(plan, wishes, today, tables)
    ]
    return sorted(found, key=lambda one: (one.warm, -(one.plants or 0), one.moist_days, one.name))


def _plans(
    library: Library, plan_of: Callable[[str], Dated], wishes: Wishes, today: date, *, southern: bool
) -> Iterator[Dated]:
    for name in library.names:
        record = library.get(name)
        if record.rank == "genus" or (wishes.plant and record.plant != wishes.plant):
            continue
        if wishes.gather and not _ripe(record, today, southern=southern):
            continue
        if wishes.harmless and Knowledge(record, library.genus(name)).every_hazard():
            continue
        try:
            yield plan_of(name)
        except ColdspellError:
            continue


def fits(plan: Dated, wishes: Wishes, today: date, tables: Tables) -> bool:
    """Whether a plan fits the wishes; those on hazards, kind and months are kept before it is made."""
    decisions, practice = plan.decisions, tables.practice
    if decisions.route.page != "plan":
        return False
    marked = marks(plan, today, tables)
    if wishes.start and not wishes.gather and (not _starts(plan, today, practice) or "outlived" in marked):
        return False
    if wishes.no_fridge and decisions.route.lies in ("cold", "cold_pot"):
        return False
    if wishes.plants_by and not _up_by(plan, wishes.plants_by, tables):
        return False
    if wishes.easy and "easy" not in marked:
        return False
    if wishes.read and not _read(decisions):
        return False
    if any(_thirsty(plan, span, practice) for span in wishes.closed):
        return False
    return not any(first <= day <= last for first, last in wishes.closed for day in due_days(plan))


def _up_by(plan: Dated, day: date, tables: Tables) -> bool:
    up = up_of(plan, tables)
    return up is not None and up.up <= day


def _thirsty(plan: Dated, closed: Span, practice: Practice) -> bool:
    """Whether a pot of it is sown by then, and has to be watered while nobody is there."""
    first, last = closed
    sown, potted = plan.sowing_day, plan.decisions.route.sown != "outdoor_day"
    too_long = (last - first).days >= practice.choose_unwatered_days
    return potted and too_long and sown is not None and sown <= last


def marks(plan: Dated, today: date, tables: Tables) -> frozenset[str]:
    """What the rules say of a kind before it is offered, in the words of `ChoiceFields`."""
    facts = {**values_of(plan.decisions.facts), **values_of(_facts(plan, today))}
    told = tables.session.decide(Ask.CHOICE, facts)
    return frozenset(as_fields(ChoiceFields, firing.fields).mark for firing in told.firings)


def _facts(plan: Dated, today: date) -> ChoiceFacts:
    steps = _steps(plan.decisions)
    knowledge, southern = plan.decisions.knowledge, plan.lot.southern
    storage, harvest = knowledge.value("storage"), knowledge.value("harvest")
    months = harvest.months if harvest is not None else None
    lives = storage.years.high * 12 if storage is not None and storage.years is not None else None
    return {
        "moist_stages": float(sum(step.do in MOIST for step in steps)),
        "opens_coat": yes(any(step.do in OPENING for step in steps)),
        "ripe_now": yes(months and in_months(today, *months, southern=southern)),
        "life_passed": yes(months and lives is not None and _since(months[1], today, southern) > lives),
    }


def _since(last: int, today: date, southern: bool) -> float:
    """Months since the last month of a harvest began to be over."""
    return (today.month - 1 - season_month(last, southern)) % 12 + today.day / 31


def due_days(plan: Dated) -> set[date]:
    """The days on which somebody has to be there: steps that begin, looks, sowing."""
    return {step.start for step in plan.steps if step.start} | set(plan.looks.dates)


def _starts(plan: Dated, today: date, practice: Practice) -> bool:
    first = _first(plan)
    return first is not None and first <= add_days(today, int(practice.choose_soon_days))


def _first(plan: Dated) -> date | None:
    """The first day on which seed is wetted, opened, chilled or sown; not kept or cleaned."""
    begins = {*MOIST, *OPENING, "soak", "sow"}
    return next((step.start for step in plan.steps if step.start and step.do in begins), None)


def _steps(decisions: Decisions) -> tuple[Step, ...]:
    return decisions.chosen.candidate.treatment.steps if decisions.chosen else ()


def _read(decisions: Decisions) -> bool:
    chosen = decisions.chosen
    if chosen is None or chosen.candidate.record is None:
        return False
    cites = chosen.candidate.record.cites
    return any(cites[key].basis == "read" for key in chosen.candidate.treatment.cite)


def _ripe(record: Record, today: date, *, southern: bool) -> bool:
    months = record.harvest.months if record.harvest else None
    return months is not None and in_months(today, months[0], months[1], southern=southern)


def _choice(plan: Dated, today: date, tables: Tables, *, southern: bool) -> Choice:
    decisions, record = plan.decisions, plan.decisions.knowledge.record
    months = record.harvest.months if record.harvest else None
    expected, up = plan.expected.plants, up_of(plan, tables)
    moist = [step for step in plan.steps if step.do in MOIST and step.start and step.end]
    return Choice(
        name=record.name,
        common_name=next(iter(record.common_names.get("en", ())), ""),
        plant=record.plant,
        way=_way(decisions),
        moist_days=sum((step.end - step.start).days for step in moist if step.start and step.end),
        start=_first(plan),
        sow=plan.sowing_day,
        up=up.up if up else None,
        plants=None if expected is None else round(100 * expected.mean / plan.lot.seeds, 1),
        known_by=decisions.knowledge.known(),
        warm="warm" in marks(plan, today, tables),
        ripe=_months(months, southern=southern) if months else None,
        law=_law(plan, today, tables),
    )


def _law(plan: Dated, today: date, tables: Tables) -> tuple[str, ...]:
    """The notes on the law of the place that was said, but for those on moving, collecting and borders alone.

    A note that does not say what it is about may be about growing, too.
    """
    place, texts = plan.lot.place or "", Texts(tables.texts)
    return tuple(
        law_told(entry, today, texts, tables.practice.law_stale_days)
        for entry, _ in plan.decisions.knowledge.law()
        if entry.about in ("growing", None) and is_noted_for(place, entry.place)
    )


def _months(months: Sequence[int], *, southern: bool) -> tuple[int, int]:
    return season_month(months[0], southern), season_month(months[1], southern)


def _way(decisions: Decisions) -> Way:
    steps = _steps(decisions)
    dos = [step.do for step in steps if step.do in MOIST]
    if decisions.route.sown == "outdoor_day":
        return "outdoors"
    if any(step.do in OPENING for step in steps):
        return "open"
    if len(dos) > 1:
        return "stages"
    return "sown" if not dos else "cold" if dos[0] in COLD else "warm"
