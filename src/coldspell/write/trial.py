"""Relatives, and how to learn what a kind wants, in words."""

from __future__ import annotations

from coldspell.decide.decide import fields_of
from coldspell.decide.kin import relatives_of
from coldspell.decide.names.fields import ArmFields
from coldspell.decide.relatives import Relative
from coldspell.plan.trial import Arm as PlannedArm
from coldspell.plan.trial import TrialDays
from coldspell.records.model import Quantity
from coldspell.rules import Firing
from coldspell.write.case import Case
from coldspell.write.recipe_trial import Arm, ArmStep, RelativeAnswer, Trial
from coldspell.write.recipe_work import Look, Note
from coldspell.write.steps import range_of
from coldspell.write.units import spelled_date, spelled_days


def relatives(case: Case) -> tuple[RelativeAnswer, ...]:
    """The species of the genus that are on record, with what they want and who says so."""
    return tuple(_relative(case, r) for r in relatives_of(case.knowledge, case.plan.lot, case.practice))


def _relative(case: Case, relative: Relative) -> RelativeAnswer:
    record, say = relative.record, case.texts.say
    wants, warm, cold = say(f"wants_{relative.wants}"), _days(relative.warm), _days(relative.cold)
    if warm and cold:
        wants = say("relative_both", wants=wants, warm=warm, cold=cold)
    elif warm or cold:
        wants = say("relative_days", wants=wants, days=warm or cold)
    says = [wants, say("relative_dies_dry")] if relative.dies_dry else [wants]
    return RelativeAnswer(
        name=record.name,
        record=record.path,
        wants=relative.wants,
        says=", ".join(says),
        warm_days=range_of(relative.warm),
        cold_days=range_of(relative.cold),
        dies_dry=relative.dies_dry,
        cites=case.footnotes.of_record(record, relative.treatment.cite),
    )


def trial(case: Case, asked: str) -> Trial | None:
    """What would harm first, the parts with their days, and what is written down."""
    planned = case.plan.trial
    if planned is None:
        return None
    return Trial(
        first=tuple(_note(case, firing) for firing in planned.harm),
        size=" ".join(case.says(firing) for firing in planned.size),
        arms=tuple(_arm(case, arm, planned.days, asked) for arm in planned.arms),
        write_down=tuple(_note(case, firing) for firing in planned.write_down),
    )


def _days(days: Quantity | None) -> str:
    """The span of some days, without the usual length."""
    return "" if days is None else spelled_days(Quantity(days.low, days.high))


def _note(case: Case, firing: Firing) -> Note:
    return Note(case.says(firing), _rule(firing), case.footnotes.of_rules((firing,)))


def _arm(case: Case, arm: PlannedArm, days: TrialDays, asked: str) -> Arm:
    start, say = spelled_date(days.start), case.texts.say
    steps = (
        ArmStep(case.says(s.rule), s.start.isoformat(), s.end.isoformat(), _rule(s.rule)) for s in arm.steps
    )
    outcomes = (Look(case.answer(f.decision, f.answer), case.says(f), _rule(f)) for f in arm.outcomes)
    return Arm(
        letter=arm.letter,
        kind=fields_of(arm.rule, ArmFields).arm,
        says=case.says(arm.rule),
        seeds=arm.seeds,
        label=say("arm_label", name=asked[:60], letter=arm.letter, seeds=arm.seeds, day=start),
        steps=tuple(steps),
        outcomes=tuple(outcomes),
        rule=_rule(arm.rule),
    )


def _rule(firing: Firing) -> str:
    return f"{firing.decision}: {firing.rule}"
