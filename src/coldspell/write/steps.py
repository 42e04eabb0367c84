"""The steps of a plan in words, with their sources."""

from __future__ import annotations

import re
from datetime import date

from coldspell.arithmetic.seasons import in_months
from coldspell.decide.home import days_at_home
from coldspell.decide.judge import Judged
from coldspell.plan.steps import PlanStep
from coldspell.records.do import COLD
from coldspell.records.model import Quantity
from coldspell.records.model import Step as RecordStep
from coldspell.rules import Firing
from coldspell.write.case import Case
from coldspell.write.home import at_home
from coldspell.write.placeholders import fill_in
from coldspell.write.recipe_plain import Range
from coldspell.write.recipe_work import Step
from coldspell.write.seasonal import months_of_place, of_its_time
from coldspell.write.step_words import step_words


def steps(case: Case) -> tuple[Step, ...]:
    """Every step in order."""
    return tuple(_step(case, step) for step in case.plan.steps)


_IN_A_MEDIUM = r"^in (?:damp|moist|wet) (?:sand|peat|vermiculite|sphagnum|sawdust)(?=[,;]|$)"
"""What a source laid the seed in; the page says what it lies in here."""


def range_of(quantity: Quantity | None) -> Range | None:
    """Low, usual and high, as the source has them."""
    return None if quantity is None else (quantity.low, quantity.usual, quantity.high)


def describe(
    case: Case, judged: Judged, step: RecordStep, rule: Firing, day: date | None = None
) -> tuple[str, tuple[int, ...]]:
    """One step of a treatment in words, and its footnotes (practice for usual degrees).

    ``day`` is that on which it begins, where it has one.
    """
    cites = case.footnotes.of_record(judged.candidate.record, judged.candidate.treatment.cite)
    if step.celsius is None and case.practice.usual_celsius(step.do) is not None:
        cites = tuple(dict.fromkeys((*cites, case.footnotes.practice())))
    return _step_text(case, step, rule, day), cites


def _step_text(case: Case, step: RecordStep, rule: Firing, day: date | None) -> str:
    """What the rule says of a step; what the record adds comes last."""
    words = step_words(step, case.plan, case.practice, case.texts, case.units)
    text = fill_in(rule.says, {**case.words, **words})  # type: ignore[dict-item]
    if step.do in ("sow", "clean", "test") and step.note:
        text = ""  # the note says how
    if step.need == "optional":
        text = case.texts.say("helps", step=text.rstrip("."))
    return f"{text} {_sentence(case, step.note, day)}".strip() if step.note else text


def _sentence(case: Case, note: str, day: date | None) -> str:
    """A note of a record as a sentence of its own; of times of year only what fits the day of the step."""
    southern = case.plan.lot.southern
    told = note.rstrip(".")
    if day is not None:
        told = of_its_time(told, day, southern=southern, waits=_waits(case, day))
        told = re.sub(_IN_A_MEDIUM, "", told).strip(" ,;")
    told = months_of_place(told, southern=southern)
    return f"{told[0].upper()}{told[1:]}." if told else ""


def _waits(case: Case, day: date) -> bool:
    """Whether seed is no longer fresh from the plant on a day: dried, kept for weeks, out of its season."""
    lot, plan = case.plan.lot, case.plan
    harvest = case.knowledge.value("harvest")
    months = harvest.months if harvest is not None else None
    if months is not None and not in_months(day, *months, southern=lot.southern):
        return True
    dried = lot.moisture == "dried" and case.decisions.facts["chilling_injures"] == "no"
    return dried or (day - plan.today).days > case.practice.look_every_days


def _step(case: Case, step: PlanStep) -> Step:
    of_record, chosen = step.of_record, case.decisions.chosen
    if of_record is None or chosen is None:
        added = (_sentence(case, note, step.start) for note in step.adds)
        text = " ".join([case.says(step.rules[0]), *filter(None, added)])
        cites = case.footnotes.of_rules(step.rules)
    else:
        text, cites = describe(case, chosen, of_record, step.rules[0], step.start)
        if _waits_in(case, of_record, step):
            text = f"{text} {case.texts.say('then_waits')}"
    minds = list(
        map(case.says, step.minds)
    )  # a source is marked behind the text: what it does not say goes first
    text = " ".join([text, *minds] if of_record is None else [*minds, text])
    celsius = None
    if of_record is not None:
        celsius = of_record.celsius or case.practice.usual_celsius(of_record.do)
        if of_record.do == "cold_moist":
            celsius = at_home(case.plan, case.practice) or celsius
    return Step(
        do=step.do,
        text=text,
        days=range_of(days_at_home(of_record, case.decisions.cold_times)) if of_record else None,
        celsius=range_of(celsius),
        need=of_record.need if of_record else "required",
        until=of_record.until if of_record else "ready",
        start=_iso(step.start),
        end=_iso(step.end),
        start_day=None,
        end_day=None,
        end_earliest=_iso(step.end_earliest),
        end_latest=_iso(step.end_latest),
        rules=tuple(f"{f.decision}: {f.rule}" for f in (*step.rules, *step.minds)),
        cites=cites,
    )


def _waits_in(case: Case, of_record: RecordStep, step: PlanStep) -> bool:
    """Whether the step goes on for longer than its days: begun early, the seed waits where it lies."""
    days = days_at_home(of_record, case.decisions.cold_times)
    if days is None or of_record.do not in COLD or step.start is None or step.end is None:
        return False
    return (step.end - step.start).days > days.high + case.practice.look_weekly_days


def _iso(day: object) -> str | None:
    return None if day is None else str(day)
