"""What must hold of every recipe in awkward states: seasons, counts, what the grower said.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

from meeting import Met

from coldspell.records.do import COLD, MOIST
from coldspell.views.days import day_of
from coldspell.write.units import spelled_date

Faults = list[str]

_DARK = (10, 11, 12, 1, 2)
"""Months in which no seedling grows outdoors (north)."""
_TOLD = re.compile(
    r"free of frost|[Nn]o seedling|keep the pots warm|[Kk]eep it warm|not frozen|not freeze|on warm|"
    r"sown outdoors|at room warmth|brightest place|in a cold frame|in the warm and light|lie until it warms"
)


def nothing_is_sown_in_the_dark_without_a_word(met: Met) -> Faults:
    """What is sown or potted while no seedling grows outdoors has a place where it can."""
    does, lot = met.recipe.does, met.plan.lot
    if does.page != "plan" or does.sown not in ("first_day", "target", "when_waited") or lot.winter == "none":
        return []
    sown = next((date.fromisoformat(s.start) for s in met.recipe.steps if s.do == "sow" and s.start), None)
    if sown is None:
        return []
    month = (sown.month + 5) % 12 + 1 if lot.southern else sown.month
    waits = met.recipe.route == "sow_now_or_hold"  # the ground or the cold, and the root at once
    # outdoors its winter is still to come
    waits = waits or any(s.do == "sow" and _OUTDOORS.search(s.text) for s in met.recipe.steps)
    if met.plan.decisions.facts["autumn_sown"] == "yes":  # a tree that is sown in autumn, in its place
        stands = "where the tree is to stand"
        waits = waits or any(s.do == "sow" and stands in s.text for s in met.recipe.steps)
    if month in _DARK and not waits and not any(map(_TOLD.search, (*met.sentences, *_warmth(met)))):
        return [f"sown on {sown} and no word on light or frost ({met.recipe.route})"]
    return []


_OUTDOORS = re.compile(r"^Outdoors|in a drained bed")


def _warmth(met: Met) -> tuple[str, ...]:
    sowing = met.recipe.sowing
    return (sowing.warmth,) if sowing and sowing.warmth else ()


def what_takes_a_day_has_one(met: Met) -> Faults:
    """A soak of a day, and coats that are tried for two, do not fall on the day of the next step."""
    steps = [s for s in met.recipe.steps if s.start and re.match(r"Soak a day|An adult tries", s.text)]
    waited = met.recipe.steps and any(s.do == "hold" and s.end != s.start for s in met.recipe.steps)
    return [
        f"“{s.text[:40]}” on {s.start} alone" for s in steps if waited and s.end == s.start and _room(met)
    ]


def a_soak_is_over_before_the_sowing(met: Met) -> Faults:
    """A soak, or coats that are tried for days, has days of its own before a sowing on the first day."""
    steps = met.recipe.steps
    sown = next((s for s in steps if s.do == "sow" and s.start), None)
    if sown is None or any(s.do in MOIST and s.start for s in steps):
        return []
    before = [s for s in steps[: steps.index(sown)] if s.do == "soak" or _TRIED.match(s.text)]
    return [f"“{s.text[:40]}” takes no time" for s in before if s.start is None or s.end == s.start]


_TRIED = re.compile(r"Soak a day|An adult tries")


def _room(met: Met) -> bool:
    """Whether the wait before the treatment is long enough for what comes on its last days."""
    dated = met.plan.decisions.schedule
    return (dated.plan.start - dated.first).days > 7


def no_cold_is_offered_to_what_needs_none(met: Met) -> Faults:
    """Where no treatment on record has a cold and nothing dies dry, no line puts seed into one."""
    steps = [s.do for t, _ in met.knowledge.treatments() for s in t.steps]
    if not steps or any(do in COLD for do in steps) or met.dies_dry:
        return []
    facts = met.plan.decisions.facts
    if facts["root_first"] == "yes" or facts["on_record"] == "no" or met.said.get("cold_days_done"):
        return []
    cold = re.compile(r"stay moist and cold|go on to the cold|short roots stay in the cold bag")
    return [f"“{m[0]}” for a kind without cold" for m in map(cold.search, met.sentences) if m]


_DAYS_BEFORE = re.compile(r"sowing is set (\d+) days before it")


def nothing_said_is_denied(met: Met) -> Faults:
    """No line says that something was not said which was, or speaks of a day that is not the plan's."""
    said, notes, found = met.said, " ".join(met.recipe.notes), []
    if (said.get("sow") or said.get("last_frost")) and "You gave no sowing day" in notes:
        found.append("a sowing day was given, and is denied")
    sown = next((s.start for s in met.recipe.steps if s.do == "sow"), None)
    if said.get("last_frost") and not said.get("sow") and "sowing is set" in notes:
        days = abs(
            (date.fromisoformat(str(said["last_frost"])) - date.fromisoformat(sown or "2000-01-01")).days
        )
        told = _DAYS_BEFORE.search(notes)  # what frost kills may be raised long before it, where that is said
        if days > 29 and (told is None or int(told[1]) != days):
            found.append(f"sowing is said to be set by the last frost, and is {days} days from it")
    wanted = str(said.get("sow") or "")
    comes_up = met.recipe.sowing.comes_up_days if met.recipe.sowing else None
    slow = comes_up is not None and comes_up[0] > 90  # sown in spring, it shows in autumn
    late = "Not this spring" in met.recipe.verdict.sentence
    if late and not slow and sown and wanted and sown <= wanted:
        found.append("late, though sown by the day that was wanted")
    if met.plan.lot.moisture == "dried" and any("until it is dry" in text for text in met.sentences):
        found.append("dried, and to be dried")
    return found


