"""The page on which a record is added or mended: a form, the checks beside their topics, the YAML."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any
from urllib.parse import parse_qsl

from litestar import Request, Response, get, post
from litestar.exceptions import HTTPException
from msgspec import Struct

from coldspell.api import Library
from coldspell.check.base import Finding
from coldspell.check.scope import check_text
from coldspell.errors import ColdspellError, Place
from coldspell.library.load import shipped_dirs
from coldspell.records.name import genus_of, slug
from coldspell.web.asked import told
from coldspell.web.record_file import digest
from coldspell.web.record_form import SCHEMA, TOPICS, Written, parted, whole
from coldspell.web.site import Site, Web, pairs_of, site_of

MOST_RECORD = 131_072
"""Bytes of a form that holds a record; the longest record of the library has less than a third of that."""
BODY_SECONDS = 20.0
"""Within so many seconds a form has to be there (our choice)."""
_MOST_FIELDS = 100


class Checked(Struct, frozen=True):
    """What the checks say of a form: file, what is wrong by topic, and how much must be mended."""

    written: Written
    file: str
    wrong: dict[str, tuple[Finding, ...]]
    errors: int


@get("/record", include_in_schema=False)
async def record_form(request: Web) -> Response[str]:
    """An empty form, or that of a record on file."""
    site, said = site_of(request), dict(pairs_of(request))
    name = said.get("name", "").strip()
    records = site.library.records
    if not name:
        return _form(site, {"schema": SCHEMA, "rank": "species"}, None)
    if name not in records:
        raise HTTPException(status_code=404, detail="no such record")
    file = records.file(name)
    values = {"schema": "", **parted(file.read_text("utf-8"))}
    seen = (
        digest(file) if site.shelf is not None and site.shelf.place(name, records) == file.resolve() else ""
    )
    return _form(site, {**values, "seen": seen}, None)


@post("/record", include_in_schema=False, status_code=200, request_max_body_size=MOST_RECORD)
async def record_check(request: Request[Any, Any, Any]) -> Response[str]:
    """The form again with what the checks say, and the YAML; written where that was asked for and allowed."""
    site, said = site_of(request), await _typed(request)
    if site.checking.locked():
        raise HTTPException(status_code=503, detail="a record is being checked", headers={"Retry-After": "2"})
    async with site.checking:
        found = await asyncio.to_thread(_checked, site, said)
        if said.get("do") == "file" and not found.errors:
            return _file(found)
        if said.get("do") != "write" or found.errors:
            return _form(site, said, found, 400 if found.errors else 200)
        if site.shelf is None:
            raise HTTPException(status_code=403, detail=site.library.texts.say("record_no_write"))
        if not site.shelf.is_ours(
            said.get("token", ""), request.headers.get("origin"), request.headers.get("host", "")
        ):
            raise HTTPException(status_code=403, detail=site.library.texts.say("record_not_ours"))
        return await _written(site, said, found)


async def _written(site: Site, said: dict[str, str], found: Checked) -> Response[str]:
    """Write a sound record and read the library anew."""
    assert site.shelf is not None
    path = site.shelf.place(" ".join(said["name"].split()), site.library.records)
    try:
        site.shelf.put(found.written.text, path, said.get("seen", ""))
    except ColdspellError as error:
        return _form(site, said, found, 409, told(error))
    site.library = await asyncio.to_thread(Library, *site.libraries)
    return site.html("record_written.html", file=found.file, name=" ".join(said["name"].split()))


def _file(found: Checked) -> Response[str]:
    """The record as a file to keep, or to send to who looks after the library."""
    name = found.file.rpartition("/")[2]
    disposition = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(found.written.text, media_type="application/yaml", headers=disposition)


async def _typed(request: Request[Any, Any, Any]) -> dict[str, str]:
    if not request.headers.get("content-type", "").startswith("application/x-www-form-urlencoded"):
        raise HTTPException(status_code=415, detail="a form is wanted")
    try:
        body = (await asyncio.wait_for(request.body(), BODY_SECONDS)).decode("utf-8", "replace")
    except TimeoutError:
        raise HTTPException(status_code=408, headers={"Connection": "close"}) from None
    try:
        return dict(parse_qsl(body, keep_blank_values=True, max_num_fields=_MOST_FIELDS))
    except ValueError:
        raise HTTPException(status_code=400, detail="too many fields") from None


def _checked(site: Site, said: dict[str, str]) -> Checked:
    """The same checks as `coldspell species check`, as if the record stood in its file."""
    written, name = whole(said), " ".join(said.get("name", "").split())
    folders = [*shipped_dirs(), *site.libraries]
    path = Path(_file_of(site, name))
    try:
        findings = check_text(written.text, path, site.library.records, folders, site.today()).findings
    except ColdspellError as error:
        where = error.where if isinstance(error.where, Place) else Place(path.as_posix())
        findings = [Finding("yaml", "error", error.what, where, error.mend)]
    wrong: dict[str, tuple[Finding, ...]] = {}
    for one in findings:
        key = written.topic_of(one.place.line)
        wrong[key] = (*wrong.get(key, ()), one)
    return Checked(written, path.as_posix(), wrong, sum(one.severity == "error" for one in findings))


def _file_of(site: Site, name: str) -> str:
    """The file of a record within its library."""
    if name in site.library.records:
        return site.library.records.get(name).path
    return f"{slug(genus_of(name))}/{slug(name)}.yaml" if name else "record.yaml"


def _form(
    site: Site, said: dict[str, str], found: Checked | None, status: int = 200, alert: str = ""
) -> Response[str]:
    return site.html(
        "record_form.html",
        status,
        topics=TOPICS,
        said=said,
        found=found,
        alert=alert,
        wrong=found.wrong if found else {},
        shelf=site.shelf,
    )
