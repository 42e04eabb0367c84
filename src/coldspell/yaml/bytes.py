"""Read the bytes of one file, with a message for whatever is unusual about it."""

from __future__ import annotations

from pathlib import Path

from coldspell.errors import ColdspellError

MAX_BYTES = 256 * 1024


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
        with path.open("rb") as stream:
            data = stream.read(limit + 1)
    except OSError as error:
        raise ColdspellError(
            f"the file cannot be read: {error.strerror or error}",
            name,
            mend="check the path and who may read it",
        ) from None
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
