"""What was assumed, and what the grower should know of it: the notes under the verdict."""

from __future__ import annotations

from coldspell.arithmetic.calendar import add_days
from coldspell.arithmetic.seasons import FROST_OFFSET_DAYS, in_months, months_between, season_month
from coldspell.recipe import practice
from coldspell.recipe.aftercare import hold_until
from coldspell.recipe.amounts import Amounts, SeedMeasure
from coldspell.recipe.case import Case
from coldspell.recipe.dates import outdoor_day, sowing_target
from coldspell.recipe.wording import MONTHS, plural, spelled_date


def notes(case: Case, seed: SeedMeasure, amount: Amounts) -> tuple[str, ...]:
    """What was assumed, said openly."""
    found = []
    route = case.decisions.answer("route")
    if route in (
        "ask",
        "identify_first",
        "do_not",
        "gather_anew",
        "test_first",
    ):
        return ()
    if "seeds" in case.lot.assumed and case.lot.kilograms is None:
        several = plural(case.knowledge.record.unit, 2)
        found.append(f"You did not say how many; reckoned for {case.lot.seeds} {several}.")
    if "moisture" in case.lot.assumed:
        found.append(f"You did not say whether they were dried; taken as {case.lot.moisture}.")
    found += _out_of_season(case)
    found += _behind_it(case)
    found += _past_its_hold(case)
    found += _date_not_used(case, route)
    found += _some_rooted(case, route)
    found += _bare_kernels(case)
    found += _shed_long_ago(case)
    if case.decisions.chosen is not None and case.decisions.chosen.left_out:
        found.append(
            "There is no time for the moist spell that would help; it is left out, and fewer may come up."
        )
    if case.lot.swollen == "some":
        found.append(
            "Those that have swollen do not wait: go on with them today. The waiting is for the others."
        )
    found += _frost_date(case)
    if case.lot.collected and case.lot.collected > case.today:
        found.append(f"They are not gathered yet; reckoned from {spelled_date(case.lot.collected)}.")
    room, needed = case.lot.fridge_litres, amount.space_litres
    if room is not None and needed is not None and needed > room:
        takes, have = case.units.volume(needed), case.units.volume(room)
        found.append(f"It takes about {takes} of cold room; you have {have}. Start fewer, or in two turns.")
    if not seed.from_record and case.decisions.answer("medium") == "bag":
        found.append("The record has no seed size; spacing is reckoned for a typical one of its class.")
    if (case.decisions.answer("place") or "").startswith("mend_"):
        found.insert(0, case.said("place"))
    if case.decisions.answer("identity") in ("unsure", "genus_only", "common_practice_only"):
        found.append(case.said("identity"))
    return tuple(found)


def _date_not_used(case: Case, route: str | None) -> list[str]:
    """What became of the sowing date that the grower gave, where the seed or the seasons set another."""
    wanted, first = case.lot.sow, case.decisions.schedule.first
    if wanted is None:
        return []
    if wanted < first and case.decisions.answer("time") != "too_short":
        return ["The sowing date you gave is past."]
    if route == "sow_outdoors":
        shape = str(case.decisions.facts["shape"])
        *_, least = practice.OUTDOOR_SOWING.get(shape, practice.OUTDOOR_SOWING["other"])
        late = add_days(outdoor_day(case.lot, first, shape), least) > wanted
        if late:
            return [
                "Sown outdoors, the seasons set the time; it is too late for the spring of the date you gave."
            ]
        return ["Sown outdoors, the seasons set the time; of the date you gave only the year counts."]
    now = (
        route in ("treat_indoors", "warm_indoors", "sow_now_wintered")
        and case.decisions.schedule.target is None
    )
    if (now or route in ("sow_soon", "sow_now_warm", "plant_now", "pot_and_keep_cold")) and (
        wanted - first
    ).days > 7:
        return ["Your sowing date is not used; this seed does not wait for it."]
    return []


