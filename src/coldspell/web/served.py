"""The same as JSON: a recipe, names, one record; the types are those of the program."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from datetime import date
from http import HTTPStatus
from typing import Annotated, Any, Literal, Optional

from litestar import Request, get
from litestar.exceptions import HTTPException
from litestar.openapi import ResponseSpec
from litestar.params import FromPath, Parameter
from msgspec import Struct

from coldspell.errors import ColdspellError
from coldspell.library.search import Wanted, search
from coldspell.lot.table import FACTS, LotFact
from coldspell.near import did_you_mean
from coldspell.records.model import Record
from coldspell.web.asked import Asked
from coldspell.web.shelf import common
from coldspell.web.site import pairs_of
from coldspell.write.recipe import Recipe


class Wrong(Struct, frozen=True):
    """An error as JSON: what is wrong, and how to mend it."""

    what: str
    mend: str


def _answers(*statuses: int) -> dict[int, ResponseSpec]:
    """What an address answers beside what is asked for, for the document of the API."""
    return {
        status: ResponseSpec(Wrong, generate_examples=False, description=HTTPStatus(status).phrase)
        for status in (*statuses, 413, 414, 500, 503)
    }


class NameFound(Struct, frozen=True):
    """A record that a text may mean; ``score`` runs from 0 to 100."""

    name: str
    common_name: str
    matched: str
    score: float


async def _recipe(request: Request[Any, Any, Any], **said: Any) -> Recipe:
    """What one seed lot needs, with dates, amounts and sources."""
    name, today = said.pop("name"), said.pop("today")
    unknown = [key for key in request.query_params if key not in FACTS and key not in ("name", "today")]
    if unknown:
        raise ColdspellError(
            f"unknown fact of a lot: {unknown[0][:60]}", mend=did_you_mean(unknown[0], FACTS)
        )
    facts = {key: value for key, value in said.items() if value is not None}
    for key in facts:
        if FACTS[key].many:  # in the order in which they were said
            facts[key] = [value for name, value in pairs_of(request) if name == key]
    found: Recipe = request.app.state.site.recipe(Asked(name, facts, today, trial=False, wrong={}))
    return found


def _signed(handler: Callable[..., Any]) -> Callable[..., Any]:
    """The handler with a parameter for each fact of a lot, so that the document of the API has them all."""
    given: dict[str, Any] = {
        "name": Annotated[
            str, Parameter(description="botanical or common name", min_length=1, max_length=200)
        ],
        "today": Annotated[Optional[date], Parameter(description="the day that counts as today")],  # noqa: UP045
        **{name: _typed(fact) for name, fact in FACTS.items()},
    }
    keyword = inspect.Parameter.KEYWORD_ONLY
    parameters = [
        inspect.Parameter("request", keyword, annotation=Request[Any, Any, Any]),
        inspect.Parameter("name", keyword, annotation=given["name"]),
        *(inspect.Parameter(n, keyword, annotation=a, default=None) for n, a in given.items() if n != "name"),
    ]

    async def signed(**values: Any) -> Recipe:
        return await _recipe(**values)

    signed.__name__, signed.__doc__ = "recipe", handler.__doc__
    signed.__signature__ = inspect.Signature(parameters, return_annotation=Recipe)  # type: ignore[attr-defined]
    signed.__annotations__ = {p.name: p.annotation for p in parameters} | {"return": Recipe}
    return signed


def _typed(fact: LotFact) -> Any:
    about = fact.about
    unit = f" [{about.unit}]" if about.unit else ""
    means = f"{about.means}{unit}"
    if fact.many:
        return Annotated[Optional[list[Literal[fact.words]]], Parameter(description=means)]  # type: ignore[name-defined]  # noqa: UP045
    if fact.words:
        return Annotated[Optional[Literal[fact.words]], Parameter(description=means)]  # noqa: UP045
    if fact.number:
        if fact.whole:
            low, high = int(about.low), int(about.high)
            return Annotated[Optional[int], Parameter(description=means, ge=low, le=high)]  # noqa: UP045
        return Annotated[Optional[float], Parameter(description=means, ge=about.low, le=about.high)]  # noqa: UP045
    plain: Any = fact.kind if fact.kind in (bool, date) else str
    return Annotated[Optional[plain], Parameter(description=means)]  # noqa: UP045


recipe_json = get("/api/recipe", responses=_answers(400))(_signed(_recipe))


@get("/api/find", responses=_answers(400))
async def find_json(
    request: Request[Any, Any, Any],
    q: Annotated[
        str, Parameter(description="part of a name, in any language of the records", max_length=200)
    ],
    limit: Annotated[int, Parameter(description="at most so many", ge=1, le=50)] = 8,
) -> list[NameFound]:
    """Records by name, best first."""
    records = request.app.state.site.library.records
    hits = search(records, q, Wanted(), limit) if q.strip() else []
    return [NameFound(h.record.name, common(h.record), h.name, round(h.score, 1)) for h in hits]


@get("/api/species/{name:str}", responses=_answers(400, 404))
async def record_json(request: Request[Any, Any, Any], name: FromPath[str]) -> Record:
    """One record by its botanical name."""
    records = request.app.state.site.library.records
    if name not in records:
        raise HTTPException(status_code=404, detail=f"no record of that name: {name[:80]}")
    found: Record = records.get(name)
    return found


JSON = (recipe_json, find_json, record_json)
