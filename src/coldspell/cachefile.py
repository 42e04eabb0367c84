"""Compiled files kept between runs: one small file for each key, never trusted beyond its checksum.

The key is a hash of everything the content depends on, so an entry is never stale, only unused.
Content is JSON made by the caller, never pickle. A cache that cannot be read or written only costs time.
"""

from __future__ import annotations

import hashlib
import os
import sys
import zlib
from collections.abc import Callable, Iterable
from pathlib import Path

_KEPT = 16  # entries of one name; older ones belong to earlier versions of the files


def cache_dir() -> Path | None:
    """Where entries live: ``COLDSPELL_CACHE``, else ``XDG_CACHE_HOME/coldspell``, else the user's cache.

    ``COLDSPELL_CACHE=off`` (or empty) gives ``None``: build anew each time. A relative ``XDG_CACHE_HOME`` is
    ignored, as the XDG Base Directory Specification asks.
    """
    own = os.environ.get("COLDSPELL_CACHE")
    if own is not None:
        return None if own in ("", "off") else Path(own)
    xdg = os.environ.get("XDG_CACHE_HOME", "")
    if os.path.isabs(xdg):
        return Path(xdg) / "coldspell"
    local = os.environ.get("LOCALAPPDATA", "") if sys.platform == "win32" else ""
    home = os.path.expanduser("~")
    if not local and not os.path.isabs(home):
        return None
    return Path(local or os.path.join(home, ".cache")) / "coldspell"


def content_key(*parts: str | bytes | Iterable[str | bytes]) -> str:
    """A hexadecimal key of all the parts, in order; lengths are hashed too, so parts cannot run together."""
    digest = hashlib.sha256()
    for part in parts:
        for piece in (part,) if isinstance(part, str | bytes) else part:
            data = piece.encode() if isinstance(piece, str) else piece
            digest.update(len(data).to_bytes(8, "big"))
            digest.update(data)
    return digest.hexdigest()


def cached(key: str, name: str, build: Callable[[], bytes], folder: Path | None = None) -> bytes:
    """The bytes kept under the key, or those that `build` makes (and that are kept from now on).

    Parameters
    ----------
    key
        `content_key` of everything the bytes depend on: tool version, format, paths, contents.
    name
        A word for people who look into the directory (``rules``, ``library``); part of the file name.
    build
        Makes the bytes. What it raises comes out, and nothing is kept.
    folder
        Where entries live; `cache_dir()` by default.

    Notes
    -----
    Two processes may build at once: each writes its own temporary file and the last replace wins, whole.
    """
    folder = folder or cache_dir()
    path = entry_path(folder, key, name) if folder else None
    kept = _read(path) if path else None
    if kept is not None:
        return kept
    content = build()
    if path:
        write_entry(path, content + zlib.crc32(content).to_bytes(4, "big"))
    return content


def entry_path(folder: Path, key: str, name: str) -> Path:
    """The file of one entry."""
    return folder / f"{name}-{key[:40]}.json"


def forget(key: str, name: str, folder: Path | None = None) -> None:
    """Drop one entry: for a caller who finds that it cannot decode what it was given."""
    folder = folder or cache_dir()
    if folder:
        _remove(entry_path(folder, key, name))


def _read(path: Path) -> bytes | None:
    try:
        data = path.read_bytes()
    except OSError:
        return None
    content, mark = data[:-4], data[-4:]
    return content if len(data) >= 4 and zlib.crc32(content).to_bytes(4, "big") == mark else None


def write_entry(path: Path, data: bytes) -> None:
    """Put an entry in its place, whole or not at all, and clear old ones; do without where that fails."""
    import tempfile  # costs some milliseconds, and a warm start never writes

    temporary: Path | None = None
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, text = tempfile.mkstemp(dir=path.parent, prefix=".new-")
        temporary = Path(text)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        os.replace(temporary, path)
        _prune(path)
    except OSError:
        if temporary:
            _remove(temporary)


def _prune(path: Path) -> None:
    name = path.name.rsplit("-", 1)[0]
    siblings = [(p.stat().st_mtime, p) for p in path.parent.glob(f"{name}-*.json")]
    for _, old in sorted(siblings, reverse=True)[_KEPT:]:
        _remove(old)


def _remove(path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
    except OSError:
        return
