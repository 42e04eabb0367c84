"""The steps of a plan in words, with their sources."""

from __future__ import annotations

from coldspell.decide.decide import fields_of
from coldspell.decide.home import days_at_home
from coldspell.decide.judge import Judged
from coldspell.decide.names.fields import RipeningFields
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


def range_of(quantity: Quantity | None) -> Range | None:
    """Low, usual and high, as the source has them."""
    return None if quantity is None else (quantity.low, quantity.usual, quantity.high)


def describe(
    case: Case, judged: Judged, step: RecordStep, rule: Firing, planned: PlanStep | None = None
) -> tuple[str, tuple[int, ...]]:
    """One step of a treatment in words, and its footnotes (practice for usual degrees).

    ``planned`` is the step of the plan, where it is one.
    """
    cites = case.footnotes.of_record(judged.candidate.record, judged.candidate.treatment.cite)
    if step.celsius is None and case.practice.usual_celsius(step.do) is not None:
        cites = tuple(dict.fromkeys((*cites, case.footnotes.practice())))
    return _step_text(case, step, rule, planned), cites


def _step_text(case: Case, step: RecordStep, rule: Firing, planned: PlanStep | None) -> str:
    """What the rule says of a step; what the record adds comes last."""
    words = step_words(step, case.plan, case.practice, case.texts, case.units)
    text = fill_in(rule.says, {**case.words, **words})  # type: ignore[dict-item]
    if step.do in ("sow", "clean", "test") and step.note:
        text = ""  # the note says how
    if step.need == "optional":
        text = case.texts.say("helps", step=text.rstrip("."))
    return f"{text} {_sentence(case, step.note, planned)}".strip() if step.note else text


def _sentence(case: Case, note: str, planned: PlanStep | None) -> str:
    """A note of a record as a sentence of its own; of times of year only what fits the day of the step."""
    southern = case.plan.lot.southern
    told = note.rstrip(".")
    if planned is not None and planned.start is not None and planned.ripening is not None:
        waits = fields_of(planned.ripening, RipeningFields).as_it_ripens == "left_out"
        told = of_its_time(told, planned.start, southern=southern, waits=waits)
    told = months_of_place(told, southern=southern)
    return f"{told[0].upper()}{told[1:]}." if told else ""


def _step(case: Case, step: PlanStep) -> Step:
    of_record, chosen = step.of_record, case.decisions.chosen
    if of_record is None or chosen is None:
        added = (_sentence(case, note, step) for note in step.adds)
        text = " ".join([case.says(step.rules[0]), *filter(None, added)])
        cites = case.footnotes.of_rules(step.rules)
    else:
        text, cites = describe(case, chosen, of_record, step.rules[0], step)
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
