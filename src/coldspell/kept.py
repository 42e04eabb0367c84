"""What is compiled from files and kept between runs until one of the files changes.

A file counts as unchanged while its path, size and times (of its content and of its entry in the folder) are.
The one edit that is missed changes none of them: the same size within the same tick of the file system's
clock (some milliseconds; two seconds on FAT). ``COLDSPELL_CACHE=off`` compiles anew each time.
"""

from __future__ import annotations

import os
import stat
import sys
import zlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any, TypeVar

import msgspec

from coldspell import __version__

T = TypeVar("T")
_MOST = 16  # entries of one name: one for each folder that was ever compiled
_PACKAGE = os.path.dirname(__file__)


class _Entry(msgspec.Struct, frozen=True, array_like=True):
    stamp: str  # the files it was made from
    mark: int  # checksum of the content
    content: bytes


def kept(
    name: str,
    paths: Sequence[Path],
    files: Iterable[str | Path],
    build: Callable[[], T],
    kind: type[T],
    cache: Path | None = None,
) -> T:
    """What `build` makes, taken from an earlier run while the files are as they were then.

    Parameters
    ----------
    name
        A word for people who look into the folder.
    paths
        What is compiled: one entry is kept for each such list of folders or files.
    files
        Paths of all files it is made from, the program's own code among them (:func:`own_code`).
    build
        Makes the value. What it raises comes out, and nothing is kept.
    kind
        Type of the value, for decoding.
    cache
        Folder for the entries, :func:`cache_folder` by default; where it cannot be read or written, or an
        entry is damaged, `build` is asked.
    """
    folder = cache or cache_folder()
    stamp = "\n".join(
        (__version__, *map(_state, files))
    )  # before they are read: a later edit is seen next time
    path = folder / f"{name}-{_key(paths)}.msgpack" if folder else None
    found = _read(path, stamp, kind) if path else None
    if found is not None:
        return found
    content = encoded(build())
    if path:
        _write(path, msgspec.msgpack.encode(_Entry(stamp, zlib.crc32(content), content)))
    return msgspec.msgpack.decode(content, type=kind, dec_hook=_unpacked)


def encoded(value: Any) -> bytes:
    """A value as it is kept; what msgspec does not know packs itself."""
    return msgspec.msgpack.encode(value, enc_hook=_packed)


def _packed(value: Any) -> Any:
    return value.packed()


def _unpacked(kind: Any, packed: Any) -> Any:
    return kind(packed)


def carried(kind: str, form: type[T]) -> T | None:
    """What the build hook compiled into an installed package; ``None`` in a checkout, where files may change.

    An installed program trusts its own files: nobody looks whether they still are as they were installed.
    They are mapped, not read: of some megabytes one recipe looks at a few pages.
    """
    import mmap  # a checkout has no use for it

    try:
        with open(os.path.join(_PACKAGE, "shipped", f"{kind}.msgpack"), "rb") as file:
            mapped = mmap.mmap(file.fileno(), 0, access=mmap.ACCESS_READ)
        return msgspec.msgpack.decode(mapped, type=form, dec_hook=_unpacked)
    except (OSError, ValueError, msgspec.MsgspecError):
        return None


def cache_folder() -> Path | None:
    """Where entries lie: ``COLDSPELL_CACHE``, else the user's cache folder; ``None`` where it is ``off``."""
    own = os.environ.get("COLDSPELL_CACHE")
    if own is not None:
        return None if own in ("", "off") else Path(own)
    import platformdirs

    found = platformdirs.user_cache_path("coldspell", appauthor=False)
    return found if found.is_absolute() else None  # a relative XDG_CACHE_HOME is to be ignored


def own_code(*rooms: str) -> Iterator[str]:
    """Yield the paths of the program's own files in some of its folders ('' for the top one)."""
    for room in rooms:
        folder = os.path.join(_PACKAGE, room)
        for entry in sorted(os.listdir(folder)):
            if entry.endswith((".py", ".json")):
                yield os.path.join(folder, entry)


def _key(paths: Sequence[Path]) -> str:
    return f"{zlib.crc32(os.fsencode(os.pathsep.join(map(os.path.abspath, paths)))):08x}"


def _state(path: str | Path) -> str:
    try:
        found = os.stat(path)
    except OSError:
        return f"{path} is absent"
    return f"{path} {found.st_size} {found.st_mtime_ns} {found.st_ctime_ns}"


def _read(path: Path, stamp: str, kind: type[T]) -> T | None:
    """What an entry holds; only a regular file is read that nobody but the user can write."""
    try:
        found = os.stat(path)
        if not stat.S_ISREG(found.st_mode):
            return None
        if sys.platform != "win32" and (found.st_uid != os.geteuid() or found.st_mode & 0o022):
            return None
        entry = msgspec.msgpack.decode(path.read_bytes(), type=_Entry)
        if entry.stamp != stamp or entry.mark != zlib.crc32(entry.content):
            return None
        return msgspec.msgpack.decode(entry.content, type=kind, dec_hook=_unpacked)
    except (OSError, msgspec.MsgspecError):
        return None


def _write(path: Path, data: bytes) -> None:
    """Put an entry in its place, whole or not at all, and clear old ones; do without where that fails."""
    import tempfile  # costs some milliseconds, and a warm start never writes

    temporary = None
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".new-")
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.replace(temporary, path)
        _clear(path)
    except OSError:
        if temporary:
            _remove(temporary)


def _clear(path: Path) -> None:
    """Remove the oldest entries of this name, and what a killed process left behind more than a day ago."""
    name, age = path.name.partition("-")[0], os.path.getmtime
    siblings = sorted(path.parent.glob(f"{name}-*"), key=age, reverse=True)
    left = [one for one in path.parent.glob(".new-*") if age(one) < age(path) - 86_400]
    for old in (*siblings[_MOST:], *left):
        _remove(old)


def _remove(path: Path | str) -> None:
    try:
        os.unlink(path)
    except OSError:
        return