def _some_rooted(case: Case, route: str | None) -> list[str]:
    """What becomes of the rooted part of a lot, or of the part that has not rooted."""
    rooted, lot = case.lot.rooted, case.lot.seeds
    if not 0 < rooted < lot:
        return []
    if route in ("plant_now", "pot_and_keep_cold"):
        return ["Those not yet rooted stay moist and cold; look every week, and pot each as it roots."]
    them = f"The {rooted} that have rooted" if rooted > 1 else "The one that has rooted"
    if case.decisions.facts["root_first"] == "yes":
        return [f"{them}: pot root down and keep moist and cold until spring. All below is for the others."]
    return [f"{them}: plant now, root down. All below is for the others."]


def _bare_kernels(case: Case) -> list[str]:
    """A remark where the days of whole stones are used for kernels or cracked ones."""
    chosen, shell = case.decisions.chosen, case.lot.shell
    if shell not in ("kernel", "cracked") or chosen is None or not chosen.candidate.moist_days:
        return []
    meant = chosen.candidate.treatment.when.get("shell")
    if meant == shell or (isinstance(meant, list) and shell in meant):
        return []
    what = "bare kernels" if shell == "kernel" else "cracked ones"
    return [
        f"The days are those of whole ones; {what} often need far fewer and rot sooner. Look from week two."
    ]


def _frost_date(case: Case) -> list[str]:
    """How the sowing date follows from the last frost."""
    if case.lot.sow is not None or case.lot.last_frost is None:
        return []
    early = -FROST_OFFSET_DAYS[case.lot.grow_in]
    where = f"{early} days before it, in pots under cover" if early else "on that day"
    return [f"The last frost you gave is {spelled_date(case.lot.last_frost)}; sowing is set {where}."]


def _behind_it(case: Case) -> list[str]:
    """Days that the lot has had and that were taken off."""
    chosen = case.decisions.chosen
    if chosen is None or not chosen.candidate.begun:
        return []
    had = [
        f"{days:g} days of moist {kind}"
        for days, kind in ((case.lot.warm_days_done, "warmth"), (case.lot.cold_days_done, "cold"))
        if days
    ]
    return [f"It has had {' and '.join(had)}; what counts of that is taken off below."] if had else []


def _past_its_hold(case: Case) -> list[str]:
    """A remark when the sowing date lies beyond what a source allows the lot to wait."""
    target, until = sowing_target(case.lot), hold_until(case)
    waits = case.decisions.schedule.held or case.decisions.answer("route") == "sow_now_or_hold"
    if target is None or until is None or not waits or until >= target:
        return []
    late = (target - until).days
    days = "1 day" if late == 1 else f"{late} days"
    by = spelled_date(until)
    return [f"Your sowing date is {days} past what its record allows it to wait; sow or pot by {by}."]


def _shed_long_ago(case: Case) -> list[str]:
    """A remark on seed called fresh, without a date, long after its kind is shed, where it soon dies."""
    facts, harvest = case.decisions.facts, case.knowledge.value("harvest")
    if case.lot.collected or facts["moisture"] != "fresh" or harvest is None or harvest.months is None:
        return []
    if facts["ripens"] != "spring" or facts["keeps"] == "years":
        return []
    shed = season_month(harvest.months[1], case.lot.southern)
    since = (case.today.month - shed) % 12
    return (
        ["It is shed in spring; if yours has lain for months, cut some open before you sow."]
        if since > 2
        else []
    )


def _out_of_season(case: Case) -> list[str]:
    """A remark when the lot was gathered far from the months in which this kind ripens."""
    harvest, gathered = case.knowledge.value("harvest"), case.lot.collected
    if gathered is None or harvest is None or harvest.months is None or case.lot.gathered == "ground_spring":
        return []
    first, last = harvest.months
    wide = ((first - 2) % 12 + 1, last % 12 + 1)
    if len(months_between(*wide)) >= 12 or in_months(gathered, *wide, southern=case.lot.southern):
        return []
    names = " to ".join(MONTHS[season_month(m, case.lot.southern) - 1] for m in dict.fromkeys((first, last)))
    month = MONTHS[gathered.month - 1]
    return [f"It usually ripens in {names}; yours was gathered in {month}. Is it that kind?"]
