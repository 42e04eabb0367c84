"""The page on the shipped library, asked on a fixed day, without settings."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

TODAY = date(2026, 11, 30)


@pytest.fixture(scope="session")
def app() -> Any:
    pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")
    from coldspell.api import shipped
    from coldspell.web.server import make_app

    return make_app(shipped(), {}, lambda: TODAY)


@pytest.fixture(scope="session")
def client(app: Any) -> Iterator[Any]:
    from litestar.testing import TestClient

    with TestClient(app=app, raise_server_exceptions=False) as found:
        yield found
