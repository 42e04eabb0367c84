"""What must hold of every recipe: what comes off before it is judged; where and in which season it is sown.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from meeting import Met

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


PLACES: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        what_has_to_come_off_is_off_before_the_test,
        what_the_record_takes_off_is_taken_off,
    )
}
