"""Processes that work for this one, and end when it does, however it ends."""

from __future__ import annotations

import os
import signal
import threading
from concurrent.futures import ProcessPoolExecutor


def workers(count: int) -> ProcessPoolExecutor:
    """A pool of processes for a ``with``; none outlives this process, killed or not."""
    return ProcessPoolExecutor(count, initializer=_begin)


def _begin() -> None:
    """Leave it to the first process to say that all were interrupted, and go when it is gone."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    threading.Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    """Wait for the first process to end: else a worker waits for work for ever."""
    from multiprocessing import connection, parent_process

    parent = parent_process()
    if parent is not None:
        connection.wait([parent.sentinel])
        os._exit(1)
