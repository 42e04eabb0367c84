"""Read what was asked off an address: the name, the facts of the lot, the day; what is wrong by field."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from msgspec import Struct

from coldspell.errors import ColdspellError
from coldspell.lot.days import days_of
from coldspell.lot.read import check_fact, make_lot
from coldspell.lot.table import FACTS
from coldspell.near import did_you_mean
from coldspell.sheet.content import without_options
from coldspell.typed import read_day

OWN = ("name", "today", "trial")
"""What an address says beside the facts of the lot."""
_MOST_NAME = 200


class Asked(Struct, frozen=True):
    """One question. ``wrong`` holds, by field, what cannot be and how to mend it; ``""`` is the whole."""

    name: str
    facts: Mapping[str, Any]
    today: date | None
    trial: bool
    wrong: Mapping[str, str]


def asked(pairs: Iterable[tuple[str, str]], clock: date) -> Asked:
    """The question of an address; what is empty was not said, what came twice counts as said last.

    Days may be said in words, which count from the day that was said, or else from that of the ``clock``.
    """
    said: dict[str, Any] = {}
    wrong: dict[str, str] = {}
    for key, value in pairs:
        text = value.strip()
        if not text:
            continue
        if key in FACTS and FACTS[key].many:
            said.setdefault(key, []).append(text)
        elif key in FACTS or key in OWN:
            said[key] = text
        else:
            mend = did_you_mean(key, [*FACTS, *OWN])
            wrong[""] = told(ColdspellError(f"unknown fact of a lot: {key[:60]}", mend=mend))
    name = str(said.pop("name", ""))[:_MOST_NAME]
    trial = said.pop("trial", "") == "yes"
    today = _day(said.pop("today", None), wrong)
    for key, value in said.items():
        try:
            days, _ = days_of({"southern": said.get("southern", "no"), key: value}, today or clock)
            check_fact(key, days[key])
        except ColdspellError as error:
            wrong[key] = told(error)
    if not wrong:
        try:
            make_lot(days_of(said, today or clock)[0])
        except ColdspellError as error:
            wrong[""] = told(error)
    return Asked(name, said, today, trial, wrong)


def told(error: ColdspellError) -> str:
    """An error as the page says it: what, and how to mend it, without the command line and its options."""
    return " ".join(text for text in parts(error) if text)


def parts(error: ColdspellError) -> tuple[str, str]:
    """What is wrong and how to mend it, each in sentences of the page; the second may be empty."""
    lines = [line.strip() for line in error.mend.splitlines() if "coldspell " not in line]
    mend = without_options(" ".join(line for line in lines if not line.endswith((":", "one of these"))))
    if error.candidates and not mend:
        mend = f"perhaps: {', '.join(error.candidates)}"
    return sentence(error.what), sentence(mend) if mend else ""


def sentence(text: str) -> str:
    """A text with a capital and a stop, as the page says it."""
    return f"{text[:1].upper()}{text[1:]}" + ("" if text.endswith((".", "?", "!")) else ".")


def _day(text: str | None, wrong: dict[str, str]) -> date | None:
    if text is None:
        return None
    try:
        return read_day("today", text)
    except ColdspellError as error:
        wrong["today"] = told(error)
        return None
