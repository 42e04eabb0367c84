"""A recipe as a message for mail or telephone: sentences without columns, at most 200 words.

Every step, every part of a trial and every hazard stands in it, in a few words where there is room for no
more. Who reads it has no command line: what names an option is said without it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from coldspell.lot.table import FACTS
from coldspell.records.do import MOIST
from coldspell.texts import Texts
from coldspell.views.law import law_lines
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_trial import Arm
from coldspell.write.units import Units, number, spelled_date

MOST_WORDS = 200
MOST_WORDS_OF_TRIAL = 400
"""The parts of a trial have several steps each, of which none is left out: many parts take more."""
_LAW_WORDS = 60
_SENTENCE = re.compile(r"(?<=[.!]) (?=[A-Z“\"])")
_WORDS = "|".join(sorted({re.escape(word) for fact in FACTS.values() for word in fact.words}))
_SAY = re.compile(rf"\b[Ss]ay --[a-z-]+(?: (?:{_WORDS})\b)?(?: \(or \w+\))?")
_ASIDE = re.compile(r" ?\([^()]*--[^()]*\)|[:,] --[a-z-]+ yes or no\b")


class _Told(Struct):
    """One paragraph, or part of it: its head, the least that is told, its sentences, how many are kept."""

    head: str
    least: str
    sentences: list[str]
    kept: int = 0

    @property
    def text(self) -> str:
        """What is told of it."""
        said = " ".join(self.sentences[: self.kept]) if self.kept else self.least
        return f"{self.head} {said}".strip() if said else f"{self.head.rstrip(':')}." if self.head else ""

    @property
    def whole(self) -> bool:
        """Whether nothing is left out."""
        return self.kept == len(self.sentences)


def render(recipe: Recipe, texts: Texts, ask: str = "", *, office: str = "") -> str:
    """The message, a paragraph a thought.

    Parameters
    ----------
    ask
        One question back to the caller, if there is one.
    office
        Who signs it.
    """
    say = texts.say
    name = recipe.species.common_names[0] if recipe.species.common_names else recipe.species.name
    head = say("message_head", name=name, day=spelled_date(date.fromisoformat(recipe.asked_on)))
    opening = " ".join([head, *_sentences(recipe.verdict.sentence, texts)])
    steps = _steps(recipe, texts)
    cautions = [_caution(note.text, note.rule is None, texts) for note in recipe.cautions]
    notes = [_first(note, texts) for note in recipe.notes[:2]]
    if recipe.trial is not None:
        notes = [_first(one, texts) for one in _sentences(recipe.trial.size, texts)]
    law = _law(recipe, texts)
    end = [*([say("message_ask", question=ask)] if ask else []), *([office] if office else [])]
    more, care = say("message_more"), say("message_warning", warning="").strip()
    most = MOST_WORDS if recipe.trial is None else MOST_WORDS_OF_TRIAL
    every = [*steps, *cautions, *notes, law]
    fixed = [opening, say("message_law", law=""), care, more, *end, *(one.text for one in every)]
    room = most - sum(map(_words, fixed))
    _fill([*cautions[:1], *steps, *notes, law, *cautions[1:]], room)
    taken = " ".join(one.text for one in notes if one.text)
    warned = f"{care} {' '.join(one.text for one in cautions)}" if cautions else ""
    short = "" if all(one.whole for one in (*steps, *cautions)) else more
    told_of_law = say("message_law", law=law.text) if law.text else ""
    parts = (opening, taken, *(one.text for one in steps), told_of_law, warned, short, *end)
    return "\n\n".join(part for part in parts if part) + "\n"


def _fill(every: Sequence[_Told], room: int) -> None:
    """Of each the first sentence, then of each the next, as long as there is room."""
    for turn in range(max((len(one.sentences) for one in every), default=0)):
        for one in every:
            if one.kept != turn or turn >= len(one.sentences):
                continue
            takes = _words(one.sentences[turn]) - (0 if turn else _words(one.least))
            if takes <= room:
                one.kept, room = turn + 1, room - takes


def _steps(recipe: Recipe, texts: Texts) -> list[_Told]:
    """Every step with its day and its name; of a trial what would harm, then every step of every part."""
    if recipe.trial is not None:
        first = [_first(note.text, texts) for note in recipe.trial.first]
        known: dict[str, str] = {}
        return [*first, *(one for arm in recipe.trial.arms for one in _part(arm, texts, known))]
    told, units = [], Units(recipe.units)
    for step in recipe.steps:
        if step.start is None:
            told.append(_first(step.text, texts))
            continue
        task, day = texts.say(f"task_{step.do}"), spelled_date(date.fromisoformat(step.start))
        if step.do in MOIST and step.celsius is not None:  # its first sentence may be on what it lies in
            task = texts.say("message_at", task=task, celsius=units.temperature(step.celsius[::2]))
        told.append(_Told(texts.say("message_step", when=day, task=task), "", _sentences(step.text, texts)))
    return told


def _part(arm: Arm, texts: Texts, known: dict[str, str]) -> list[_Told]:
    """One part of a trial and each of its steps; what another part does too (``known``) is told once."""
    unit = texts.say("seed_one" if arm.seeds == 1 else "seed_many")
    head = texts.say("message_part", letter=arm.letter, seeds=number(arm.seeds), unit=unit, says=arm.says)
    told = [_Told(head.rstrip("."), "", [])]
    for step in arm.steps:
        start, end = (spelled_date(date.fromisoformat(day)) for day in (step.start, step.end))
        days = start if start == end else texts.say("message_span", start=start, end=end)
        before = known.setdefault(step.text, arm.letter)
        one = _first(step.text if before == arm.letter else texts.say("as_part", letter=before), texts)
        one.head = texts.say("message_part_step", letter=arm.letter, days=days)
        told.append(one)
    return told


def _first(text: str, texts: Texts) -> _Told:
    """A text of which the first sentence is the least that is told."""
    sentences = _sentences(text, texts)
    return _Told("", sentences[0] if sentences else "", sentences)


def _caution(text: str, hazard: bool, texts: Texts) -> _Told:
    """A caution; the least of a hazard of the plant is what it is and to whom."""
    told = _first(text, texts)
    if hazard and told.sentences:
        told.least = f"{told.least.partition(': ')[0].rstrip('.')}."
    return told


def _law(recipe: Recipe, texts: Texts) -> _Told:
    """What is noted on the law of the place that was said, or of the office: sentences up to sixty words."""
    if not recipe.lot.said["place"] and not any(note.local for note in recipe.law):
        return _Told("", "", [])
    told = _first(" ".join(text for text, _ in law_lines(recipe, texts)), texts)
    while len(told.sentences) > 1 and sum(map(_words, told.sentences)) > _LAW_WORDS:
        told.sentences.pop()
    return told


def _sentences(text: str, texts: Texts) -> list[str]:
    """The sentences of a text without options; one that says nothing without them is left out."""
    plain = _ASIDE.sub("", " ".join(text.split()))
    plain = _SAY.sub(texts.say("message_tell"), plain)
    return [f"{one[:1].upper()}{one[1:]}" for one in _SENTENCE.split(plain) if one and " --" not in one]


def _words(text: str) -> int:
    return len(text.split())
