"""What a short page says of relatives and of a trial: what would harm the seed, its parts, readings."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from coldspell.texts import Texts
from coldspell.views.days import day_of
from coldspell.views.sources import Sources
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_trial import Arm, Trial
from coldspell.write.units import number

Row = tuple[str, str]
_MOST = 8
"""Relatives that a short page lists."""


class Part(Struct, frozen=True):
    """One part of the seeds: its letter, what it is, and its steps with their days."""

    letter: str
    head: str
    steps: tuple[Row, ...]


class ShortTrial(Struct, frozen=True):
    """What a short page says of a trial."""

    sentence: str
    size: str
    first: tuple[Row, ...]
    parts: tuple[Part, ...]
    readings: tuple[Row, ...]


def short_trial(recipe: Recipe, texts: Texts, sources: Sources) -> ShortTrial | None:
    """The trial of a recipe, where it has one."""
    trial, say = recipe.trial, texts.say
    if trial is None:
        return None
    sentence = recipe.verdict.sentence
    if recipe.does.page != "trial":
        sentence = say("trial_of_known", sentence=sentence)
    label = say("first_label")
    first = ((label if i == 0 else "", sources.marked(n.text, n.cites)) for i, n in enumerate(trial.first))
    told: dict[str, str] = {}
    parts = tuple(_part(arm, texts, lambda day: day_of(day, recipe.asked_on), told) for arm in trial.arms)
    return ShortTrial(sentence, trial.size, tuple(first), parts, _readings(trial))


def _part(arm: Arm, texts: Texts, day: Callable[[str], str], told: dict[str, str]) -> Part:
    """One part; a step that stands with an earlier one (``told``, by its letter) is not told again."""
    unit = texts.say("seed_one" if arm.seeds == 1 else "seed_many")
    head = texts.say("arm_head", says=arm.says, seeds=number(arm.seeds), unit=unit, label=arm.label)
    steps = []
    for step in arm.steps:
        when = day(step.start) if step.start == step.end else f"{day(step.start)}–{day(step.end)}"
        first = told.setdefault(step.text, arm.letter)
        steps.append((when, step.text if first == arm.letter else texts.say("as_part", letter=first)))
    return Part(arm.letter, head, tuple(steps))


def _readings(trial: Trial) -> tuple[Row, ...]:
    """What each outcome means; what all parts share is told once, at the end."""
    letters: dict[Row, list[str]] = {}
    for arm in trial.arms:
        for outcome in arm.outcomes:
            letters.setdefault((outcome.look_for, outcome.then_do), []).append(arm.letter)
    rows = []
    for (look_for, then_do), of in sorted(letters.items(), key=lambda item: len(item[1])):
        alone = len(of) == len(trial.arms) or len(trial.arms) == 1
        rows.append((look_for if alone else f"{'/'.join(of)} {look_for}", then_do))
    return tuple(rows)


def relatives(recipe: Recipe, texts: Texts, sources: Sources, *, every: bool = False) -> tuple[Row, ...]:
    """The relatives on record, one to a row; of many the first, and of the others what they want."""
    say, kin = texts.say, recipe.relatives
    shown = kin if every or len(kin) <= _MOST + 1 else kin[:_MOST]
    rows = [sources.marked(say("relative", name=r.name, says=r.says), r.cites) for r in shown]
    if len(shown) < len(kin):
        counts: dict[str, int] = {}
        for one in kin[len(shown) :]:
            wants = say(f"wants_{one.wants}")
            counts[wants] = counts.get(wants, 0) + 1
        listed = ", ".join(f"{wants} {count}" for wants, count in counts.items())
        rows.append(say("relatives_rest", more=len(kin) - len(shown), counts=listed))
    label = say("relatives_label")
    return tuple((label if i == 0 else "", text) for i, text in enumerate(rows))
