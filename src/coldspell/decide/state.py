"""What the past of a lot amounts to: coats that kept water out, roots, a broken cold, age, season."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from coldspell.arithmetic.seasons import in_months, season_day, season_month
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.decide.schedule import frost_odd
from coldspell.decide.treatment import opens_first
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD, MOIST
from coldspell.records.model import Treatment
from coldspell.records.when import holds

if TYPE_CHECKING:
    from coldspell.decide.names.closed import BreakCosts, YesNo
    from coldspell.decide.names.facts import DayFacts, StateFacts

DAYS_PER_YEAR, DAYS_PER_MONTH = 365.25, 30.4


def state_facts(
    told: Lot,
    lot: Lot,
    knowledge: Knowledge,
    today: date,
    practice: Practice,
    *,
    winter_taken: bool,
    broken: BreakCosts,
    shut: bool,
) -> StateFacts:
    """Facts of the past; ``told`` is the lot as the grower said it, ``lot`` as it was understood.

    ``winter_taken``: days of moist cold were taken for it that nobody told. ``broken``: what a break costs.
    ``shut``: a hard coat has kept water out.
    """
    first = max(today, lot.collected) if lot.collected else today
    had_cold = told.cold_days_done or winter_taken
    return {
        **_days_facts(first, practice, southern=lot.southern, mild=lot.winter == "none"),
        "coat_shut": _yes(shut),
        "kept_months": months_kept(lot, knowledge, today),
        "kept_said": _yes(kept_said(told)),
        "spring_gone": _yes(told.gathered == "ground_spring" and lot.gathered != "ground_spring"),
        "was_green": _yes(told.gathered == "green" and lot.gathered != "green"),
        "frost_to_come": _yes(frost_ahead(lot, first, practice)),
        "gathered_ahead": _yes(lot.collected and lot.collected > today),
        "rooted_now": _yes(_rooted_now(lot, knowledge, first, practice)),
        "sown_off": _yes(lot.sown and not is_growing(lot.sown, practice, southern=lot.southern)),
        "wants_warmth": _yes(wants_warmth(knowledge)),
        "roots_warm": _yes(roots_first(knowledge) and wants_warmth(knowledge)),
        "winter_taken": _yes(winter_taken),
        "cold_break": broken if had_cold else "none",
        "overdue": "no" if shut else _overdue(lot, knowledge, practice),
        "sown": _yes(lot.sown),
    }


@lru_cache(maxsize=4096)
def _days_facts(first: date, practice: Practice, *, southern: bool, mild: bool) -> DayFacts:
    """Facts of the first day on which anything can be done; ``mild``: something grows outdoors on any day."""
    return {
        "summer_over": _yes(_summer_over(first, practice, southern=southern)),
        "growing_now": _yes(mild or is_growing(first, practice, southern=southern)),
        "late_now": _yes(not mild and is_late(first, practice, southern=southern)),
        "spring_far": _yes(not mild and _spring_far(first, practice, southern=southern)),
        "autumn": autumn_of(first, practice, southern=southern),
    }


def _rooted_now(lot: Lot, knowledge: Knowledge, first: date, practice: Practice) -> bool:
    """Whether so many have rooted, in the growing season, that the rest is sown with them.

    A part tells that after a cold; most of them tell it whether or not the cold was said.
    """
    share = lot.cold_days_done and 100 * lot.rooted >= practice.sown_all_percent * lot.seeds
    grows = lot.winter == "none" or is_growing(first, practice, southern=lot.southern)
    return bool((share or lot.mostly_rooted) and grows and not roots_first(knowledge))


def opened_first(lot: Lot, knowledge: Knowledge) -> bool:
    """Whether a treatment of the record opens coat or shell of such seed before its first moist spell.

    Where a record has treatments for fresh seed and for dried seed, those of the lot tell.
    """
    state, ways = lot.moisture, knowledge.treatments
    return knowledge.once(
        ("opened first", state),
        lambda: any(opens_first(t.steps) for t, _ in ways() if holds(t.when.get("moisture", state), state)),
    )


def roots_first(knowledge: Knowledge) -> bool:
    """Whether the root comes first and the shoot waits for a further cold."""
    dormancy, germination = knowledge.value("dormancy"), knowledge.value("germination")
    return bool((dormancy and dormancy.epicotyl) or (germination and germination.root_first))


def wants_warmth(knowledge: Knowledge) -> bool:
    """Whether the kind needs moist warmth before its cold, by any treatment of its records."""
    return knowledge.once("wants warmth", lambda: any(_warm_first(t) for t, _ in knowledge.treatments()))


def months_kept(lot: Lot, knowledge: Knowledge, today: date) -> float | None:
    """Months since it was gathered; without a day, since the kind is shed; ``None``: nobody knows."""
    if lot.collected is not None:
        return max((today - lot.collected).days, 0) / DAYS_PER_MONTH
    return months_since_shed(knowledge, today, southern=lot.southern)


def days_lain_dry(lot: Lot, today: date) -> float:
    """Days that it has lain dry, as far as was said: all its time in store, if it was dried."""
    told = float(lot.days_dry or 0)
    if lot.moisture != "dried":
        return told
    since = (today - lot.collected).days if lot.collected else 0
    return max(told, since, lot.stored_years * DAYS_PER_MONTH * 12)


def months_since_shed(knowledge: Knowledge, today: date, *, southern: bool) -> float | None:
    """Months since the kind was last shed, none while it is being shed; ``None``: nobody knows."""
    harvest = knowledge.value("harvest")
    if harvest is None or harvest.months is None:
        return None
    first, last = harvest.months
    if in_months(today, first, last, southern=southern):
        return 0.0
    return float((today.month - season_month(last, southern)) % 12)


def months_to_ripen(knowledge: Knowledge, today: date, *, southern: bool) -> float | None:
    """Months until the kind is shed again, none while it is being shed; ``None``: nobody knows."""
    harvest = knowledge.value("harvest")
    if harvest is None or harvest.months is None:
        return None
    first, last = harvest.months
    if in_months(today, first, last, southern=southern):
        return 0.0
    return float((season_month(first, southern) - today.month) % 12)


def kept_said(lot: Lot) -> bool:
    """Whether the grower said how it was kept: moist, dry, or under treatment."""
    told = lot.days_dry is not None or lot.stored_years > 0 or lot.lain_moist or lot.sown is not None
    told = told or lot.swollen == "some" or lot.smell in ("sour", "rotten")
    return "moisture" not in lot.assumed or told or lot.gathered == "ground_spring"


def hard_coat(knowledge: Knowledge) -> bool:
    """Whether the kind has a coat that lets no water in."""
    dormancy = knowledge.value("dormancy")
    return dormancy is not None and dormancy.class_ in ("physical", "combinational")


@lru_cache(maxsize=8192)
def is_growing(day: date, practice: Practice, *, southern: bool) -> bool:
    """Whether seedlings planted out on a day have a growing season before them."""
    opens = season_day(day.year, practice.growing_opens, southern)
    closes = season_day(day.year, practice.growing_closes, southern)
    return opens <= day < closes if opens <= closes else day >= opens or day < closes


def frost_ahead(lot: Lot, day: date, practice: Practice) -> bool:
    """Whether a day of a first half-year lies before the last frost: as said, as is usual, of practice."""
    northern = (season_month(day.month, lot.southern), day.day)
    if lot.winter == "none" or northern >= practice.midsummer:
        return False
    last = season_day(day.year, practice.frost_free_opens, lot.southern).isoformat()[5:]
    if lot.last_frost is not None and not frost_odd(lot):
        last = lot.last_frost.isoformat()[5:]  # of whatever year
    return day.isoformat()[5:] < (lot.usual_frost or last)


def short_of_summer(lot: Lot, day: date, practice: Practice) -> bool:
    """Whether a day of the growing season leaves too little of it for fruit of what frost kills."""
    left = day + timedelta(days=practice.crop_days)
    growing = (is_growing(each, practice, southern=lot.southern) for each in (day, left))
    return lot.winter != "none" and list(growing) == [True, False]


@lru_cache(maxsize=8192)
def _summer_over(day: date, practice: Practice, *, southern: bool) -> bool:
    """Whether a day lies after the last warmth that a summer gives and before the soil has cooled."""
    closes = season_day(day.year, practice.summer_closes, southern)
    return closes <= day < season_day(day.year, practice.late_autumn_opens, southern)


@lru_cache(maxsize=8192)
def is_late(day: date, practice: Practice, *, southern: bool) -> bool:
    """Whether so little of a growing season is left that seedlings go into winter small."""
    later = day + timedelta(days=practice.growing_left_days)
    return is_growing(day, practice, southern=southern) and not is_growing(later, practice, southern=southern)


def _spring_far(day: date, practice: Practice, *, southern: bool) -> bool:
    """Whether the growing season opens farther off than seed that was chilled can be held back."""
    later = day + timedelta(days=practice.wintered_wait_days)
    growing = (is_growing(each, practice, southern=southern) for each in (day, later))
    return not any(growing)


@lru_cache(maxsize=8192)
def autumn_of(today: date, practice: Practice, *, southern: bool) -> Literal["now", "ahead", "next"]:
    """Whether the season of sowing outdoors in autumn is open, ahead within the year, or one away."""
    opens, closes = (
        min((season_day(year, day, southern) - today).days for year in (today.year, today.year + 1)
            if season_day(year, day, southern) >= today)
        for day in (practice.autumn_opens, practice.autumn_closes)
    )  # fmt: skip
    if closes < opens:  # it closes before it opens again
        return "now"
    return "ahead" if opens <= practice.season_ahead_days else "next"


def _warm_first(treatment: Treatment) -> bool:
    if "rooted" in treatment.when:
        return False
    moist = [s for s in treatment.steps if s.do in MOIST and s.need == "required"]
    return len(moist) > 1 and moist[0].do not in COLD and any(s.do in COLD for s in moist)


def _overdue(lot: Lot, knowledge: Knowledge, practice: Practice) -> Literal["no", "cold", "idle"]:
    """Whether it has lain cold far longer than any treatment of the record, and the usual wait, take.

    Idle is what had nothing to wait for: moist and warm for longer than any treatment and the sprouting
    take, or cold for all the usual wait where no treatment has a cold. Of seed that rests deeply, or is
    sown for two winters, nobody can tell.
    """
    if not lot.cold_days_done and not lot.warm_days_done:
        return "no"
    steps = [t.steps for t, _ in knowledge.treatments()]
    cold = max((sum(s.days.high for s in each if s.do in COLD and s.days) for each in steps), default=0)
    if cold and lot.cold_days_done > cold + practice.wintered_wait_days:
        return "cold"
    dormancy, germination = knowledge.value("dormancy"), knowledge.value("germination")
    deep = dormancy is not None and dormancy.class_ in _DEEP
    shut = hard_coat(knowledge) or any(opens_first(each) for each in steps)
    if shut and lot.swollen != "yes":  # what has not swollen lies moist for years and lives
        return "no"
    if deep or not steps or any(s.outdoors for each in steps for s in each):
        return "no"
    up = germination.days.high if germination and germination.days else practice.up_weeks_days
    warm = max(
        (sum(s.days.high for s in each if s.do in MOIST - COLD and s.days) for each in steps), default=0
    )
    if not cold and lot.cold_days_done > up + practice.wintered_wait_days:
        return "idle"
    spent = not (cold or lot.cold_days_done) and lot.warm_days_done > warm + up + practice.idle_days
    return "idle" if spent else "no"


_DEEP = ("morphophysiological", "morphological", "combinational")


def _yes(value: object) -> YesNo:
    return "yes" if value else "no"