_MANY = re.compile(
    r"\bup to \d+ seeds along|Throw out soft, leaking|dig one up|1 layer of 1\b|[Cc]ut a few open"
)


def one_seed_is_one(met: Met) -> Faults:
    """Of one seed nothing is sorted, none is dug up for the others, and it lies in no rows."""
    if met.plan.lot.seeds > 1 or met.recipe.route == "already_sown":
        return []
    return [f"“{m[0]}” of one seed" for m in [_MANY.search(met.page)] if m]


_SINGLY = re.compile(r"\bOne by one in pots|a deep pot for each|Lay the seeds \d+ mm apart")


def nobody_handles_thousands_singly(met: Met) -> Faults:
    """Of more than a thousand none is potted, laid or looked at one by one."""
    if met.plan.decisions.size.seeds <= 1000:
        return []
    return [f"“{m[0]}” of {met.plan.lot.seeds}" for m in [_SINGLY.search(met.page)] if m]


_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_COUNT = rf"({'|'.join(_WORDS)}|\d+)"
_TESTED = re.compile(rf"\b(?:cut|sow about|take) {_COUNT} (?:open|across|of them)", re.IGNORECASE)


def no_test_uses_up_the_lot(met: Met) -> Faults:
    """A test takes a quarter of the seeds at most, of five none, and one lot is tested once in a way."""
    tests = [step.text for step in met.recipe.steps if step.do == "test"]
    found, seeds = [], met.plan.lot.seeds
    for text in tests:
        for word in _TESTED.findall(text):
            many = _WORDS.index(word.lower()) + 1 if word.lower() in _WORDS else int(word)
            if many * 4 > seeds or seeds <= 5:
                found.append(f"{many} of {seeds} are tested")
    cut = [text for text in tests if re.search(r"\b[Cc]ut .*(?:open|floaters)", text)]
    return found + [f"{len(cut)} cut tests side by side"] * (len(cut) > 1)


def a_sown_tray_is_not_stirred(met: Met) -> Faults:
    """What was sown on a tray before its cold is neither mixed nor washed nor potted out of it."""
    if met.recipe.medium is None or met.recipe.medium.form != "tray":
        return []
    looks = met.recipe.checks.looks if met.recipe.checks else ()
    texts = [look.then_do for look in (*looks, *met.recipe.what_if)]
    bad = re.compile(r"\bmix\b|\b[Ww]ash all|Pot what shows|at \S+ mm pot")
    return [f"“{m[0]}” in a tray" for m in map(bad.search, texts) if m]


def looks_speak_of_the_medium_there_is(met: Met) -> Faults:
    """Seed in paper or alone has no medium to halve or renew."""
    medium = met.recipe.medium
    if medium is None or medium.packs not in ("rolled", "loose"):
        return []
    texts = [look.then_do for look in (met.recipe.checks.looks if met.recipe.checks else ())]
    return [f"“{text}” ({medium.form})" for text in texts if "medium" in text]


def one_answer_how_long_to_wait(met: Met) -> Faults:
    """How many springs bare pots are kept is said in one line."""
    rows = [*(look.then_do for look in met.recipe.what_if), *(note.text for note in met.recipe.offspring)]
    told = [row for row in rows if re.search(r"second (?:or|and|spring)|two springs", row)]
    return [f"“{told[0]}” and “{told[1]}”"] if len(told) > 1 else []


def now_and_next_year_are_not_both_right(met: Met) -> Faults:
    """No way out sows outdoors now while the way without a refrigerator waits for the next autumn."""
    ways = " ".join(way.text for way in met.recipe.timing.ways_out)
    other = " ".join(each.text for each in met.recipe.instead)
    later = re.search(r"outdoors (?:next autumn|next summer|in summer)", other)
    return [f"“Sow outdoors now” and “{later[0]}”"] if later and "outdoors now" in ways else []


def plants_wanted_get_an_answer(met: Met) -> Faults:
    """Who says how many plants are wanted is told how many seeds to start, or that nobody can tell."""
    want = met.said.get("want")
    if not want or met.recipe.does.page not in ("plan", "test") or met.recipe.route == "already_sown":
        return []
    told = re.search(rf"for (?:{want}|{want:,}) plants".replace(",", r"\s"), met.page)
    return [] if told else [f"{want} plants wanted, and no answer"]


