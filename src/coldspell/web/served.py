"""The same as JSON: a recipe, names, one record; the types are those of the program."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from http import HTTPStatus
from typing import Annotated, Any, Optional

from litestar import Request, get
from litestar.openapi import ResponseSpec
from litestar.openapi.spec import OpenAPIType, Schema
from litestar.params import FromPath, Parameter
from msgspec import Struct

from coldspell.errors import ColdspellError
from coldspell.library.search import Wanted, search
from coldspell.lot.table import FACTS, LotFact
from coldspell.near import did_you_mean
from coldspell.records.model import Record
from coldspell.web.asked import OWN, asked
from coldspell.web.for_all import record_for_all
from coldspell.web.shelf import common
from coldspell.web.site import pairs_of
from coldspell.write.recipe import Recipe


class Wrong(Struct, frozen=True):
    """An error as JSON: what is wrong, how to mend it, and names of which one may be meant."""

    what: str
    mend: str
    candidates: tuple[str, ...] = ()


class NoRecord(ColdspellError):  # noqa: N818  (as its kin in coldspell.errors)
    """No one record has a name that an address gives: 404."""


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
    site = request.app.state.site
    pairs = pairs_of(request)
    _refuse_odd(pairs)
    question = asked(pairs, site.today())  # as the page reads it, whose addresses lead here
    if question.wrong:
        told_ = (
            f"{key}: {text}" if key and key not in text.casefold() else text
            for key, text in question.wrong.items()
        )
        raise ColdspellError(" ".join(told_), mend="/api/openapi.json says what each may be")
    if not question.name:
        raise ColdspellError("no plant is named", mend="add name=, as in /api/recipe?name=apple")
    found: Recipe = site.recipe(question)
    return found


def _refuse_odd(pairs: list[tuple[str, str]]) -> None:
    """Refuse what a form never sends: a parameter that is empty, unknown, or given twice."""
    keys = [key for key, _ in pairs]
    for key, value in pairs:
        if key not in FACTS and key not in OWN:
            mend = did_you_mean(key, [*FACTS, *OWN])
            raise ColdspellError(f"unknown fact of a lot: {key[:60]}", mend=mend)
        if not value.strip():
            raise ColdspellError(f"{key} is empty", mend="leave it out, or say it")
        if keys.count(key) > 1 and not (key in FACTS and FACTS[key].many):
            raise ColdspellError(f"{key} is given {keys.count(key)} times", mend="say it once")


def _signed(handler: Callable[..., Any]) -> Callable[..., Any]:
    """The handler with a parameter for each fact of a lot, so that the document of the API has them all."""
    name = {"type": "string", "minLength": 1, "maxLength": 200}
    given: dict[str, Any] = {
        "name": _described("botanical or common name", name, required=True),
        "today": _described("the day that counts as today", {"type": "string", "format": "date"}),
        "trial": _described("how to learn what the kind wants", {"type": "string", "enum": ["yes", "no"]}),
        **{name: _typed(fact) for name, fact in FACTS.items()},
    }
    keyword = inspect.Parameter.KEYWORD_ONLY
    parameters = [
        inspect.Parameter("request", keyword, annotation=Request[Any, Any, Any]),
        *(inspect.Parameter(n, keyword, annotation=a, default=None) for n, a in given.items()),
    ]

    async def signed(**values: Any) -> Recipe:
        return await _recipe(**values)

    signed.__name__, signed.__doc__ = "recipe", handler.__doc__
    signed.__signature__ = inspect.Signature(parameters, return_annotation=Recipe)  # type: ignore[attr-defined]
    signed.__annotations__ = {p.name: p.annotation for p in parameters} | {"return": Recipe}
    return signed


def _described(means: str, schema: Mapping[str, Any], *, many: bool = False, required: bool = False) -> Any:
    """A parameter with its schema in the document; it is read as the page reads it, not by the framework."""
    kind: Any = Optional[list[str]] if many else Optional[str]  # noqa: UP045
    extra = {
        **{_SCHEMA_KEYS.get(key, key): value for key, value in schema.items()},
        "one_of": None,
    }
    return Annotated[kind, Parameter(description=means, required=required, schema_extra=extra)]


_SCHEMA_KEYS = {"minLength": "min_length", "maxLength": "max_length"}


def _typed(fact: LotFact) -> Any:
    about = fact.about
    unit = f" [{about.unit}]" if about.unit else ""
    means = f"{about.means}{unit}"
    words: dict[str, Any] = {"type": "string", "enum": list(fact.words)}
    if fact.many:
        return _described(means, {"type": "array", "items": Schema(**_plain(words))}, many=True)
    if fact.words:
        return _described(means, words)
    if about.unit == "°C":  # also 39F
        return _described(f"{means}, or with an F behind it", {"type": "string"})
    if fact.number:
        kind = "integer" if fact.whole else "number"
        low, high = (int(about.low), int(about.high)) if fact.whole else (about.low, about.high)
        return _described(means, {"type": kind, "minimum": low, "maximum": high})
    if fact.kind is bool:
        return _described(means, {"type": "string", "enum": ["yes", "no", "true", "false"]})
    return _described(means, {"type": "string"})  # a day may be said in words


def _plain(schema: Mapping[str, Any]) -> dict[str, Any]:
    return {**schema, "type": OpenAPIType(schema["type"])}


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
    """One record by its botanical or common name, as a recipe takes it."""
    try:
        site = request.app.state.site
        found: Record = site.library.record(name)
    except ColdspellError as error:
        wrong = NoRecord(error.what, error.where, error.mend)
        wrong.candidates = error.candidates
        raise wrong from None
    return record_for_all(found) if site.public else found


JSON = (recipe_json, find_json, record_json)
