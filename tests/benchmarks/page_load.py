"""Load on the page beside a bare hello-world of the same framework, in one run.

    uv run --all-groups python tests/benchmarks/page_load.py [SECONDS] [CLIENTS]

Both are served by uvicorn in a process of their own, one after the other, to as many clients as ask at
once, each asking again as soon as it is answered; no two ask about the same lot. Printed are the
answers, the errors, and the 95th percentile of the time to an answer as a ratio to that of the hello-
world: times of one machine say nothing about another.
"""

from __future__ import annotations

import asyncio
import multiprocessing
import socket
import sys
import time
from collections.abc import Callable
from datetime import date
from statistics import quantiles

ASKED = (
    "/recipe?name=apple&seeds={n}",
    "/recipe?name=northern+red+oak&seeds={n}&moisture=fresh&sow=2027-04-15",
    "/",
    "/library?q=oak",
    "/api/recipe?name=walnut&seeds={n}",
    "/api/find?q=eich",
)


def hello(listener: socket.socket) -> None:
    """The bare hello-world."""
    from litestar import Litestar, MediaType, get

    from coldspell.web.server import make_server

    @get(["/", "/{rest:path}"], media_type=MediaType.HTML)
    async def greet() -> str:
        return "<p>Hello, world</p>"

    make_server(Litestar([greet], openapi_config=None, logging_config=None)).run(sockets=[listener])


def page(listener: socket.socket) -> None:
    """The page on the shipped library."""
    from coldspell.api import shipped
    from coldspell.web.server import make_app, make_server

    make_server(make_app(shipped(), {}, lambda: date(2026, 11, 30))).run(sockets=[listener])


async def client(port: int, until: float, number: int, times: list[float], wrong: list[str]) -> None:
    """Ask one after the other over one connection."""
    reader, writer = await asyncio.open_connection("127.0.0.1", port)
    turn = 0
    while time.perf_counter() < until:
        path = ASKED[(number + turn) % len(ASKED)].format(n=1 + turn * 64 + number)
        turn += 1
        started = time.perf_counter()
        writer.write(f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n".encode())
        await writer.drain()
        head = await reader.readuntil(b"\r\n\r\n")
        fields = dict(line.lower().split(b": ", 1) for line in head.split(b"\r\n")[1:] if b": " in line)
        await reader.readexactly(int(fields[b"content-length"]))
        times.append(time.perf_counter() - started)
        if b" 200 " not in head.split(b"\r\n")[0]:
            wrong.append(head.split(b"\r\n")[0].decode())
    writer.close()


async def load(port: int, seconds: float, clients: int) -> tuple[list[float], list[str]]:
    """All clients at once; each begins at another address."""
    times: list[float] = []
    wrong: list[str] = []
    until = time.perf_counter() + seconds
    await asyncio.gather(*(client(port, until, number, times, wrong) for number in range(clients)))
    return times, wrong


def measured(
    serve: Callable[[socket.socket], None], seconds: float, clients: int
) -> tuple[float, int, list[str]]:
    """95th percentile [s], answers, and what was no 200."""
    listener = socket.create_server(("127.0.0.1", 0))
    server = multiprocessing.get_context("fork").Process(target=serve, args=(listener,), daemon=True)
    server.start()
    port = listener.getsockname()[1]
    asyncio.run(load(port, 3, 2))  # warm
    times, wrong = asyncio.run(load(port, seconds, clients))
    server.terminate()
    server.join()
    return quantiles(times, n=20)[-1], len(times), wrong


def main(seconds: float = 60, clients: int = 50) -> None:
    """Print one line for each, and the ratio."""
    found = {}
    for name, serve in (("hello", hello), ("page", page)):
        found[name], answers, wrong = measured(serve, seconds, clients)
        print(
            f"{name:6} {answers} answers to {clients} clients in {seconds:g} s, {len(wrong)} errors",
            wrong[:3],
        )
    print(f"95th percentile of the page / that of the hello-world: {found['page'] / found['hello']:.1f}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:3]))
