"""A recipe as a message for mail or telephone: sentences without columns, at most 200 words."""

from __future__ import annotations

import re
from datetime import date

from coldspell.texts import Texts
from coldspell.views.law import law_lines
from coldspell.write.recipe import Recipe
from coldspell.write.units import spelled_date

MOST_WORDS = 200
_SENTENCE = re.compile(r"(?<=[.!?]) (?=[A-Z“\"])")


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
    taken = " ".join(recipe.notes[:2])
    warning = _warning(recipe, texts)
    law = _law(recipe, texts)
    end = [
        *([law] if law else []),
        warning,
        *([say("message_ask", question=ask)] if ask else []),
        *([office] if office else []),
    ]
    fixed = [head, recipe.verdict.sentence, *([taken] if taken else []), *end]
    room = MOST_WORDS - sum(_words(text) for text in fixed)
    steps = _steps(recipe, texts, room)
    parts = (f"{head} {recipe.verdict.sentence}", taken, *steps, *end)
    return "\n\n".join(part for part in parts if part) + "\n"


def _steps(recipe: Recipe, texts: Texts, room: int) -> list[str]:
    """Every step with its first sentence, then further sentences of each as long as there is room."""
    told = [_SENTENCE.split(_plain(step.text)) for step in recipe.steps]
    kept = [0] * len(told)
    heads = [
        texts.say("message_step", when=spelled_date(date.fromisoformat(step.start))) if step.start else ""
        for step in recipe.steps
    ]
    room -= sum(map(_words, heads))
    for turn in range(max(map(len, told), default=0)):
        for n, sentences in enumerate(told):
            if kept[n] == turn < len(sentences) and _words(sentences[turn]) <= room:
                kept[n] += 1
                room -= _words(sentences[turn])
    parts = zip(heads, told, kept, strict=True)
    return [f"{head} {' '.join(sentences[:many])}".strip() for head, sentences, many in parts if many]


def _warning(recipe: Recipe, texts: Texts) -> str:
    """The first caution, whole sentences of it as far as thirty words."""
    if not recipe.cautions:
        return ""
    told = ""
    for sentence in _SENTENCE.split(_plain(recipe.cautions[0].text)):
        if told and _words(told) + _words(sentence) > 30:
            break
        told = f"{told} {sentence}".strip()
    return texts.say("message_warning", warning=told)


def _law(recipe: Recipe, texts: Texts) -> str:
    """What is noted on the law of the place that was said, or of the office: sentences up to sixty words."""
    if not recipe.lot.said["place"] and not any(note.local for note in recipe.law):
        return ""
    told = ""
    for sentence in _SENTENCE.split(_plain(" ".join(text for text, _ in law_lines(recipe, texts)))):
        if told and _words(told) + _words(sentence) > 60:
            break
        told = f"{told} {sentence}".strip()
    return texts.say("message_law", law=told) if told else ""


def _plain(text: str) -> str:
    return " ".join(text.split())


def _words(text: str) -> int:
    return len(text.split())
