"""The page on which somebody says what is wrong with seed: eight buttons, some questions, what to do."""

from __future__ import annotations

from datetime import date

from litestar import Response, get
from msgspec import Struct
from msgspec.structs import replace

from coldspell.counter.trouble import WORDS, Trouble
from coldspell.errors import ColdspellError
from coldspell.lot.table import FACTS
from coldspell.texts import Texts
from coldspell.web.asked import Asked, asked, told
from coldspell.web.fields import Field, field
from coldspell.web.site import Site, Web, pairs_of, site_of
from coldspell.write.units import spelled_date

_MOST = 3


class Answered(Struct, frozen=True):
    """What to do, for one plant or one kind of seed: rows of a heading and a text."""

    head: str
    rows: tuple[tuple[str, str], ...]


@get("/trouble", include_in_schema=False)
async def trouble_page(request: Web) -> Response[str]:
    """The buttons; and below them what to do, once one is pressed."""
    pairs, site = pairs_of(request), site_of(request)
    what = next((value for key, value in reversed(pairs) if key == "what"), "")
    question = asked([(key, value) for key, value in pairs if key != "what"], site.today())
    found: list[Trouble] = []
    if what in WORDS and not question.wrong:
        other = site.names(question, pairs, "/trouble") if question.name else None
        if other is not None:
            return other
        try:
            found = _troubles(site, question, what)
        except ColdspellError as error:
            if error.exit_code != ColdspellError.exit_code:
                raise
            question = Asked(question.name, question.facts, question.today, False, {"": told(error)})
    asks = {one.tells: one.text for each in found for one in each.asks}
    fields = [replace(field(FACTS[name]), label=text) for name, text in list(asks.items())[:_MOST]]
    return site.html(
        "trouble.html",
        400 if question.wrong else 200,
        words=WORDS,
        what=what if what in WORDS else "",
        asked=question,
        kept=_kept(pairs, fields),
        fields=fields,
        found=_answers(found, site.library.texts, named=bool(question.name)),
    )


def _troubles(site: Site, question: Asked, what: str) -> list[Trouble]:
    """The answer of the plant; without a name, of each kind of seed."""
    facts = site.facts(question)
    day = question.today or site.today()
    if question.name:
        return [site.library.trouble(what, question.name, today=day, **facts)]
    return site.library.trouble_by_kind(what, today=day, **facts)


def _kept(pairs: list[tuple[str, str]], fields: list[Field]) -> list[tuple[str, str]]:
    """What was said before, to be sent along with the answers."""
    asks = {one.name for one in fields}
    return [(key, value) for key, value in pairs if key not in ("name", "what", *asks) and value.strip()]


def _answers(found: list[Trouble], texts: Texts, *, named: bool) -> list[Answered]:
    """The answers, alike ones of several kinds of seed together."""
    alike: dict[tuple[tuple[str, str], ...], list[str]] = {}
    for one in found:
        head = one.common_names[0] if named and one.common_names else one.name
        alike.setdefault(_rows(one, texts), []).append(head)
    return [Answered(_capital("; ".join(heads)), rows) for rows, heads in alike.items()]


def _rows(one: Trouble, texts: Texts) -> tuple[tuple[str, str], ...]:
    keep = "untested" if one.keep == "test" else one.keep
    rows = [("trouble_test_label", one.test), (f"trouble_{keep}_label", one.verdict)]
    if one.again and not (one.asks and one.again == one.asked_on):
        rows.append(("trouble_again_label", spelled_date(date.fromisoformat(one.again))))
    return tuple((texts.say(label).capitalize(), text) for label, text in rows)


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"
