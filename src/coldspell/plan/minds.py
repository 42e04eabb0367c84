"""In which step each caution is minded: the first of the kind it joins; the rest are minded all along."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from coldspell.decide.decide import Decisions, fields_of
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import CautionFields
from coldspell.plan.steps import PlanStep
from coldspell.records.do import MOIST
from coldspell.rules import Firing

_DOES: dict[str, frozenset[str]] = {
    "opening": frozenset({"scarify_mechanical", "crack_shell"}),
    "hot_water": frozenset({"scarify_hot_water", "heat_bath"}),
    "flesh": frozenset({"remove_pulp", "ferment"}),
    "husk": frozenset({"remove_husk"}),
    "cleaning": frozenset({"clean"}),
    "packing": MOIST,
    "sowing": frozenset({"sow"}),
}
"""What a step does that a caution joins."""
_NAMES: dict[str, tuple[str, ...]] = {"cutting": ("{cut_some}", "{live_look}"), "mesh": ("{mesh}",)}
"""What a step of the rules names: how many are cut or what live seed looks like; the mesh above it."""


def minded(
    decisions: Decisions, steps: Sequence[PlanStep]
) -> tuple[tuple[PlanStep, ...], tuple[Firing, ...]]:
    """The steps with the cautions that belong to them, and the cautions that belong to none."""
    found, rest = list(steps), []
    for firing in decisions.rules(Ask.CAUTIONS):
        fields = fields_of(firing, CautionFields)
        at = next((i for i, step in enumerate(found) if _joins(fields.joins, step, i)), None)
        if at is not None:
            found[at] = replace(found[at], minds=(*found[at].minds, firing))
        elif fields.otherwise == "all_along":
            rest.append(firing)
    return tuple(found), tuple(rest)


def _joins(word: str, step: PlanStep, place: int) -> bool:
    if word == "first":
        return place == 0
    if word in _NAMES:
        return step.of_record is None and any(name in step.rules[0].says for name in _NAMES[word])
    return step.do in _DOES.get(word, ())
