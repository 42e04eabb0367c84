"""Limits over a real connection: a crowd is told to come back, a slow sheet keeps nobody else waiting."""

from __future__ import annotations

import http.client
import socket
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest

pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")

from coldspell.web import impatient, record_page
from coldspell.web import server as serving


@pytest.fixture(scope="module")
def port(app: Any) -> Iterator[int]:
    listener = socket.create_server(("127.0.0.1", 0))
    server = serving.make_server(app)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    yield listener.getsockname()[1]
    server.should_exit = True
    thread.join(10)


def get(port: int, path: str) -> tuple[int, dict[str, str]]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    connection.request("GET", path)
    found = connection.getresponse()
    found.read()
    connection.close()
    return found.status, {key.lower(): value for key, value in found.getheaders()}


def test_a_crowd_for_sheets_is_told_to_come_back_and_others_are_answered(port: int) -> None:
    """RFC 9110, 15.6.4: 503 with Retry-After; meanwhile a question is answered."""
    with ThreadPoolExecutor(9) as pool:
        sheets = [pool.submit(get, port, "/sheet.pdf?name=apple&seeds=15") for _ in range(8)]
        asked = pool.submit(get, port, "/recipe?name=apple")
        found = [one.result() for one in sheets]
    statuses = [status for status, _ in found]
    assert set(statuses) == {200, 503}
    assert all(headers["retry-after"] == "2" for status, headers in found if status == 503)
    assert asked.result()[0] == 200
    assert get(port, "/recipe?name=apple")[0] == 200  # it has not collapsed


def test_more_connections_than_are_held_are_told_to_come_back(port: int) -> None:
    """Held open without asking, they are turned away beyond the limit; when they go, all is as before."""
    idle = []
    for _ in range(serving.AT_ONCE + 5):
        one = socket.create_connection(("127.0.0.1", port), timeout=10)
        one.sendall(b"GET / HTTP/1.1\r\nHost: x\r\n")  # never finished
        idle.append(one)
    time.sleep(0.5)
    assert get(port, "/")[0] == 503
    for one in idle:
        one.close()
    for _ in range(50):
        if get(port, "/")[0] == 200:
            break
        time.sleep(0.1)
    assert get(port, "/recipe?name=apple")[0] == 200


@pytest.mark.long
def test_who_does_not_finish_a_request_is_hung_up_on(port: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Byte by byte is no way to hold a place; a connection that was answered is left to its own time."""
    monkeypatch.setattr(impatient, "HEAD_SECONDS", 0.6)
    with socket.create_connection(("127.0.0.1", port), timeout=10) as one:
        started = time.perf_counter()
        for byte in b"GET / HTTP/1.1" * 10:
            try:
                one.sendall(bytes([byte]))
                time.sleep(0.1)
            except OSError:
                break
        assert time.perf_counter() - started < 5
    kept = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    for _ in range(2):
        kept.request("GET", "/seed.svg")
        assert kept.getresponse().read()
        time.sleep(0.8)
    kept.close()


def test_a_record_that_does_not_come_is_not_waited_for(port: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """RFC 9110, 15.5.9: 408."""
    monkeypatch.setattr(record_page, "BODY_SECONDS", 0.3)
    with socket.create_connection(("127.0.0.1", port), timeout=10) as one:
        head = "POST /record HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 100\r\n"
        one.sendall((head + "Content-Type: application/x-www-form-urlencoded\r\n\r\nname=").encode())
        assert b" 408 " in one.recv(200)


@pytest.mark.parametrize("path", ["/recipe", "/record"])
def test_a_body_without_a_length_is_cut_off(port: int, path: str) -> None:
    """RFC 9112, 7.1: chunked; refused once it is over the limit, without being held."""
    with socket.create_connection(("127.0.0.1", port), timeout=30) as one:
        head = f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1\r\nTransfer-Encoding: chunked\r\n"
        one.sendall((head + "Content-Type: application/x-www-form-urlencoded\r\n\r\n").encode())
        piece = b"8000\r\n" + b"x" * 0x8000 + b"\r\n"
        try:
            for _ in range(64):
                one.sendall(piece)
            one.sendall(b"0\r\n\r\n")
        except OSError:
            pass  # it has hung up: as good
        answer = one.recv(200)
    assert answer.split(b" ")[1:2] in ([b"413"], [b"405"])
    assert get(port, "/")[0] == 200


def test_a_head_without_end_is_refused(port: int) -> None:
    with socket.create_connection(("127.0.0.1", port), timeout=30) as one:
        one.sendall(b"GET / HTTP/1.1\r\nX: " + b"x" * 70_000)
        assert b" 400 " in one.recv(200)
