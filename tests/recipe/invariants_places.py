"""What must hold of every recipe: what comes off before it is judged; where and in which season it is sown.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from meeting import Met

from coldspell.arithmetic.seasons import season_month

Faults = list[str]

_JUDGES = re.compile(
    r"Put the seed in water|throw out (?:only )?what|Throw out soft|Look at it closely|crumbling or holed|"
    r"^Cut |Press a pinch|^They are too fine"
)
_OFF = ("remove_pulp", "remove_husk", "remove_wings", "ferment", "clean")


def what_has_to_come_off_is_off_before_the_test(met: Met) -> Faults:
    """Wax, wings, flesh and oil carry good seed in water and hide holes: they come off before any test."""
    found, judged = [], ""
    for step in met.recipe.steps:
        if step.do in ("clean", "test") and _JUDGES.search(step.text):
            judged = judged or step.text[:40]
        elif step.do in _OFF and judged and step.start is None and "sorting" not in step.rules[0]:
            found.append(f"“{judged}” before “{step.text[:40]}”")
    return found


def what_the_record_takes_off_is_taken_off(met: Met) -> Faults:
    """A cleaning of the treatment's own stands on the page, in its words, whatever the state of the lot."""
    chosen, route = met.plan.decisions.chosen, met.plan.decisions.route
    if chosen is None or route.steps == "none" or met.plan.decisions.facts["lain_moist"] == "yes":
        return []
    notes = [s.note for s in chosen.candidate.treatment.steps if s.do in _OFF and s.note]
    texts = " ".join(step.text.lower() for step in met.recipe.steps)
    return [f"“{note}” is missing" for note in notes if note.lower()[:25] not in texts]


def _sowing(met: Met) -> tuple[date, int, str] | None:
    """Day, northern month and words of a sowing that waits for no winter; none where nobody sows."""
    if met.recipe.does.page != "plan" or met.recipe.does.sown not in ("first_day", "target", "when_waited"):
        return None
    step = next((s for s in met.recipe.steps if s.do == "sow" and s.start), None)
    if step is None or step.start is None or met.plan.lot.winter == "none":
        return None
    day = date.fromisoformat(step.start)
    return day, season_month(day.month, met.plan.lot.southern), step.text


_OPEN_GROUND = re.compile(
    r"drained seedbed|of ground raked|where they are to (?:stand|grow)|of seedbed|"
    r"Only once (?:frosts|the soil)|in a bed\b|fine, weed-free soil|on bare, weed-free soil"
)


def nothing_that_frost_kills_lies_in_open_ground_in_the_dark(met: Met) -> Faults:
    """From autumn to late winter what frost kills is sown in no open ground."""
    sown = _sowing(met)
    if sown is None or met.plan.decisions.facts["tender"] != "yes" or 3 <= sown[1] <= 8:
        return []
    return [f"“{m[0]}” on {sown[0]}" for m in [_OPEN_GROUND.search(sown[2])] if m]


def pots_under_cover_wait_for_no_frost(met: Met) -> Faults:
    """What goes into pots or trays indoors is not told to wait until the soil outdoors is warm."""
    sown = _sowing(met)
    under = sown is not None and re.search(r"under cover, one to each|trays indoors", sown[2])
    return [f"“{m[0]}” under cover" for m in [_OPEN_GROUND.search(sown[2])] if m] if sown and under else []


def words_of_spring_are_said_in_spring(met: Met) -> Faults:
    """Weeks before the last frost are counted in spring alone, and no day of summer waits for its end."""
    sown = _sowing(met)
    if sown is None or sown[1] in (1, 2, 3, 4, 5):
        return []
    found = [m[0] for m in [re.search(r"weeks before the last frost", sown[2])] if m]
    return [f"“{text}” on {sown[0]}" for text in found]


def an_odd_last_frost_moves_nothing(met: Met) -> Faults:
    """A last frost that the half of the world cannot have is questioned, and no day is reckoned from it."""
    frost = met.plan.lot.last_frost
    if frost is None or season_month(frost.month, met.plan.lot.southern) <= 7:
        return []
    dated = met.plan.decisions.schedule
    own = {day.isoformat() for day in (dated.first, dated.plan.ready)}  # by chance the same day
    days = {(frost - timedelta(days=n)).isoformat() for n in (0, 28)} - own
    found = [f"{s.do} on {s.start}" for s in met.recipe.steps if s.do == "sow" and s.start in days]
    planned = met.recipe.does.page == "plan" and met.plan.lot.sown is None
    asked = any("does not fit the half of the world" in note for note in met.recipe.notes)
    return found + ([] if asked or not planned else ["nobody asks which frost it is"])


_IN_A_POT = re.compile(r"in a (?:sunk )?pot\b|Keep the pot\b|[Pp]ot what (?:has|shows)")
_THOUSANDS = 5000


def thousands_are_told_of_no_pot(met: Met) -> Faults:
    """What is said beside the steps fits the size of the lot: thousands go into a bed, into no one pot."""
    facts, recipe = met.plan.decisions.facts, met.recipe
    if float(facts["started"] or 0) <= _THOUSANDS or recipe.lot.said.get("want"):  # type: ignore[arg-type]
        return []
    beside = [each.text for each in recipe.instead] + [each.then_do for each in recipe.what_if]
    return [f"“{m[0]}” of thousands" for m in map(_IN_A_POT.search, beside) if m]


def one_medium_has_one_name(met: Met) -> Faults:
    """Where it lies in something other than sand, nothing that is said of the medium speaks of sand."""
    medium = met.recipe.medium
    if medium is None or "sand" in (medium.material or "") or "sand" in (medium.material_says or ""):
        return []
    said = [medium.says or "", met.recipe.layout.says if met.recipe.layout else ""]
    said += [each.then_do for each in met.recipe.what_if if "TOO WARM" in each.look_for]
    return [f"“{text[:50]}” of {medium.material}" for text in said if re.search(r"\bsand\b", text)]


def sand_at_hand_is_no_reason_for_paper(met: Met) -> Faults:
    """Who has sand and no paper, and more than a few seeds, is not sent for paper towels."""
    medium, few, shell = met.recipe.medium, met.plan.lot.seeds <= 12, met.said.get("shell")
    told = met.plan.lot.media
    if medium is None or medium.form != "towel_roll" or few or shell == "kernel" or met.plan.lot.want:
        return []
    return ["paper for one who has sand"] if "sand" in told and "paper" not in told else []


PLACES: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        what_has_to_come_off_is_off_before_the_test,
        what_the_record_takes_off_is_taken_off,
        nothing_that_frost_kills_lies_in_open_ground_in_the_dark,
        pots_under_cover_wait_for_no_frost,
        words_of_spring_are_said_in_spring,
        an_odd_last_frost_moves_nothing,
        thousands_are_told_of_no_pot,
        one_medium_has_one_name,
        sand_at_hand_is_no_reason_for_paper,
    )
}
