"""What to do about a trouble, as a page of a dozen lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from coldspell.counter.trouble import WORDS, Trouble
from coldspell.records.model import Asks
from coldspell.texts import Texts
from coldspell.views.layout import in_ascii, labelled, paragraph
from coldspell.write.units import spelled_date

_LABEL, _MOST, _MOST_SPECIES = 12, 3, 4


def render(
    found: Trouble,
    texts: Texts,
    width: int = 80,
    *,
    ascii_only: bool = False,
    of: Asks | None = None,
    said: str = "",
) -> str:
    """The page, wrapped to a width, ending with a newline.

    Parameters
    ----------
    of
        What the page of the plant asks first, where it is a genus whose page only asks which of them it is.
    said
        The options that say of the lot what was said, as they are typed.

    Notes
    -----
    What is to be typed next is never wrapped: a command that was broken over two lines is two commands.
    """
    say = texts.say
    name = found.common_names[0] if found.common_names else found.name
    what = say(f"trouble_{found.trouble}").upper()
    title = say("trouble_title", trouble=what, name=f"{name} ({found.name})")
    rows = []
    for number, one in enumerate(found.asks):
        text = say("trouble_says", text=one.text, option=one.option) if one.option else one.text
        rows.append(("" if number else say("trouble_asks_label"), text))
    rows += _answer(found, texts)
    then, plants = _next(found, of)
    rows.append((say("trouble_then_label"), say(then)))
    lines = labelled(rows, max(32, min(width, 110)), _LABEL)
    lines += _typed((f'coldspell recipe "{one}"{said}' for one in plants), width)
    text = "\n".join([title, "", *lines]) + "\n"
    return in_ascii(text) if ascii_only else text


def _next(found: Trouble, of: Asks | None) -> tuple[str, tuple[str, ...]]:
    """What is said of the next page, and the plants to ask it for: a few species, else the genus."""
    if of is None:
        return "trouble_then", (found.name,)
    species = tuple(dict.fromkeys(one for answer in of.answers for one in answer.then))
    if len(species) > _MOST_SPECIES or not all(answer.then for answer in of.answers):
        return "trouble_then_asks", (found.name,)
    return "trouble_then_which", species


def _typed(commands: Iterable[str], width: int) -> list[str]:
    """Commands, each on a line of its own however long it is."""
    return [f"{' ' * (_LABEL if width >= 60 else 2)}{one}" for one in commands]


def _answer(found: Trouble, texts: Texts) -> list[tuple[str, str]]:
    """The test, what is kept with its reason, and the next look."""
    say = texts.say
    keep = "untested" if found.keep == "test" else found.keep
    verdict = say("trouble_because", verdict=found.verdict, because=found.because.rstrip("."))
    rows = [(say("trouble_test_label"), found.test), (say(f"trouble_{keep}_label"), verdict)]
    if found.again and not (found.asks and found.again == found.asked_on):
        rows.append((say("trouble_again_label"), spelled_date(date.fromisoformat(found.again))))
    return rows


def by_kind(
    kinds: Sequence[Trouble], texts: Texts, width: int = 80, *, ascii_only: bool = False, said: str = ""
) -> str:
    """The page where nobody said which plant it is: what holds for each kind of seed, alike ones together.

    ``said`` as for `render`.
    """
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
    lines += ["", *labelled([(say("trouble_then_label"), say("trouble_then_kinds"))], width, _LABEL)]
    lines += _typed([f"coldspell trouble NAME --what {kinds[0].trouble}{said}"], width)
    text = "\n".join(lines) + "\n"
    return in_ascii(text) if ascii_only else text


def menu(name: str, texts: Texts) -> str:
    """The troubles that can be asked about, with what to type for each."""
    rows = [f"  --what {word:<12} {texts.say(f'trouble_{word}')}" for word in WORDS]
    return "\n".join([texts.say("trouble_which", name=name), "", *rows]) + "\n"
