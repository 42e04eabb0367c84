"""What is known once the plan is made, for the rules of the notes."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Literal

from coldspell.arithmetic.calendar import add_days, total_days
from coldspell.arithmetic.seasons import in_months, months_between
from coldspell.decide.decide import Decisions
from coldspell.decide.emergence import Emergence
from coldspell.decide.facts import yes
from coldspell.decide.judge import Judged
from coldspell.decide.practice import Practice
from coldspell.decide.schedule import frost_odd, sowing_target
from coldspell.decide.sizing import SeedMeasure
from coldspell.decide.sowing_season import sowing_season, sown_sooner
from coldspell.decide.state import DAYS_PER_YEAR, is_growing, is_late, months_since_shed
from coldspell.lot.lot import Lot
from coldspell.lot.place import half_of
from coldspell.plan.amounts import Amounts
from coldspell.records.do import MOIST

if TYPE_CHECKING:
    from coldspell.decide.names.closed import YesNo
    from coldspell.decide.names.facts import NoteFacts


def note_facts(
    decisions: Decisions,
    today: date,
    until: date | None,
    amount: Amounts,
    seed: SeedMeasure,
    practice: Practice,
    up: Emergence | None,
    sown: date | None,
) -> NoteFacts:
    """The facts that the decision on notes asks for."""
    lot, dated, chosen = decisions.lot, decisions.schedule, decisions.chosen
    target, first = sowing_target(lot, sown_sooner(dated.season, practice)), dated.first
    taken_off = chosen is not None and _days_taken_off(decisions, chosen)
    room, needed = lot.fridge_litres, amount.space_litres
    return {
        "count_assumed": _count_assumed(lot),
        "moisture_assumed": yes("moisture" in lot.assumed and lot.days_dry is None),
        "out_of_season": _out_of_season(decisions),
        "had_days": yes(taken_off and (lot.warm_days_done or lot.cold_days_done)),
        "break_alone": yes(lot.cold_break_days and not lot.cold_days_done),
        "date_moved": yes(target is not None and target >= first and _moved(target, dated.target, practice)),
        "autumn_serves": yes(_autumn_serves(decisions, target, practice)),
        "frost_odd": yes(frost_odd(lot)),
        "place_odd": yes(_other_half(lot)),
        "age_odd": yes(_age_odd(lot, today, practice)),
        "fresh_stored": yes(lot.moisture == "fresh" and not lot.lain_moist and lot.stored_years > 0),
        "days_past_hold": None if target is None or until is None else float((target - until).days),
        "date_past": yes(target < first) if target and (lot.sow or target < first) else "unknown",
        "ready_late": yes(dated.target is None and dated.asked and dated.plan.ready > dated.asked),
        "years_off": _years_off(up, max(first, target or first), practice, lot),
        "up_apart": yes(up and sown and (up.up - sown).days > practice.up_apart_days),
        "now_ready": _now_ready(decisions, practice),
        "sown_to_come": yes(up is not None and lot.sown is None),
        "outdoor_late": _outdoor_late(up, lot.sow, practice),
        "days_to_date": None if lot.sow is None else float((lot.sow - first).days),
        "date_kept": yes(dated.target is not None),
        "rooted_part": yes(0 < lot.rooted < lot.seeds),
        "days_of_whole": _days_of_whole(decisions),
        "collected_said": yes(lot.collected),
        "months_since_shed": months_since_shed(decisions.knowledge, today, southern=lot.southern),
        "frost_usual": yes(lot.usual_frost is not None),
        "date_from_frost": yes(
            lot.sow is None and target is not None and not _moved(target, dated.target, practice)
        ),
        "room_lacking": yes(room is not None and needed is not None and needed > room),
        "size_known": yes(seed.from_record),
    }


def _other_half(lot: Lot) -> bool:
    """Whether the place that was said lies on the other half of the world than is reckoned with."""
    half = half_of(lot.place or "")
    return half != "unknown" and (half == "southern") != lot.southern


def _autumn_serves(decisions: Decisions, asked: date | None, practice: Practice) -> bool:
    """Whether dry seed that wants cold alone could be sown outdoors on the autumn day that was given."""
    facts, lot = decisions.facts, decisions.lot
    dry = facts["bears_drying"] != "no" and facts["lain_moist"] == "no"
    cold = facts["shape"] == "cold" and lot.winter in ("cold", "unknown")
    if asked is None or not (dry and cold):
        return False
    return in_months(asked, *map(int, practice.autumn_asked_months), southern=lot.southern)


def _age_odd(lot: Lot, today: date, practice: Practice) -> bool:
    """Whether it is said to have lain longer than since the day of gathering."""
    if lot.collected is None:
        return False
    lain = max((today - lot.collected).days, 0)
    return lot.stored_years * DAYS_PER_YEAR > lain + practice.age_slack_days


def _moved(asked: date | None, planned: date | None, practice: Practice) -> bool:
    """Whether the sowing day that was given is not kept, by more than some days."""
    return bool(asked and planned) and abs((planned - asked).days) > practice.look_weekly_days  # type: ignore[operator]


def _days_taken_off(decisions: Decisions, chosen: Judged) -> bool:
    """Whether moist days of the treatment on record lie behind the lot."""
    name = chosen.candidate.treatment.name
    whole = next((t.steps for t, _ in decisions.knowledge.treatments() if t.name == name), ())
    left = {(s.do, s.days) for s in chosen.candidate.treatment.steps if s.do in MOIST}
    return any(s.do in MOIST and (s.do, s.days) not in left for s in whole)


def _outdoor_late(up: Emergence | None, asked: date | None, practice: Practice) -> YesNo:
    """Whether what is sown outdoors comes up only after the spring of the day that was given."""
    return yes(up is not None and asked is not None and add_days(asked, int(practice.up_weeks_days)) < up.up)


def _years_off(up: Emergence | None, day: date, practice: Practice, lot: Lot) -> float:
    """Springs that pass between a day, the first possible or the one asked for, and that of coming up."""
    if up is None:
        return 0.0
    near = sowing_season(practice, lot).day_for(day)
    return float(max(0, round((up.up - near).days / DAYS_PER_YEAR)))


def ready_now(decisions: Decisions) -> date | None:
    """The day on which it is ready when its treatment starts on the first day."""
    chosen = decisions.chosen
    timed = chosen.candidate.timed if chosen else ()
    return add_days(decisions.schedule.first, total_days(timed)[1]) if timed else None


def _now_ready(decisions: Decisions, practice: Practice) -> Literal["yes", "late", "no"]:
    """Whether it could be ready while seedlings still grow for a while, though a later season is planned."""
    ready, dated, southern = ready_now(decisions), decisions.schedule, decisions.lot.southern
    if ready is None or not dated.assumed or dated.target is None or ready >= dated.target:
        return "no"
    if (dated.target - ready).days < practice.growing_left_days:
        return "no"  # it is the season that is planned for
    if not is_growing(ready, practice, southern=southern):
        return "no"
    if not is_late(ready, practice, southern=southern):
        return "yes"
    summer = sowing_season(practice, decisions.lot, "summer").time_of(ready) == "summer"
    return "late" if summer else "no"


def _days_of_whole(decisions: Decisions) -> YesNo:
    """Whether the days of whole stones are used for kernels or cracked ones."""
    chosen, shell = decisions.chosen, decisions.lot.shell
    if shell not in ("kernel", "cracked") or chosen is None or not chosen.candidate.moist_days:
        return "no"
    meant = chosen.candidate.treatment.when.get("shell")
    return yes(not (meant == shell or (isinstance(meant, list) and shell in meant)))


def _out_of_season(decisions: Decisions) -> YesNo:
    """Whether the lot was gathered far from the months in which this kind ripens."""
    lot, harvest = decisions.lot, decisions.knowledge.value("harvest")
    wintered = lot.gathered == "ground_spring"
    if lot.collected is None or harvest is None or harvest.months is None or wintered:
        return "no"
    first, last = harvest.months
    wide = ((first - 2) % 12 + 1, last % 12 + 1)
    inside = months_between(first, last)
    always = wide[0] in inside or wide[1] in inside or wide[0] == wide[1]  # it ripens nearly all year
    return yes(not always and not in_months(lot.collected, *wide, southern=lot.southern))


def _count_assumed(lot: Lot) -> Literal["yes", "no", "wanted"]:
    """Whether the number of seeds was assumed: as usual, or as many as the plants wanted take."""
    if "seeds" not in lot.assumed or lot.kilograms is not None:
        return "no"
    return "yes" if lot.seeds == Lot().seeds else "wanted"
