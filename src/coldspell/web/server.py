"""The application: pages and JSON with their limits, headers and pages of errors; and how it is run."""

from __future__ import annotations

import socket
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from http import HTTPStatus
from pathlib import Path
from typing import Any

import uvicorn
from litestar import Litestar, MediaType, Request, Response
from litestar.datastructures import MutableScopeHeaders, State
from litestar.exceptions import HTTPException
from litestar.openapi import OpenAPIConfig
from litestar.types import Message, Scope

from coldspell import __version__
from coldspell.api import Library
from coldspell.errors import ColdspellError
from coldspell.web.asked import parts
from coldspell.web.choose_page import choose_page
from coldspell.web.compare_page import compare_page
from coldspell.web.described import Described
from coldspell.web.impatient import Impatient
from coldspell.web.record_file import ShelfFile
from coldspell.web.record_page import MOST_RECORD, record_check, record_form
from coldspell.web.served import JSON, NoRecord, Wrong
from coldspell.web.site import PAGES, Site
from coldspell.web.trouble_page import trouble_page

MOST_BODY = 16_384
MOST_QUERY = 8_192
"""Bytes of a body and of an address; nothing that is asked here needs more."""
AT_ONCE = 100
"""Requests that are held at once; further ones are told to come back (503)."""
POLICY = (
    "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-cache",
}
_SAID = (400, 403, 404, 405, 408, 413, 414, 415, 503)
"""Errors that have a sentence of their own."""


def make_app(
    library: Library,
    settings: Mapping[str, Any],
    today: Callable[[], date],
    libraries: Sequence[Path] = (),
    write_into: Path | None = None,
    *,
    public: bool = False,
) -> Litestar:
    """The application.

    Parameters
    ----------
    library
        Records and rules.
    settings
        What holds for every lot that is asked about here.
    today
        The clock.
    libraries
        The further folders of records that it was made of.
    write_into
        The folder into which the form of a record writes; it writes nothing without one.
    public
        Leave out what is only for trained people, whatever is said of a lot.
    """
    shelf = ShelfFile(write_into) if write_into else None
    site = Site(library, settings, today, libraries, shelf, public=public)
    forms = [] if public else [record_form, record_check]  # they show a record as it is kept
    return Litestar(
        route_handlers=[*PAGES, compare_page, choose_page, trouble_page, *forms, *JSON],
        state=State({"site": site}),
        before_request=_small,
        before_send=[_headed],
        exception_handlers={HTTPException: _refused, ColdspellError: _mended, Exception: _failed},
        request_max_body_size=MOST_BODY,
        openapi_config=OpenAPIConfig(
            title="Coldspell",
            version=__version__,
            description="What a seed lot needs before it is sown.",
            path="/api",
            render_plugins=[Described(path="/openapi.json")],
        ),
        logging_config=None,
    )


def serve(app: Litestar, host: str, port: int, ready: Callable[[str], None]) -> None:
    """Serve until interrupted; ``ready`` is told the address.

    Raises
    ------
    ColdspellError
        The address cannot be listened on.
    """
    try:
        listener = socket.create_server(
            (host, port), family=socket.AF_INET6 if ":" in host else socket.AF_INET
        )
    except OSError as error:
        raise ColdspellError(
            f"port {port} of {host} cannot be used: {error.strerror}",
            mend="take another one: coldspell page --port 8765; --port 0 takes any that is free",
        ) from None
    shown = f"[{host}]" if ":" in host else host
    ready(f"http://{shown}:{listener.getsockname()[1]}/")
    with listener:
        make_server(app).run(sockets=[listener])


def make_server(app: Litestar) -> uvicorn.Server:
    """What serves the application, with its limits."""
    config = uvicorn.Config(
        app,
        http=Impatient,
        log_level="warning",
        access_log=False,
        limit_concurrency=AT_ONCE,
        timeout_keep_alive=5,
        timeout_graceful_shutdown=2,
        h11_max_incomplete_event_size=32_768,
        server_header=False,
        ws="none",
        lifespan="off",
    )
    return uvicorn.Server(config)


async def _small(request: Request[Any, Any, Any]) -> None:
    """Refuse a body or an address that is too long, before it is read."""
    length = request.headers.get("content-length", "0")
    most = MOST_RECORD if request.url.path == "/record" else MOST_BODY
    if not length.isdecimal() or int(length) > most:
        raise HTTPException(status_code=413)
    if len(request.scope["query_string"]) > MOST_QUERY:
        raise HTTPException(status_code=414)
    if _of_programs(request) and request.route_handler.media_type == MediaType.HTML:
        raise HTTPException(status_code=404)  # the framework's own page for an unknown address below /api


def _of_programs(request: Request[Any, Any, Any]) -> bool:
    """Whether a program asks, which is answered in JSON whatever goes wrong."""
    return f"{request.url.path}/".startswith("/api/")


async def _headed(message: Message, scope: Scope) -> None:
    if message["type"] == "http.response.start":
        headers = MutableScopeHeaders.from_message(message)
        for name, value in HEADERS.items():
            headers[name] = value


def _refused(request: Request[Any, Any, Any], error: HTTPException) -> Response[Any]:
    extra = error.extra if isinstance(error.extra, list) else []
    named = "; ".join(
        f"{one.get('key', '')}: {one.get('message', '')}" for one in extra if isinstance(one, dict)
    )
    return _error(request, error.status_code, named, error.headers)


def _mended(request: Request[Any, Any, Any], error: ColdspellError) -> Response[Any]:
    if error.exit_code != ColdspellError.exit_code:
        return _failed(request, error)
    what, mend = parts(error)
    if _of_programs(request):
        status = 404 if isinstance(error, NoRecord) else 400
        return _error(request, status, what, candidates=error.candidates, mend=mend)
    return _error(request, 400, f"{what} {mend}".rstrip())


def _failed(request: Request[Any, Any, Any], error: Exception) -> Response[Any]:
    """A fault of ours: what it was is told where the server runs, not to who asked."""
    import sys

    sys.stderr.write(f"coldspell: internal fault: {type(error).__name__}: {error}\n")
    return _error(request, 500)


def _error(
    request: Request[Any, Any, Any],
    status: int,
    detail: str = "",
    headers: Mapping[str, str] | None = None,
    candidates: tuple[str, ...] = (),
    mend: str = "",
) -> Response[Any]:
    site: Site = request.app.state.site
    say = site.library.texts.say
    key = status if status in _SAID else 500
    what = detail or say(f"page_error_{key}")
    mend = mend or say(f"page_mend_{key}")
    if _of_programs(request):
        wrong = Wrong(what, mend, candidates)
        return Response(wrong, status_code=status, media_type=MediaType.JSON, headers=headers)
    page = site.pages.page("error.html", head=_phrase(status), what=what, mend=mend)
    return Response(page, status_code=status, media_type=MediaType.HTML, headers=headers)


def _phrase(status: int) -> str:
    return HTTPStatus(status).phrase
