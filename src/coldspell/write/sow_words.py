"""How warm the record has it sown, in words."""

from __future__ import annotations

from collections.abc import Iterable

from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.records.model import Step
from coldspell.texts import Texts
from coldspell.write.units import Units


def sown_at(steps: Iterable[Step], units: Units, texts: Texts) -> str:
    """The degrees at which a treatment is sown, by day and by night; empty where its record gives none."""
    sown = next((step for step in steps if step.do == "sow" and step.celsius), None)
    if sown is None or sown.celsius is None:
        return ""
    day = units.temperature(sown.celsius)
    if sown.celsius_night is None:
        return day
    return texts.say("day_and_night", day=day, night=units.temperature(sown.celsius_night))


def coolest(knowledge: Knowledge, units: Units) -> str:
    """The coolest soil in which it comes up well; empty where its record gives none."""
    sowing = knowledge.value("sowing")
    return units.temperature(sowing.celsius_min) if sowing and sowing.celsius_min else ""


def warmest(knowledge: Knowledge, practice: Practice, units: Units) -> str:
    """The warmest soil for sowing: that of the record, or of common practice for chilled seed."""
    sowing = knowledge.value("sowing")
    return units.temperature((sowing and sowing.celsius_max) or practice.sow_cool_celsius)
