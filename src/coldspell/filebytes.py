"""Read the bytes of one file, with a message for whatever is unusual about it."""

from __future__ import annotations

import os
from pathlib import Path

from coldspell.errors import ColdspellError

MAX_BYTES = 256 * 1024
_FLAGS = os.O_RDONLY | getattr(os, "O_BINARY", 0)


def read_bytes(path: Path, file: str | None = None, limit: int = MAX_BYTES) -> bytes:
    """Return the bytes of a regular file of at most ``limit`` bytes; never reads more than that.

    Raises
    ------
    ColdspellError
        If the file cannot be read, is no regular file or is too large.
    """
    name = file or str(path)
    try:
        if not path.is_file():
            if path.exists():
                raise ColdspellError("this is not a file", name, "Name a YAML file.")
            raise ColdspellError(_why_absent(path), name, "Check the path.")
        data = read_regular(str(path), limit)
        if data is None:
            with path.open("rb") as stream:
                data = stream.read(limit + 1)
    except OSError as error:
        raise ColdspellError(f"the file cannot be read: {error.strerror or error}", name) from None
    if len(data) > limit:
        raise ColdspellError(
            f"the file is larger than {limit // 1024} KB", name, "Is this the right file? Split it."
        )
    return data


def _why_absent(path: Path) -> str:
    try:
        path.stat()
    except OSError as error:
        return f"the file cannot be read: {error.strerror or error}"
    return "there is no such file"


def read_regular(path: str, limit: int) -> bytes | None:
    """The bytes of a regular file; ``None`` where anything is unusual and deserves a message.

    Asks for as many bytes as there are: room for the largest record, 900 times over, costs more than reading.
    """
    try:
        handle = os.open(path, _FLAGS)
        try:
            size = os.fstat(handle).st_size
            data = os.read(handle, min(size, limit) + 1)
        finally:
            os.close(handle)
    except OSError:
        return None
    return data if 0 < len(data) == size <= limit else None
