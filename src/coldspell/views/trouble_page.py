"""What to do about a trouble, as a page of a dozen lines."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from coldspell.counter.trouble import WORDS, Trouble
from coldspell.texts import Texts
from coldspell.views.layout import in_ascii, labelled, paragraph
from coldspell.write.units import spelled_date

_LABEL, _MOST = 12, 3


def render(found: Trouble, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width, ending with a newline."""
    say = texts.say
    name = found.common_names[0] if found.common_names else found.name
    what = say(f"trouble_{found.trouble}").upper()
    title = say("trouble_title", trouble=what, name=f"{name} ({found.name})")
    rows = []
    for number, one in enumerate(found.asks):
        text = say("trouble_says", text=one.text, option=one.option) if one.option else one.text
        rows.append(("" if number else say("trouble_asks_label"), text))
    rows += _answer(found, texts)
    rows.append((say("trouble_then_label"), say("trouble_then", name=f'"{found.name}"')))
    lines = labelled(rows, max(32, min(width, 110)), _LABEL)
    text = "\n".join([title, "", *lines]) + "\n"
    return in_ascii(text) if ascii_only else text


def _answer(found: Trouble, texts: Texts) -> list[tuple[str, str]]:
    """The test, what is kept with its reason, and the next look."""
    say = texts.say
    keep = "untested" if found.keep == "test" else found.keep
    verdict = say("trouble_because", verdict=found.verdict, because=found.because.rstrip("."))
    rows = [(say("trouble_test_label"), found.test), (say(f"trouble_{keep}_label"), verdict)]
    if found.again and not (found.asks and found.again == found.asked_on):
        rows.append((say("trouble_again_label"), spelled_date(date.fromisoformat(found.again))))
    return rows


def by_kind(kinds: Sequence[Trouble], texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page where nobody said which plant it is: what holds for each kind of seed, alike ones together."""
    say, width = texts.say, max(32, min(width, 110))
    title = say("trouble_title_kinds", trouble=say(f"trouble_{kinds[0].trouble}").upper())
    asked = list(dict.fromkeys((one.text, one.option) for found in kinds for one in found.asks))[:_MOST]
    rows = [(say("trouble_asks_label"), say("trouble_which_plant"))]
    rows += [("", say("trouble_says", text=text, option=option)) for text, option in asked]
    lines = [title, "", *labelled(rows, width, _LABEL)]
    alike: dict[tuple[str, str, str, str | None], list[Trouble]] = {}
    for found in kinds:
        alike.setdefault((found.test, found.verdict, found.keep, found.again), []).append(found)
    for together in alike.values():
        name = "; ".join(found.name for found in together)
        rows = _answer(together[0], texts)
        lines += ["", *paragraph(f"{name[:1].upper()}{name[1:]}", width), *labelled(rows, width, _LABEL)]
    then = say("trouble_then_kinds", what=kinds[0].trouble)
    text = "\n".join([*lines, "", *labelled([(say("trouble_then_label"), then)], width, _LABEL)]) + "\n"
    return in_ascii(text) if ascii_only else text


def menu(name: str, texts: Texts) -> str:
    """The troubles that can be asked about, with what to type for each."""
    rows = [f"  --what {word:<12} {texts.say(f'trouble_{word}')}" for word in WORDS]
    return "\n".join([texts.say("trouble_which", name=name), "", *rows]) + "\n"