_FEW = re.compile(r"expect (?:few|little)|count on few")
_HANGS = re.compile(r"\b[Ii]f\b[^.]*$")
"""A sentence that says few only if something is so; the number is for where it is not."""


def few_are_not_promised_as_many(met: Met) -> Faults:
    """Where a sentence says few, the number beside it is not half of the seeds."""
    plants = met.recipe.expectation.plants if met.recipe.expectation else None
    few = (m for m in map(_FEW.search, met.sentences) if m)
    said = next((m[0] for m in few if not _HANGS.search(m.string[: m.start()])), None)
    if said is None or plants is None or met.plan.lot.rooted:
        return []
    return [f"“{said}” and {plants[0]:g}–{plants[2]:g} plants"] if plants[1] * 3 > met.plan.lot.seeds else []


_TAKEN = re.compile(r"(?:You gave no sowing day; (?=.* is taken)|\bSow them on )(\d{1,2} \w+ \d{4})")


def the_day_that_is_taken_is_that_of_the_sowing(met: Met) -> Faults:
    """The day that a note says was taken, and the day of the answer, is the day of the step."""
    texts = (*met.recipe.notes, met.recipe.verdict.sentence)
    taken = next((m[1] for m in map(_TAKEN.search, texts) if m), None)
    sown = next((s.start for s in met.recipe.steps if s.do == "sow" and s.start), None)
    if taken is None or sown is None or taken == spelled_date(date.fromisoformat(sown)):
        return []
    return [f"{taken} is taken, and it is sown on {sown}"]


def a_pit_has_no_plug(met: Met) -> Faults:
    """Of what lies in a pit outdoors nothing is said that only a refrigerator has."""
    medium = met.recipe.medium
    if medium is None or medium.form != "pit":
        return []
    return [f"“{m[0]}” in a pit" for m in [re.search(r"POWER OFF|refrigerator, off|Add days", met.page)] if m]


def what_had_its_root_waits_for_no_second_spring(met: Met) -> Faults:
    """Where nearly all have a root no row speaks of those that sleep for years."""
    if not met.plan.lot.mostly_rooted:
        return []
    rows = [each.then_do for each in met.recipe.what_if]
    return [f"“{m[0]}”" for m in map(re.compile(r"second or third spring").search, rows) if m]


_POTTED = re.compile(r"\bto a pot\b|in pots or trays")


def what_is_sown_in_place_is_not_potted(met: Met) -> Faults:
    """What its record sows where it is to grow gets a pot where somebody asked, or none grows outdoors."""
    sowing = met.knowledge.value("sowing")
    if sowing is None or not sowing.in_place or met.recipe.does.page != "plan":
        return []
    now = met.recipe.does.sown == "first_day" and met.plan.decisions.facts["growing_now"] == "no"
    dark = met.plan.decisions.facts.get("open_air") not in (None, "open")
    if met.said.get("grow_in") == "container" or now or dark:
        return []
    if met.plan.lot.rooted or met.recipe.route in ("sow_now_or_hold", "rooted_until_spring"):
        return []
    return [
        f"“{m[0]}” of what is sown in place"
        for s in met.recipe.steps
        if s.do == "sow" and (m := _POTTED.search(s.text))
    ]


_ITS_PLACE = re.compile(
    r"where (?:it|they) (?:is|are|shall) (?:to )?(?:grow|stand|flower|stay)|\bIn place\b", re.I
)


def pots_and_place_do_not_meet(met: Met) -> Faults:
    """No step sows into pots and says in the same breath that it is sown where it is to grow."""
    return [
        f"“{place[0]}” and “{pot[0]}”"
        for s in met.recipe.steps
        if s.do == "sow" and (place := _ITS_PLACE.search(s.text)) and (pot := _POTTED.search(s.text))
    ]


def up_after_it_was_sown(met: Met) -> Faults:
    """Nothing comes up on the day it is sown."""
    up = met.plan.up
    sown = met.plan.lot.sown or met.plan.sowing_day
    if up is None or sown is None or up.up > sown:
        return []
    told = f"from about {day_of(sown.isoformat(), met.recipe.asked_on)}"
    return [f"sown on {sown}, up on {up.up}: {told}"]


AWKWARD: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        nothing_is_sown_in_the_dark_without_a_word,
        what_takes_a_day_has_one,
        a_soak_is_over_before_the_sowing,
        no_cold_is_offered_to_what_needs_none,
        nothing_said_is_denied,
        one_seed_is_one,
        nobody_handles_thousands_singly,
        no_test_uses_up_the_lot,
        a_sown_tray_is_not_stirred,
        looks_speak_of_the_medium_there_is,
        one_answer_how_long_to_wait,
        now_and_next_year_are_not_both_right,
        plants_wanted_get_an_answer,
        few_are_not_promised_as_many,
        the_day_that_is_taken_is_that_of_the_sowing,
        a_pit_has_no_plug,
        what_had_its_root_waits_for_no_second_spring,
        what_is_sown_in_place_is_not_potted,
        pots_and_place_do_not_meet,
        up_after_it_was_sown,
    )
}
