"""A file put in its place: whole, or not at all, whatever ends the program meanwhile."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

_unfinished: set[str] = set()
"""Files and folders that are being made, and would be left behind by a process that is ended now."""


@contextmanager
def unfinished(path: str | os.PathLike[str]) -> Iterator[None]:
    """While something is made that has to go if the program is interrupted."""
    _unfinished.add(os.fspath(path))
    try:
        yield
    finally:
        _unfinished.discard(os.fspath(path))


def abandon() -> None:
    """Take away all that is unfinished: what an interrupted program does last."""
    import shutil

    for path in (*_unfinished,):
        for _ in range(3):  # another process may still be writing into it
            shutil.rmtree(path, ignore_errors=True)
        with suppress(OSError):
            os.unlink(path)


def put(path: Path, content: bytes | Iterable[bytes], *, new: bool = False) -> None:
    """Write a file beside its place and put it there in one step; it keeps the mode of the one before.

    Parameters
    ----------
    path
        Where it belongs; a link is followed.
    content
        All of it, or its parts in order.
    new
        Refuse a file that is there already, also one that was made meanwhile.

    Raises
    ------
    OSError
        It cannot be written (``FileExistsError``: it is there); what was there is as before.
    """
    import tempfile  # costs some milliseconds, and most answers write no file

    place = path.resolve()
    if new and place.exists():
        raise FileExistsError(str(path))
    handle, part = tempfile.mkstemp(prefix=f".{place.name[:40]}.", suffix=".part", dir=place.parent)
    try:
        with unfinished(part):
            with os.fdopen(handle, "wb") as file:
                file.writelines([content] if isinstance(content, bytes) else content)
                file.flush()
                os.fsync(file.fileno())
            os.chmod(part, _mode(place))
            if new:
                _put_new(part, place)
            else:
                os.replace(part, place)
    finally:
        Path(part).unlink(missing_ok=True)


def _put_new(part: str, place: Path) -> None:
    """Only a second name for a file is refused where one is taken; some file systems know no second names."""
    try:
        os.link(part, place)
    except FileExistsError:
        raise
    except OSError:
        os.rename(part, place)


def _mode(place: Path) -> int:
    if place.exists():
        return place.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
