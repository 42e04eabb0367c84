"""What ``coldspell recipe`` says to a caller: a message, or the questions that change the answer most."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Mapping
from datetime import date
from typing import Any

import msgspec

from coldspell.api import Library
from coldspell.cli.today import the_day
from coldspell.counter.questions import Question as LotQuestion
from coldspell.errors import ColdspellError
from coldspell.views import message as message_view
from coldspell.views.layout import fitted, labelled, paragraph


def message(
    name: str, facts: Mapping[str, Any], today: str | None, form: str, lib: Library, *, trial: bool = False
) -> str:
    """The recipe, or its trial, as a message with one question back."""
    if form != "text":
        raise ColdspellError("a message is text", mend="leave out --format, or leave out --as message")
    day = _day(today)
    found = (lib.trial if trial else lib.recipe)(name, today=day, **facts)
    asks = lib.questions(name, today=day, **facts)[:1] if found.asks is None else []
    text = message_view.render(found, lib.texts, asks[0].text if asks else "", office=_signed(lib))
    width = max(32, min(shutil.get_terminal_size((80, 24)).columns, 80))
    lines = [line for part in text.splitlines() for line in (paragraph(part, width) if part else [""])]
    return fitted("\n".join(lines) + "\n", sys.stdout.encoding)


def _signed(lib: Library) -> str:
    """Who signs a message: the office and its telephone, where there is one."""
    office = lib.office
    return "" if office is None else ", ".join(part for part in (office.name, office.telephone) if part)


def asked(name: str, facts: Mapping[str, Any], today: str | None, form: str, lib: Library) -> str:
    """The questions, each with the option that answers it."""
    found = lib.questions(name, today=_day(today), **facts)
    if form == "json":
        return msgspec.json.format(msgspec.json.encode(found), indent=2).decode() + "\n"
    title = lib.texts.say("ask_title", name=lib.record(name).name)
    lines = [line for number, one in enumerate(found, 1) for line in _question(str(number), one, lib)]
    lines = lines or [lib.texts.say("ask_nothing")]
    return fitted("\n".join([title, "", *lines]) + "\n", sys.stdout.encoding)


def _question(number: str, one: LotQuestion, lib: Library) -> list[str]:
    """A question with the option that answers it; with its answers and their names where it has none."""
    say = lib.texts.say
    if one.option:
        return labelled([(number, say("trouble_says", text=one.text, option=one.option))], 80, 3)
    lines = labelled([(number, say("ask_name", text=one.text))], 80, 3)
    for choice in one.answers:
        lines += paragraph(f"{choice.answer[:1].upper()}{choice.answer[1:]}", 80, 5, "   •")
        if choice.names:
            lines += paragraph(say("then", names=", ".join(choice.names)), 80, 7)
    return lines


def _day(today: str | None) -> date:
    return the_day(today)
