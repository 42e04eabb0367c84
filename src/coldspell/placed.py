"""A file put in its place: whole, or not at all, whatever ends the program meanwhile."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path


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
