"""Checks of treatments: steps that can be followed, temperatures within limits, some way for every lot."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from coldspell.check.base import (
    Fault,
    KeyPath,
    RecordFile,
    Surroundings,
    ends,
    footnotes,
    shown,
    steps,
)
from coldspell.check.limits import limits
from coldspell.near import did_you_mean
from coldspell.records.do import DO, HEAT, MOIST, OPENING
from coldspell.records.when import WHEN, can_hold, holds

_LACKING = {"days": "days", "celsius": "a temperature", "minutes or hours": "a time", "substance": "its name"}


def step_not_usable(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A step nobody can follow: moist without days, hot water without temperature, acid without time."""
    for path, _, step in steps(record.values):
        needs = DO[step["do"]].needs
        keys = needs.split(" or ")
        if needs and not any(key in step for key in keys):
            what = f"{step['do']} without {_LACKING[needs]}"
            yield Fault(path, what, f"Add '{keys[0]}:' from a source, or leave the treatment out.")


def cold_outside_limits(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Cold outside −3 to 15 °C: such a step is not moist chilling."""
    yield from _outside(
        record, "cold_moist", limits().cold.limits, "Check the number; outside this it is no cold treatment."
    )


def cold_outside_usual_range(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Cold outside 0 to 10 °C."""
    yield from _outside(
        record,
        "cold_moist",
        limits().cold.usual,
        "Check the source, or accept this with the reason.",
        limits().cold.limits,
    )


def warm_outside_limits(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Warmth outside 10 to 35 °C: such a step is not warm moist stratification."""
    yield from _outside(
        record, "warm_moist", limits().warm.limits, "Check the number; outside this it is no warm treatment."
    )


def warm_outside_usual_range(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Warmth outside 15 to 35 °C."""
    yield from _outside(
        record,
        "warm_moist",
        limits().warm.usual,
        "Check the source, or accept this with the reason.",
        limits().warm.limits,
    )


def _outside(
    record: RecordFile,
    does: str,
    allowed: tuple[float, float],
    mend: str,
    within: tuple[float, float] | None = None,
) -> Iterator[Fault]:
    """Find indoor steps outside a range; with ``within``, only those inside the wider one."""
    for path, _, step in steps(record.values):
        if step["do"] != does or "celsius" not in step or step.get("outdoors"):
            continue
        low, high = ends(step["celsius"])
        if within and (low < within[0] or high > within[1]):
            continue
        if low < allowed[0] or high > allowed[1]:
            what = f"{does} at {shown(step['celsius'])} °C is outside {allowed[0]:g} to {allowed[1]:g} °C"
            yield Fault((*path, "celsius"), what, mend)


def hold_outside_limits(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Treated seed held outside −3 to 5 °C: colder kills, warmer sprouts."""
    coldest, warmest = limits().hold
    for number, treatment in enumerate(record.values.get("treatments", ())):
        celsius = treatment.get("hold", {}).get("celsius")
        if celsius is not None and (ends(celsius)[0] < coldest or ends(celsius)[1] > warmest):
            what = f"a hold at {shown(celsius)} °C is outside {coldest:g} to {warmest:g} °C"
            yield Fault(("treatments", number, "hold", "celsius"), what, "Check the number.")


def hold_from_range(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A hold that only repeats what a range of days leaves over, under the same footnote."""
    for number, treatment in enumerate(record.values.get("treatments", ())):
        hold, moist = (
            treatment.get("hold"),
            [s for s in treatment["steps"] if s["do"] in MOIST and "days" in s],
        )
        if not hold or not moist or not set(footnotes(hold["cite"])) & set(footnotes(treatment["cite"])):
            continue
        low, high = ends(moist[-1]["days"])
        if low < high and ends(hold["days"])[1] in (high, high - low):
            what = f"a hold of {shown(hold['days'])} days is what the range {low:g} to {high:g} leaves over"
            mend = "Take it out unless the source speaks of holding; then accept this with the reason."
            yield Fault(("treatments", number, "hold", "days"), what, mend)


def unknown_condition(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A ``when`` that asks for a fact or a value no lot can have."""
    for number, treatment in enumerate(record.values.get("treatments", ())):
        for fact, wanted in treatment.get("when", {}).items():
            path: KeyPath = ("treatments", number, "when", fact)
            if fact not in WHEN:
                yield Fault(path, f"a lot has no fact '{fact}'", did_you_mean(fact, WHEN))
                continue
            for value in wanted if isinstance(wanted, list) else [wanted]:
                if not can_hold(fact, value):
                    yield _impossible(path, fact, value)


def _impossible(path: KeyPath, fact: str, value: Any) -> Fault:
    words = WHEN[fact].words
    known = ", ".join(words) if words else "a number, 'up to n' or 'over n'"
    mend = did_you_mean(str(value), words, f"Allowed: {known}.")
    return Fault(path, f"'{value}' is not something '{fact}' can be", mend)


def no_treatment_for_a_moisture(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """No treatment suits a fresh lot, or none suits a dried one (recalcitrant seed: fresh only)."""
    values = record.values
    if values["rank"] == "genus":
        return
    treatments = values.get("treatments", ())
    if not treatments:
        yield Fault((), "there is no treatment", "Add one; if nothing is needed: {do: sow}.")
        return
    recalcitrant = values.get("storage", {}).get("behaviour") == "recalcitrant"
    for moisture in ("fresh",) if recalcitrant else ("fresh", "dried"):
        if not any(holds(one.get("when", {}).get("moisture", moisture), moisture) for one in treatments):
            what = f"no treatment suits a {moisture} lot"
            yield Fault(
                ("treatments",), what, f"Add one with 'when: {{moisture: {moisture}}}' or without 'when'."
            )


def treatment_name_twice(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Two treatments of a record have one name."""
    seen: set[str] = set()
    for number, treatment in enumerate(record.values.get("treatments", ())):
        if treatment["name"] in seen:
            what = f"two treatments are named '{treatment['name']}'"
            yield Fault(("treatments", number, "name"), what, "Give each its own name.")
        seen.add(treatment["name"])


def physical_without_scarification(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Physical or combinational dormancy, and no treatment opens the coat."""
    values = record.values
    if values.get("dormancy", {}).get("class") not in ("physical", "combinational") or "asks" in values:
        return
    if values["rank"] == "genus" and "treatments" not in values:
        return
    if not any(step["do"] in OPENING | HEAT for _, _, step in steps(values)):
        what = f"{values['dormancy']['class']} dormancy, but no treatment opens the coat"
        yield Fault(("dormancy", "class"), what, "Add a step that scarifies, or correct the class.")


def none_with_cold_required(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Dormancy class ``none`` beside a first treatment that requires cold."""
    treatments = record.values.get("treatments", ())
    if record.values.get("dormancy", {}).get("class") != "none" or not treatments:
        return
    for index, step in enumerate(treatments[0]["steps"]):
        if step["do"] == "cold_moist" and step.get("need", "required") == "required":
            what = "the class is 'none', but the first treatment requires cold"
            mend = "Correct the class, write 'need: optional', or accept this with the reason."
            yield Fault(("treatments", 0, "steps", index), what, mend)
            return


def mixed_genus_with_treatments(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A genus record that asks which species, and gives treatments all the same."""
    if "asks" in record.values and record.values.get("treatments"):
        what = "the record asks which species is meant, and gives treatments all the same"
        yield Fault(("treatments",), what, "Take the treatments out: they hold for some of the species only.")
