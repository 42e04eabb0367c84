"""HTTP/1.1 that hangs up on who does not finish a request, so that the idle cannot take all places."""

from __future__ import annotations

import asyncio
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_SECONDS = 10.0
"""Within so many seconds the head of a request has to be there (our choice)."""


class Impatient(H11Protocol):
    """The protocol of the server with a limit on the time that the head of a request may take."""

    late: asyncio.TimerHandle | None = None

    def connection_made(self, transport: Any) -> None:
        """Somebody is there: wait for the request."""
        super().connection_made(transport)
        self._watch()

    def data_received(self, data: bytes) -> None:
        """Something came: a whole head, or a part of one."""
        super().data_received(data)
        self._watch()

    def connection_lost(self, exc: Exception | None) -> None:
        """Nobody is there any more."""
        self._stop()
        super().connection_lost(exc)

    def _watch(self) -> None:
        """Wait while no request is answered; not from anew with each byte."""
        if self.cycle is not None and not self.cycle.response_complete:
            self._stop()
        elif self.late is None:
            self.late = self.loop.call_later(HEAD_SECONDS, self.transport.close)

    def _stop(self) -> None:
        if self.late is not None:
            self.late.cancel()
            self.late = None
