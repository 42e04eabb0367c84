"""Keep the compiled library between runs: JSON, written whole or not at all, left aside when it does not fit."""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
import time
from hashlib import blake2b
from pathlib import Path

import msgspec

from coldspell import __version__

FORMAT = 1
_OLD_SECONDS = 30 * 24 * 3600


class Entry(msgspec.Struct, frozen=True, array_like=True):
    """A name that leads to a record: the name as printed, and what it is (name, synonym, common)."""

    record: str
    printed: str
    kind: str


class Compiled(msgspec.Struct, frozen=True):
    """A whole library, compiled: records and sources stay undecoded until somebody asks for one."""

    made_by: str
    digest: str
    records: dict[str, msgspec.Raw]
    libraries: dict[str, int]
    index: dict[str, list[Entry]]
    units: dict[str, list[str]]
    words: dict[str, list[str]]
    bibliography: dict[str, msgspec.Raw]


def directory() -> Path | None:
    """Return the directory for cached files: ``COLDSPELL_CACHE``, else the platform's; None without a home."""
    chosen = os.environ.get("COLDSPELL_CACHE")
    if chosen:
        return Path(chosen)
    xdg = os.environ.get("XDG_CACHE_HOME")
    if xdg and Path(xdg).is_absolute():
        return Path(xdg) / "coldspell"
    try:
        home = Path.home()
    except RuntimeError:
        return None
    if sys.platform == "darwin":
        return home / "Library" / "Caches" / "coldspell"
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "coldspell" / "Cache"
    return home / ".cache" / "coldspell"


def made_by() -> str:
    """Return what a cached library depends on besides its contents: tool version and format."""
    return f"coldspell {__version__} format {FORMAT}"


def file_name(digest: str) -> str:
    """Return the name of the cached file for a library digest."""
    return f"library-{blake2b(f'{made_by()}|{digest}'.encode(), digest_size=16).hexdigest()}.json"


def read(folder: Path, digest: str) -> Compiled | None:
    """Return the cached library, or None if there is none that fits."""
    try:
        found = msgspec.json.decode((folder / file_name(digest)).read_bytes(), type=Compiled)
    except (OSError, msgspec.MsgspecError):
        return None
    return found if (found.made_by, found.digest) == (made_by(), digest) else None


def write(folder: Path, compiled: Compiled) -> bool:
    """Write the library for later runs; return False, and leave nothing behind, where that cannot be done."""
    temporary = None
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(prefix=".library-", suffix=".tmp", dir=folder)
        with os.fdopen(handle, "wb") as stream:
            stream.write(msgspec.json.encode(compiled))
        os.replace(temporary, folder / file_name(compiled.digest))
    except OSError:
        if temporary:
            with contextlib.suppress(OSError):
                os.unlink(temporary)
        return False
    _drop_old(folder)
    return True


def _drop_old(folder: Path) -> None:
    """Remove cached files that nobody has written for a month; another process may do so at the same time."""
    limit = time.time() - _OLD_SECONDS
    for pattern in ("library-*.json", ".library-*.tmp"):
        for path in folder.glob(pattern):
            with contextlib.suppress(OSError):
                if path.stat().st_mtime < limit:
                    path.unlink()
