"""The pages as handlers: ask, answer, sheet, library, style and script."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl, urlencode

from litestar import MediaType, Request, Response, get
from litestar.exceptions import HTTPException
from litestar.params import FromPath

from coldspell.api import Library
from coldspell.counter.trouble import WORDS
from coldspell.errors import ColdspellError
from coldspell.library.library import Library as Records
from coldspell.library.names import Missing, Several, look_up
from coldspell.library.one import alone, refusal
from coldspell.library.search import Wanted as WantedRecords
from coldspell.library.unrecorded import unrecorded
from coldspell.season.files.ics import calendar_of, trial_calendar
from coldspell.settings.apply import facts_of
from coldspell.sheet.content import Adviser, Wanted
from coldspell.sheet.make import Maker
from coldspell.web.answer import answer
from coldspell.web.asked import Asked, asked, sentence, told
from coldspell.web.fields import FIELDS, MORE, RENAMED, TRAINED, public_groups
from coldspell.web.for_all import for_all
from coldspell.web.pages import Pages, icon, script, style
from coldspell.web.record_file import ShelfFile
from coldspell.web.shelf import FILTERS, common, shelf, shown
from coldspell.write.recipe import Recipe

Web = Request[Any, Any, Any]
_MOST_NAMES = 24


class Site:
    """The library behind the pages, with the settings of who runs them and the clock."""

    def __init__(
        self,
        library: Library,
        settings: Mapping[str, Any],
        today: Callable[[], date],
        libraries: Sequence[Path] = (),
        shelf: ShelfFile | None = None,
        *,
        public: bool = False,
    ) -> None:
        self.library, self.settings, self.today = library, settings, today
        self.libraries, self.shelf, self.public = tuple(libraries), shelf, public
        self.more = public_groups(MORE) if public else MORE
        self.checking, self.choosing = asyncio.Lock(), asyncio.Lock()
        self.pages = Pages(library.texts, public=public)
        self.labels = {name: library.texts.say(f"page_field_{name}") for name in RENAMED}
        self.style, self.script, self.icon = style(), script(), icon()
        self._maker = Maker("pdf")
        self._setting = asyncio.Lock()

    def html(self, template: str, status: int = 200, **values: Any) -> Response[str]:
        """A page as an answer to a request."""
        return Response(self.pages.page(template, **values), status_code=status, media_type=MediaType.HTML)

    def form(self, question: Asked, status: int = 200) -> Response[str]:
        """The form, filled in with what was said, what cannot be beside its field."""
        names = {field.name for group in self.more for field in group.fields}
        opened = bool(names & {*question.facts, *question.wrong})
        return self.html(
            "ask.html",
            status,
            asked=question,
            fields=FIELDS,
            more=self.more,
            opened=opened,
            labels=self.labels,
        )

    def facts(self, question: Asked) -> dict[str, Any]:
        """What is known of the lot, with the settings; on a public page nobody counts as trained."""
        facts = {**facts_of(self.settings, question.facts), **question.facts}
        return {**facts, TRAINED: "no"} if self.public else facts

    def recipe(self, question: Asked) -> Recipe:
        """What the lot of a question needs; raises as `Library.recipe` does."""
        ask = self.library.trial if question.trial else self.library.recipe
        found = ask(question.name, today=question.today or self.today(), **self.facts(question))
        return for_all(found) if self.public else found

    def answered(self, question: Asked, pairs: list[tuple[str, str]]) -> Response[str]:
        """The answer, or the page that says what has to be said first."""
        if question.wrong:
            return self.form(question, 400)
        other = self.names(question, pairs)
        if other is not None:
            return other
        try:
            found = answer(self.recipe(question), self.library.texts, self.settings)
        except ColdspellError as error:
            if error.exit_code != ColdspellError.exit_code:
                raise
            wrong = {"": told(error)}
            return self.form(Asked(question.name, question.facts, question.today, question.trial, wrong), 400)
        said = [(key, value) for key, value in pairs if value.strip()]
        return self.html(
            "answer.html",
            answer=found,
            sheet=found.sheet,
            query=urlencode(said),
            link=_link(said),
            troubles=WORDS,
        )

    def names(
        self, question: Asked, pairs: list[tuple[str, str]], path: str = "/recipe"
    ) -> Response[str] | None:
        """The page of a name that means several plants, or none; ``None`` where it means one.

        ``path`` is the page on which one goes on once a plant is chosen.
        """
        records = self.library.records
        found = look_up(records, question.name)
        link = _link(pairs, path)
        if isinstance(found, Several):
            rows = [(alone(records, one), common(one)) for one in found.records[:_MOST_NAMES]]
            return self.html(
                "names.html",
                asked=question,
                rows=rows,
                link=link,
                why=found.why,
                more=len(found.records) - len(rows),
                unrecorded=found.unrecorded,
            )
        if isinstance(found, Missing) and unrecorded(records, question.name) is None:
            error = refusal(records, found, question.name)
            rows = [(name, _common_of(records, name)) for name in error.candidates or found.nearest]
            return self.html(
                "names.html",
                404,
                asked=question,
                rows=rows,
                link=link,
                why="missing",
                more=0,
                unrecorded=(),
                said="" if error.what.startswith("no record") else sentence(error.what),
            )
        return None

    def calendar(self, question: Asked) -> bytes:
        """The days of the lot as a calendar; raises where no day can be named."""
        day = question.today or self.today()
        facts = self.facts(question)
        planned = self.library.plan(question.name, today=day, **facts)
        if planned.trial is not None:
            return trial_calendar(self.library.recipe(question.name, today=day, **facts), self.library.texts)
        return calendar_of(planned, question.name, facts, self.library.tables, day)

    async def pdf(self, question: Asked) -> bytes:
        """The printed sheet; one is set at a time, so that a crowd cannot take the machine."""
        if self._setting.locked():
            raise HTTPException(status_code=503, detail="a sheet is being set", headers={"Retry-After": "2"})
        async with self._setting:
            recipe = self.recipe(question)
            adviser = Adviser(*(str(self.settings.get(key, "")) for key in ("adviser", "office", "note")))
            wanted = Wanted(adviser=adviser, june_card=True)
            return await asyncio.to_thread(self._maker.made, recipe, self.library.texts, wanted)


def _common_of(records: Records, name: str) -> str:
    return common(records.get(name)) if name in records else ""


def _link(pairs: list[tuple[str, str]], path: str = "/recipe") -> Callable[[str], str]:
    """The address of the same question about another name."""

    def link(name: str, **more: str) -> str:
        kept = [(key, value) for key, value in pairs if key not in ("name", *more) and value.strip()]
        return f"{path}?" + urlencode([("name", name), *kept, *more.items()])

    return link


def site_of(request: Web) -> Site:
    """The library behind the pages."""
    found: Site = request.app.state.site
    return found


def pairs_of(request: Web) -> list[tuple[str, str]]:
    """What an address says, in its order (that of the framework is not kept)."""
    return parse_qsl(request.scope["query_string"].decode("ascii", "replace"), keep_blank_values=True)


@get("/", include_in_schema=False)
async def ask_page(request: Web) -> Response[str]:
    """The form; an address with facts fills it in."""
    site = site_of(request)
    return site.form(asked(pairs_of(request), site.today()))


@get("/recipe", include_in_schema=False)
async def answer_page(request: Web) -> Response[str]:
    """The answer to a filled form."""
    pairs = pairs_of(request)
    site = site_of(request)
    question = asked(pairs, site.today())
    if not question.name:
        wrong = {**question.wrong, "name": site.library.texts.say("page_no_name")}
        return site.form(Asked("", question.facts, question.today, question.trial, wrong), 400)
    return site.answered(question, pairs)


@get("/sheet.pdf", include_in_schema=False)
async def sheet_page(request: Web) -> Response[Any]:
    """The answer as a printed sheet."""
    pairs = pairs_of(request)
    site = site_of(request)
    question = asked(pairs, site.today())
    if question.wrong or site.names(question, pairs) is not None:
        return site.answered(question, pairs)
    return Response(
        await site.pdf(question),
        media_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{_file_name(question.name)}.pdf"'},
    )


@get("/days.ics", include_in_schema=False)
async def calendar_page(request: Web) -> Response[Any]:
    """The days of the answer as a calendar (RFC 5545)."""
    pairs = pairs_of(request)
    site = site_of(request)
    question = asked(pairs, site.today())
    if question.wrong or site.names(question, pairs) is not None:
        return site.answered(question, pairs)
    return Response(
        site.calendar(question),
        media_type="text/calendar",
        headers={"Content-Disposition": f'attachment; filename="{_file_name(question.name)}.ics"'},
    )


def _file_name(name: str) -> str:
    return "".join(c if c.isascii() and c.isalnum() else "-" for c in name.lower())[:60]


@get("/library", include_in_schema=False)
async def library_page(request: Web) -> Response[str]:
    """The list of records."""
    said = {key: value.strip()[:200] for key, value in pairs_of(request)}
    chosen = {key: said[key] for key in FILTERS if said.get(key) in dict(FILTERS[key])}
    month = int(chosen["month"]) if "month" in chosen else None
    wanted = WantedRecords(plant=chosen.get("plant"), dormancy=chosen.get("dormancy"), month=month)
    number = said.get("page", "1")
    page = int(number) if number.isdecimal() and len(number) < 6 else 1
    found = shelf(site_of(request).library.records, said.get("q", ""), wanted, page)
    kept = {key: value for key, value in (("q", said.get("q", "")), *chosen.items()) if value}

    def turn(to: int) -> str:
        return "/library?" + urlencode({**kept, "page": to})

    return site_of(request).html("library.html", shelf=found, filters=FILTERS, said=kept, turn=turn)


@get("/library/{name:str}", include_in_schema=False)
async def record_page(request: Web, name: FromPath[str]) -> Response[str]:
    """One record."""
    site = site_of(request)
    records = site.library.records
    if name not in records:
        raise HTTPException(status_code=404, detail="no such record")
    record = records.get(name)
    found = shown(records, record, public=site.public)
    return site.html("record.html", record=found, ask=alone(records, record))


@get("/page.css", include_in_schema=False)
async def style_file(request: Web) -> Response[str]:
    """The one style sheet."""
    return Response(site_of(request).style, media_type="text/css")


@get("/names.js", include_in_schema=False)
async def script_file(request: Web) -> Response[str]:
    """The one script."""
    return Response(site_of(request).script, media_type="text/javascript")


@get("/seed.svg", include_in_schema=False)
async def icon_file(request: Web) -> Response[str]:
    """The icon."""
    return Response(site_of(request).icon, media_type="image/svg+xml")


PAGES = (
    ask_page,
    answer_page,
    sheet_page,
    calendar_page,
    library_page,
    record_page,
    style_file,
    script_file,
    icon_file,
)
