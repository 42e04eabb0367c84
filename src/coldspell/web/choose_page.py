"""The page on which somebody chooses what to start or to gather: some wishes, then a list with reasons."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping, Sequence
from datetime import date
from functools import partial
from itertools import zip_longest
from urllib.parse import urlencode

from litestar import Response, get
from litestar.exceptions import HTTPException
from msgspec import Struct

from coldspell.counter.choose import Choice, Span, Wishes
from coldspell.errors import ColdspellError
from coldspell.lot.days import read_said
from coldspell.records.terms import PLANT
from coldspell.views import choices
from coldspell.web.asked import Asked, asked, told
from coldspell.web.fields import FIELDS
from coldspell.web.site import Site, Web, pairs_of, site_of
from coldspell.write.units import spelled_date

WHEN = ("now", "gather", "any")
"""What is asked for: what can be started, what is ripe this month, what has a plan at all."""
TICKS = ("harmless", "easy", "read")
FACTS = ("refrigerator", "moisture", "winter", "southern", "place")
"""The facts of a lot that the form asks for; they hold for every kind."""
ON_A_PAGE = 40
_SEEDS = 100
_FROM, _TO, _BY = "closed-from", "closed-to", "plants-by"
_MOST_SPANS = 6
_OWN = ("when", "plant", *TICKS, _BY, _FROM, _TO, "page")
Pairs = Sequence[tuple[str, str]]


class Chosen(Struct, frozen=True):
    """What was asked for. ``wrong`` holds, by field, what cannot be and how to mend it."""

    wishes: Wishes
    question: Asked
    said: Mapping[str, str]
    spans: tuple[tuple[str, str], ...]
    """The days of each span as they were said, for the form."""
    wrong: Mapping[str, str]


@get(["/choose", "/choose.csv"], include_in_schema=False)
async def choose_page(request: Web) -> Response[str]:
    """The wishes; and below them what fits, once they are sent."""
    pairs, site = pairs_of(request), site_of(request)
    chosen = _chosen(pairs, site.today())
    asks = "when" in chosen.said
    found = await _found(site, chosen) if asks and not chosen.wrong else []
    if request.url.path.endswith(".csv") and asks and not chosen.wrong:
        head = {"Content-Disposition": 'attachment; filename="choose.csv"'}
        return Response(choices.as_csv(found), media_type="text/csv", headers=head)
    kept = [(key, value) for key, value in pairs if key != "page" and value.strip()]
    pages = max(1, -(-len(found) // ON_A_PAGE))
    page = min(max(1, _number(chosen.said.get("page", ""))), pages)
    shown = found[(page - 1) * ON_A_PAGE : page * ON_A_PAGE]
    facts = [(key, value) for key, value in kept if key not in _OWN]

    def turn(to: int) -> str:
        return "/choose?" + urlencode([*kept, ("page", str(to))])

    def link(name: str) -> str:
        return "/recipe?" + urlencode([("name", name), *facts])

    return site.html(
        "choose.html",
        400 if chosen.wrong else 200,
        chosen=chosen,
        whens=WHEN,
        ticks=TICKS,
        plants=PLANT,
        fields=[FIELDS[name] for name in FACTS],
        spans=(*chosen.spans, ("", "")),
        labels=site.labels,
        hidden=[(key, value) for key, value in facts if key not in FACTS],
        asks=asks and not chosen.wrong,
        lines=choices.lines(shown, site.library.texts),
        count=len(found),
        by=spelled_date(chosen.wishes.plants_by) if chosen.wishes.plants_by else "",
        place=str(site.facts(chosen.question).get("place") or ""),
        page=page,
        pages=pages,
        turn=turn,
        link=link,
        days=int(site.library.tables.practice.choose_unwatered_days),
        csv="/choose.csv?" + urlencode(kept),
    )


async def _found(site: Site, chosen: Chosen) -> list[Choice]:
    """All that fits; one list is made at a time, so that a crowd cannot take the machine."""
    if site.choosing.locked():
        raise HTTPException(status_code=503, detail="a list is being made", headers={"Retry-After": "2"})
    async with site.choosing:
        facts = {"seeds": _SEEDS, **site.facts(chosen.question)}
        day = chosen.question.today or site.today()
        return await asyncio.to_thread(partial(site.library.choose, chosen.wishes, today=day, **facts))


def _chosen(pairs: Pairs, clock: date) -> Chosen:
    """The wishes of an address; what is empty was not said."""
    said = {key: value.strip()[:200] for key, value in pairs if key in _OWN and value.strip()}
    wrong: dict[str, str] = {}
    for key, words in (("when", WHEN), ("plant", PLANT)):
        if said.get(key) not in (None, *words):
            wrong[key] = told(
                ColdspellError(f"{key} cannot be {said[key][:40]!r}", mend=f"one of: {', '.join(words)}")
            )
    question = asked([(key, value) for key, value in pairs if key not in _OWN], clock)
    today = question.today or clock
    by = _day(said, _BY, today, wrong)
    spans, closed = _spans(pairs, today, wrong)
    wishes = Wishes(
        start=said.get("when") == "now",
        gather=said.get("when") == "gather",
        no_fridge=question.facts.get("refrigerator") == "none",
        harmless="harmless" in said,
        easy="easy" in said,
        read="read" in said,
        plants_by=by,
        closed=closed,
        plant=said.get("plant"),
    )
    return Chosen(wishes, question, said, spans, {**question.wrong, **wrong})


def _spans(
    pairs: Pairs, today: date, wrong: dict[str, str]
) -> tuple[tuple[tuple[str, str], ...], tuple[Span, ...]]:
    """The spans in which nobody is there: as typed, and as days."""
    ends = [[value.strip()[:40] for key, value in pairs if key == name] for name in (_FROM, _TO)]
    pairs_of_days = zip_longest(ends[0], ends[1], fillvalue="")
    typed = [(first, last) for first, last in pairs_of_days if first or last][:_MOST_SPANS]
    closed = []
    for first, last in typed:
        try:
            if not (first and last):
                raise ColdspellError("one of two days is missing", mend="say the first and the last day")
            one, two = read_said("the first day", first, today), read_said("the last day", last, today)
            if two < one:
                what = f"the last day, {two}, comes before the first, {one}"
                raise ColdspellError(what, mend="change them over")
        except ColdspellError as error:
            wrong[_FROM] = told(error)
        else:
            closed.append((one, two))
    return tuple(typed), tuple(closed)


def _day(said: Mapping[str, str], key: str, today: date, wrong: dict[str, str]) -> date | None:
    if key not in said:
        return None
    try:
        return read_said("the day", said[key], today)
    except ColdspellError as error:
        wrong[key] = told(error)
        return None


def _number(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 6 else 1
