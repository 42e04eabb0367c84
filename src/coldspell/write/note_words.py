"""Words for the notes under the verdict: what was assumed, had, found and is lacking."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldspell.arithmetic.seasons import FROST_OFFSET_DAYS, season_month
from coldspell.decide.practice import Practice
from coldspell.decide.sowing_season import sown_sooner
from coldspell.plan.notes import ready_now
from coldspell.plan.plan import Plan
from coldspell.texts import Texts
from coldspell.write.units import MONTHS, Units, number, plural, round_down, spelled_date, spelled_days

if TYPE_CHECKING:
    from coldspell.decide.names.words import NoteWords


def note_words(plan: Plan, texts: Texts, units: Units, practice: Practice) -> NoteWords:
    """Words for the notes under the verdict."""
    lot, ready = plan.lot, ready_now(plan.decisions)
    past, space = plan.note_facts["days_past_hold"], plan.amounts.space_litres
    unit = plan.decisions.knowledge.record.unit
    early = -FROST_OFFSET_DAYS[lot.grow_in] + sown_sooner(plan.decisions.schedule.season, practice)
    named = "rooted_any" if "rooted" in lot.assumed else "rooted_some" if lot.rooted > 1 else "rooted_one"
    return {
        "counted": f"{lot.seeds} {plural(unit, 2)}",
        "ripe_months": _ripe_months(plan, texts),
        "gathered_month": MONTHS[lot.collected.month - 1] if lot.collected else "",
        "had": _had(plan, texts),
        "past_hold": "" if past is None else spelled_days(past),
        "hold_until": spelled_date(plan.hold_until) if plan.hold_until else "",
        "those_rooted": texts.say(named, count=lot.rooted),
        "last_frost": spelled_date(lot.last_frost) if lot.last_frost else "",
        "usual_frost": _day_of_year(lot.usual_frost) if lot.usual_frost else "",
        "frost_days": spelled_days(early),
        "ready_now": spelled_date(ready) if ready else "",
        "collected": spelled_date(lot.collected) if lot.collected else "",
        "kept_since": _kept_since(plan, texts),
        "broken": spelled_days(lot.cold_break_days),
        "space_needed": "" if space is None else units.volume(space),
        "float_found": _floated(plan, texts),
        "space_had": "" if lot.fridge_litres is None else units.volume(lot.fridge_litres),
        "room_for": _room_for(plan),
    }


def _room_for(plan: Plan) -> str:
    """How many seeds the cold room takes that there is, rounded down to two figures."""
    needed, had = plan.amounts.space_litres, plan.lot.fridge_litres
    if not needed or had is None:
        return ""
    seeds = int(plan.decisions.size.seeds * had / needed)
    return number(round_down(seeds))


def _floated(plan: Plan, texts: Texts) -> str:
    """What the float test of the grower found."""
    told = plan.lot.float_test
    return "" if told is None else texts.say("float_found", floated=told[0], tried=told[1])


def _had(plan: Plan, texts: Texts) -> str:
    lot, say = plan.lot, texts.say
    warm = [say("had_warm", days=f"{lot.warm_days_done:g}")] if lot.warm_days_done else []
    cold = [say("had_cold", days=f"{lot.cold_days_done:g}")] if lot.cold_days_done else []
    return say("and").join(warm + cold)


def _kept_since(plan: Plan, texts: Texts) -> str:
    if plan.lot.collected:
        return texts.say("kept_since_day", day=spelled_date(plan.lot.collected))
    return texts.say("kept_since_shed", months=_ripe_months(plan, texts))


def _ripe_months(plan: Plan, texts: Texts) -> str:
    harvest = plan.decisions.knowledge.value("harvest")
    if harvest is None or harvest.months is None:
        return ""
    months = dict.fromkeys(harvest.months)
    names = [MONTHS[season_month(m, plan.lot.southern) - 1] for m in months]
    return texts.say("month_to").join(names)


def _day_of_year(day: str) -> str:
    month, number_of = map(int, day.split("-"))
    return f"{number_of} {MONTHS[month - 1]}"
