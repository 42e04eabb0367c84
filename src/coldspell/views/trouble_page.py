"""What to do about a trouble, as a page of a dozen lines."""

from __future__ import annotations

from datetime import date

from coldspell.counter.trouble import WORDS, Trouble
from coldspell.texts import Texts
from coldspell.views.layout import in_ascii, labelled
from coldspell.write.units import spelled_date

_LABEL = 12


def render(found: Trouble, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width, ending with a newline."""
    say = texts.say
    name = found.common_names[0] if found.common_names else found.name
    what = say(f"trouble_{found.trouble}").upper()
    title = say("trouble_title", trouble=what, name=f"{name} ({found.name})")
    rows = []
    for number, one in enumerate(found.asks):
        text = say("trouble_says", text=one.text, option=one.option)
        rows.append(("" if number else say("trouble_asks_label"), text))
    rows.append((say("trouble_test_label"), found.test))
    keep = "untested" if found.keep == "test" else found.keep
    verdict = say("trouble_because", verdict=found.verdict, because=found.because.rstrip("."))
    rows.append((say(f"trouble_{keep}_label"), verdict))
    if found.again and not found.asks:
        rows.append((say("trouble_again_label"), spelled_date(date.fromisoformat(found.again))))
    rows.append((say("trouble_then_label"), say("trouble_then", name=f'"{found.name}"')))
    lines = labelled(rows, max(32, min(width, 110)), _LABEL)
    text = "\n".join([title, "", *lines]) + "\n"
    return in_ascii(text) if ascii_only else text


def menu(name: str, texts: Texts) -> str:
    """The troubles that can be asked about, with what to type for each."""
    rows = [f"  --what {word:<12} {texts.say(f'trouble_{word}')}" for word in WORDS]
    return "\n".join([texts.say("trouble_which", name=name), "", *rows]) + "\n"
