"""What must hold of every recipe, whatever the lot: each a function from one met lot to the faults it shows.

Nothing here knows a right answer; each knows what can never be one. `INVARIANTS` holds them by name: for
drawn lots, for lots that somebody found, for fuzz tests. They judge what a grower gets, the recipe and its
page; the plan and the record are asked only for what the page cannot tell (what dies when it dries, which
days of the record were counted).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise

from invariants_dates import DATES
from invariants_kept import KEPT
from invariants_lots import LOTS
from invariants_meanwhile import MEANWHILE
from invariants_places import PLACES
from invariants_said import AWKWARD
from invariants_state import STATE
from invariants_today import TODAY
from invariants_winter import WINTER
from meeting import Met

from coldspell.api import shipped
from coldspell.decide.schedule import next_season
from coldspell.decide.treatment import opens_first
from coldspell.plan.notes import ready_now
from coldspell.plan.plan import planted_out
from coldspell.records.do import COLD, MOIST, OPENING
from coldspell.views.days import day_of
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Step
from coldspell.write.units import MONTHS

Faults = list[str]


def faults(met: Met) -> Faults:
    """Every fault of one lot, each with the name of its invariant."""
    return [f"{name}: {fault}" for name, holds in INVARIANTS.items() for fault in holds(met)]


# --- what is promised ---------------------------------------------------------------------------------------

DOUBTED = (
    *("dead", "gather_anew", "cut_more", "test_first", "test_kept"),
    *("sprout_first", "test_alongside", "sow_all"),
)
_SAID_DEAD = re.compile(r"\b(mostly dead|mostly fails?|often dead|[Pp]robably dead|may be dead)\b")
_PROMISED = re.compile(r"\bEXPECT\b|\bFor ten plants start \d|\bfor \d+ plants start\b")


def none_doubted_and_promised(met: Met) -> Faults:
    """A lot that is tested first or called dead has no number of plants, on the page or off it."""
    recipe, found = met.recipe, []
    plants = recipe.expectation.plants if recipe.expectation else None
    doubted = recipe.verdict.alive in DOUBTED or recipe.does.page == "refusal"
    if doubted and plants is not None:
        found.append(f"{plants[1]:g} plants of a lot that is {recipe.verdict.alive}")
    if doubted and _PROMISED.search(met.page):
        found.append(f"“{_PROMISED.search(met.page)[0]}” of a lot that is {recipe.verdict.alive}")  # type: ignore[index]
    called = next((m[0] for m in map(_SAID_DEAD.search, met.sentences) if m), None)
    if called and plants is not None and plants[1] * 2 > recipe.lot.said["seeds"]:  # type: ignore[operator]
        found.append(f"{plants[1]:g} plants of {recipe.lot.said['seeds']} that are “{called}”")
    return found


def nothing_is_promised_below_and_missing(met: Met) -> Faults:
    """What the answer points to stands on the page: the steps below, and the day on which a test is read."""
    recipe = met.recipe
    said = (recipe.verdict.sentence, *recipe.notes)
    pointing = [text for text in said if re.search(r"\b(?:as|given|off) below\b|follows\b", text)]
    found = [
        f"“{text[-60:]}” and no step" for text in pointing if not recipe.steps and recipe.does.page != "trial"
    ]
    read = re.search(r"on wet paper tell you by (\d+ \w+ \d{4})", recipe.verdict.sentence)
    if "oak all of them" in recipe.verdict.sentence and not any(s.do == "soak" for s in recipe.steps):
        found.append("nothing is soaked of what is all to be soaked")
    texts = " ".join(step.text for step in recipe.steps)
    return found + (["a test is read that nobody makes"] if read and "wet paper" not in texts else [])


# --- water, cold and coats ----------------------------------------------------------------------------------

_DRY_WAIT = re.compile(
    r"\b[Kk]eep (?:it|them|the seed) dry|\bdry, airtight|\bairy[^.]* until it is dry|surface is dry, no more"
    r"|[Ll]et it dry if|\bstays dry and cool"
)
WET = ("soak", "leach", "scarify_mechanical", "scarify_hot_water", "scarify_acid", "crack_shell")


def no_dry_wait_of_what_dies_dry(met: Met) -> Faults:
    """Nothing tells a grower to keep dry what dies when it dries, nor gives it a dry rest."""
    if not met.dies_dry:
        return []
    found = [f"“{m[0]}”" for m in map(_DRY_WAIT.search, met.sentences) if m]
    return found + [f"{step.do}: {step.text[:60]}" for step in met.recipe.steps if step.do == "after_ripen"]


def no_wet_seed_is_dried(met: Met) -> Faults:
    """What was soaked or opened is not kept dry after that."""
    steps = met.recipe.steps
    dry = [i for i, s in enumerate(steps) if s.do == "hold" and _DRY_WAIT.search(s.text)]
    return [f"{s.do} before it is kept dry" for s in steps[: dry[-1] if dry else 0] if s.do in WET]


_HALF_DRY = re.compile(r"do not let it dry|neither dries hard|cool and airy")
_LONGEST_HALF_DRY = 120
"""Days for which seed may be told to wait neither moist nor dry (common practice: one winter)."""


def no_long_wait_half_dry(met: Met) -> Faults:
    """Nothing waits for months neither moist nor dry, and no step calls itself a risk."""
    long = [
        f"{(end - start).days} days: “{step.text[:60]}”"
        for step, start, end in _days(met.recipe.steps)
        if step.do == "hold" and (end - start).days > _LONGEST_HALF_DRY and _HALF_DRY.search(step.text)
    ]
    return long + [f"“{s.text[:60]}”" for s in met.recipe.steps if re.search(r"\bis a risk\b", s.text)]


_FOREVER = 500
"""Days in moist warmth after which seed without hard coat or deep rest is not alive unsprouted."""
_RESTS = ("morphophysiological", "morphological", "combinational", "physical")


def nothing_is_promised_of_what_lay_for_ever(met: Met) -> Faults:
    """Of seed without rest that lay moist and warm for so long, no number of plants is promised."""
    dormancy, plants = met.knowledge.value("dormancy"), met.recipe.expectation
    treatments = [t.steps for t, _ in met.knowledge.treatments()]
    rests = dormancy is not None and dormancy.class_ in _RESTS
    spells = any(s.do in MOIST or s.outdoors for each in treatments for s in each)
    lay = met.said.get("warm_days_done", 0) > _FOREVER and not met.said.get("cold_days_done")
    looked = met.said.get("cut") or met.said.get("rooted") or met.said.get("root_mm")
    if rests or spells or not treatments or not lay or looked or not plants or plants.plants is None:
        return []
    return [f"{plants.plants[1]:g} plants after {met.said['warm_days_done']} days"]


def no_test_takes_the_lot(met: Met) -> Faults:
    """Of three seeds or fewer none is cut."""
    few = met.plan.lot.seeds <= 3
    cut = (re.search(r"\b[Cc]ut one \(if", text) for text in met.sentences)
    return [f"“{m[0]}” of {met.plan.lot.seeds}" for m in cut if few and m]


_LIES_MOIST = re.compile(r"\bmoist\b|\bbag\b|\bpit\b")


def no_sprouting_seed_waits_dry(met: Met) -> Faults:
    """What shows a root or has swollen waits moist or not at all; what is shut beside it may lie dry."""
    said, dormancy = met.said, met.knowledge.value("dormancy")
    hard = dormancy is not None and dormancy.class_ in ("physical", "combinational")
    if hard and said.get("swollen") != "yes" and met.plan.lot.rooted < met.plan.lot.seeds:
        return []
    if met.plan.lot.sown or not (said.get("rooted") or said.get("root_mm") or said.get("swollen") == "yes"):
        return []
    holds = [s for s in met.recipe.steps if s.do in ("hold", "after_ripen")]
    return [f"waits: “{s.text[:60]}”" for s in holds if not _LIES_MOIST.search(s.text)]


def no_days_counted_behind_a_shut_coat(met: Met) -> Faults:
    """Moist days count only if water could get in: not for a hard coat that nobody opened."""
    lot, chosen = met.plan.lot, met.plan.decisions.chosen
    dormancy = met.knowledge.value("dormancy")
    if dormancy is None or dormancy.class_ not in ("physical", "combinational"):
        return []
    if lot.rooted or lot.swollen not in ("no", "unknown") or lot.gathered in ("ground_spring", "green"):
        return []
    if not (lot.cold_days_done or lot.warm_days_done):
        return []
    name = chosen.candidate.treatment.name if chosen else None
    whole = next((t for t, _ in met.knowledge.treatments() if t.name == name), None)
    if whole is None or not (lot.swollen == "no" or opens_first(whole.steps)):
        return []
    wanted = [s.do for s in whole.steps if s.do in MOIST | OPENING and s.need == "required"]
    got = [s.do for s in met.recipe.steps if s.do in MOIST | OPENING]
    found = []
    if met.recipe.does.steps == "whole" and [do for do in wanted if do not in got]:
        found.append(f"of {wanted} only {got} are left after days behind a shut coat")
    if met.recipe.route == "sow_now_wintered":
        found.append("a winter behind a shut coat")
    told = any("coat" in text for text in (met.recipe.verdict.sentence, *met.recipe.notes))
    silent = met.recipe.does.page != "plan" or met.recipe.route == "already_sown"
    return found if told or found or silent else ["nothing said of days that do not count"]


def no_cold_shorter_than_its_source(met: Met) -> Faults:
    """A moist spell lasts at least the shortest days that the record gives it, less what the lot has had."""
    found = []
    for step in met.recipe.steps:
        if step.do not in MOIST or step.days is None or step.start is None or step.end is None:
            continue
        planned = (date.fromisoformat(step.end) - date.fromisoformat(step.start)).days
        if step.need == "required" and planned < int(step.days[0]):
            found.append(f"{step.do} of {planned} days where the least is {step.days[0]:g}")
    return found


def no_cold_for_what_it_injures(met: Met) -> Faults:
    """Seed that a refrigerator injures is neither chilled nor kept in one."""
    if met.plan.decisions.facts["chilling_injures"] == "no":
        return []
    found = [f"{step.do}" for step in met.recipe.steps if step.do in COLD]
    cold = re.compile(r"moist and cold|in the cold bag|a refrigerator is good|just above freezing|cold frame")
    return found + [f"“{m[0]}”" for m in map(cold.search, met.sentences) if m]


# --- days ---------------------------------------------------------------------------------------------------


def _days(steps: Sequence[Step]) -> Iterator[tuple[Step, date, date]]:
    for step in steps:
        if step.start is not None and step.end is not None:
            yield step, date.fromisoformat(step.start), date.fromisoformat(step.end)


def days_in_order(met: Met) -> Faults:
    """No step begins before today or before the one above it, ends before it begins, or has no day at all."""
    found, last = [], met.today
    for step, start, end in _days(met.recipe.steps):
        if start < last:
            found.append(f"{step.do} of {start} after a step of {last}")
        if end < start:
            found.append(f"{step.do} ends before it starts")
        if step.do in MOIST and end == start:
            found.append(f"{step.do} without a day")
        last = start
    moist = [(start, end) for step, start, end in _days(met.recipe.steps) if step.do in MOIST]
    found += [f"a moist spell of {b} within the one to {a}" for (_, a), (b, _) in pairwise(moist) if b < a]
    sown = next((start for step, start, _ in _days(met.recipe.steps) if step.do == "sow"), None)
    if sown and moist and sown < moist[-1][1]:
        found.append(f"sown on {sown}, before its treatment ends")
    return found


def a_day_nobody_gave_is_never_too_late(met: Met) -> Faults:
    """Without a sowing day there is none to miss, and everything to be done has its day."""
    said, recipe = met.said, met.recipe
    if any(said.get(name) for name in ("sow", "last_frost", "sown")):
        return []
    found = ["too late for a day that nobody gave"] if recipe.timing.fits == "too_short" else []
    return found + [f"{s.do} without a day" for s in recipe.steps if s.do in MOIST | {"sow"} and not s.start]


_WORK = ("soak", "leach", "test")
"""Days of work are no wait."""


def no_outdoor_wait_past_its_season(met: Met) -> Faults:
    """What is sown outdoors waits for the season that comes next, and what dies dry does not wait."""
    if met.recipe.does.sown != "outdoor_day":
        return []
    sown = next((start for step, start, _ in _days(met.recipe.steps) if step.do == "sow"), None)
    if sown is None:
        return ["sown outdoors on no day"]
    worked = [(end - start).days for step, start, end in _days(met.recipe.steps) if step.do in _WORK]
    waits = (sown - met.plan.decisions.schedule.first).days - sum(worked)
    asked = met.plan.decisions.schedule.asked
    found = []
    if waits > 366 and not (asked and (asked - met.today).days > 366):
        found.append(f"waits {waits} days for its season")
    if waits and met.dies_dry:
        found.append(f"dies dry and waits {waits} days")
    first = met.plan.decisions.schedule.first
    month = (first.month + 5) % 12 + 1 if met.plan.lot.southern else first.month
    if waits and month in (11, 12) and not (asked and (asked - met.today).days > 366):
        found.append(f"waits {waits} days in the season itself")
    return found


_DATE = re.compile(rf"\b(\d{{1,2}}) ({'|'.join(MONTHS)})( \d{{4}})?\b")


def text_and_values_name_the_same_days(met: Met) -> Faults:
    """Each day of a step stands on the page, and the answer names no day that no value holds."""
    recipe, found = met.recipe, []
    if recipe.asks is not None:
        return []
    for step, start, end in _days(recipe.steps):
        for day in (start, end):
            shown = day_of(day.isoformat(), recipe.asked_on)
            if shown not in met.page:
                found.append(f"{step.do}: {shown} is not on the page")
    known = set(_known_days(met))
    for text in (recipe.verdict.sentence, *recipe.notes, *(s.text for s in recipe.steps)):
        for day, month, year in _DATE.findall(text):
            named = date(int(year or met.today.year), MONTHS.index(month) + 1, int(day)) if year else None
            if named is not None and named not in known:
                found.append(f"{named} is named and is no day of the plan: “{text[:60]}”")
    sown = [start for step, start, _ in _days(recipe.steps) if step.do == "sow"]
    if recipe.sowing and recipe.sowing.date and sown and recipe.sowing.date != sown[0].isoformat():
        found.append(f"sowing.date {recipe.sowing.date}, step {sown[0]}")
    return found


def _known_days(met: Met) -> Iterator[date]:
    """Every day that a value of the recipe or a fact of the lot holds, and the day before and after."""
    recipe, lot, dated = met.recipe, met.plan.lot, met.plan.decisions.schedule
    texts = [recipe.asked_on, recipe.timing.start_first, recipe.timing.start_last]
    texts += [recipe.hold.until] if recipe.hold else []
    texts += [way.date for way in recipe.timing.ways_out]
    for step in recipe.steps:
        texts += [step.start, step.end, step.end_earliest, step.end_latest]
    yield from (date.fromisoformat(text) for text in texts if text)
    yield from (day for day in (lot.collected, lot.sow, lot.sown, lot.last_frost) if day)
    yield from (day for day in (dated.asked, dated.target) if day)
    yield from (dated.first, dated.plan.ready, dated.plan.start)
    yield from filter(None, [ready_now(met.plan.decisions), next_season(dated)])
    yield planted_out(met.plan.decisions, shipped().tables.practice)
    short, up = dated.infeasible, met.plan.up
    if up is not None:
        yield from (up.up, up.failed)
    if short is not None and short.next_target is not None:
        yield from (short.next_target, short.next_target - timedelta(days=int(short.needed_days)))


# --- the hemisphere -----------------------------------------------------------------------------------------

_SOWN_NORTH = (4, 6)
"""First and last month in which seed is sown on a day that was taken from the season (north)."""


def place_right_for_the_hemisphere(met: Met) -> Faults:
    """The shady side and the months of the seasons are those of where the grower is.

    Where winters are warm no month is out of season: what is kept for so long is sown when that ends.
    """
    south, found = met.plan.lot.southern, []
    wrong = "north" if south else "south"
    side = re.compile(rf"\b(which is the {wrong}|{wrong}(ern)? side)\b")
    found += [f"“{m[0]}”" for m in map(side.search, met.sentences) if m]
    dated = met.plan.decisions.schedule
    told = any("No seedling stands outdoors" in note for note in met.recipe.notes)
    told = told or met.plan.lot.winter == "none"
    sown = met.recipe.does.sown in ("target", "when_waited") and not told
    if sown and dated.assumed and dated.target and dated.target > dated.plan.ready:
        month = (dated.target.month + 5) % 12 + 1 if south else dated.target.month
        if not _SOWN_NORTH[0] <= month <= _SOWN_NORTH[1]:
            found.append(f"a sowing day was taken out of season: {dated.target}")
    return found


# --- contradictions -----------------------------------------------------------------------------------------

CLASHES: tuple[tuple[str, str], ...] = (
    (r"\b[Oo]n (?:its|their) side\b", r"\b(?:root down|hump up\w*|broad end down)\b"),
    (r"\bnot covered\b|\buncovered\b|\bon the surface\b(?! or)", r"\b\d[–\d]* mm deep\b"),
    (r"\bSow cool\b|\bno heat mat\b", r"\bbottom heat\b|\bSow it warm\b|\bin (?:its )?warmth\b"),
    (r"\bWait for warm soil\b", r"\bSow cool\b|\bin cool soil\b"),
    (r"\b[Ll]ayers of damp\b", r"\bMix the seeds with\b|\bparts? of (?:damp )?medium\b"),
    (r"\b(?:loosely|no tight lid)\b", r"\bairtight\b|\bsealed\b"),
    (r"\bKeep dark\b", r"\b(?:Give light|it needs light|in the light)\b"),
    (r"\blook every week\b(?! or two)", r"\blook(?:ed at)? every (?:week or )?two weeks?\b"),
)
"""Two things that are not said of one step."""


def no_step_contradicts_itself(met: Met) -> Faults:
    """Within one step, and within what is said of lying in the medium, no two things exclude each other."""
    recipe = met.recipe
    texts = []
    for step in recipe.steps:
        text = step.text
        if step.do == "sow" and recipe.sowing and recipe.sowing.warmth:
            text = f"{text} {recipe.sowing.warmth}"
        texts.append((step.do, text))
    if recipe.medium is not None:
        laid, medium = recipe.layout.says if recipe.layout else "", recipe.medium
        texts.append(("medium", " ".join((medium.says, laid, medium.closure, medium.place))))
    found = [
        f"{do}: “{a[0]}” and “{b[0]}”"
        for do, text in texts
        for one, other in CLASHES
        if (a := re.search(one, text)) and (b := re.search(other, text))
    ]
    return found + _seasons_of_sowing(met)


def _seasons_of_sowing(met: Met) -> Faults:
    """The season of sowing that a step names is that of its day, or is said to be the usual one."""
    found = []
    for step, start, _ in _days(met.recipe.steps):
        month = (start.month + 5) % 12 + 1 if met.plan.lot.southern else start.month
        for said in re.split(r"(?<=[.?!]) ", step.text) if step.do == "sow" else ():
            if re.search(r"\belse\b|\bsorts\b", said):  # hangs on the place or the sort, and is told whole
                continue
            clause = re.split("[,;]", said)[0]
            named = re.findall(rf"(?<!all )\b(early |late )?({_ANY})\b", clause, re.I)  # "moist all summer"
            told = re.match(rf"(?:At once in |In |Late |Early |Fresh,? in |{_ANY})", clause, re.I)
            if told and named and not any(_within(month, *name) for name in named):
                found.append(f"sown on {start}, and “{clause[:60]}”")
    return found


_SEASONS = {"spring": (3, 5), "summer": (6, 8), "autumn": (9, 11), "winter": (12, 2)}
_ANY = "|".join((*_SEASONS, *MONTHS))


def _within(month: int, part: str, name: str) -> bool:
    """Whether a month lies in a season or month that is named, or next to it."""
    if name.title() in MONTHS:
        return True  # a range; its ends are months
    first, last = _SEASONS[name.casefold()]
    if part:
        first = last = last if "late" in part.casefold() else first
    return (month - first + 1) % 12 <= (last - first) % 12 + 2


def intervals_agree(met: Met) -> Faults:
    """One length for one spell, and one answer to how long it keeps."""
    recipe, found = met.recipe, []
    for step in recipe.steps:
        if step.do not in MOIST or step.days is None:
            continue
        named = [float(n) for n in re.findall(r"\b(\d+)(?:–\d+)? days\b", step.text.split(". ")[0])]
        if named and not any(step.days[0] <= n <= step.days[2] for n in named):
            found.append(f"{step.do}: {named} and {step.days}")
    hold, moist = recipe.hold, [end for step, _, end in _days(recipe.steps) if step.do in MOIST]
    until = hold.until if hold and recipe.route == "treat_indoors" else None
    if until and moist and until < moist[-1].isoformat():
        found.append("to be held for less than it is treated")
    if hold and re.search(r"\b[Nn]o longer than it takes|\bNot at all\b", hold.says):
        for text in (*(s.text for s in recipe.steps), *(w.then_do for w in recipe.what_if)):
            if re.search(r"\bcan wait a week or two\b|\bbuys\b", text):
                found.append(f"keeps “{hold.says[:30]}” and “{text[:40]}”")
    return found


# --- wording ------------------------------------------------------------------------------------------------


def nothing_left_open(met: Met) -> Faults:
    """No placeholder, no empty range or brackets, no stray comma or stop."""
    found = [bad for bad in ("{", "()", " ,", " . ", "..", "0–0 ") if bad in met.page.replace("...", "")]
    if met.recipe.does.page != "question" and not met.recipe.verdict.sentence.strip():
        found.append("no answer")
    return found


INVARIANTS: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        none_doubted_and_promised,
        nothing_is_promised_below_and_missing,
        no_dry_wait_of_what_dies_dry,
        no_wet_seed_is_dried,
        no_sprouting_seed_waits_dry,
        no_long_wait_half_dry,
        nothing_is_promised_of_what_lay_for_ever,
        no_test_takes_the_lot,
        no_days_counted_behind_a_shut_coat,
        no_cold_shorter_than_its_source,
        no_cold_for_what_it_injures,
        days_in_order,
        a_day_nobody_gave_is_never_too_late,
        no_outdoor_wait_past_its_season,
        text_and_values_name_the_same_days,
        place_right_for_the_hemisphere,
        no_step_contradicts_itself,
        intervals_agree,
        nothing_left_open,
    )
} | AWKWARD | DATES | STATE | WINTER | MEANWHILE | PLACES | LOTS | KEPT | TODAY


# --- several recipes of one lot -----------------------------------------------------------------------------


def plants_grow_with_the_count(recipes: Sequence[Recipe]) -> Faults:
    """Of the same lot with more seeds, no fewer plants are expected."""
    found = []
    for less, more in pairwise(recipes):
        if less.expectation and more.expectation and less.expectation.plants and more.expectation.plants:
            pairs = zip(less.expectation.plants, more.expectation.plants, strict=True)
            found += [f"{a:g} and {b:g} plants of {_counts(less, more)}" for a, b in pairs if b < a]
    return found


def amounts_grow_with_the_count(recipes: Sequence[Recipe]) -> Faults:
    """For the same lot with more seeds, kept in the same way, no less is needed to keep it in."""
    found = []
    for less, more in pairwise(recipes):
        if less.medium is None or more.medium is None or less.medium.form != more.medium.form:
            continue
        for name in ("litres", "space_litres", "sheets"):
            a, b = getattr(less.medium, name), getattr(more.medium, name)
            if a is not None and b is not None and b < a:
                found.append(f"{name} {a:g} and {b:g} for {_counts(less, more)} ({less.medium.form})")
    return found


def _counts(less: Recipe, more: Recipe) -> str:
    return f"{less.lot.said['seeds']} and {more.lot.said['seeds']} seeds"
