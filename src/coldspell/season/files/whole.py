"""Files that are whole or absent: written beside their place and put there at the end."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import IO

from coldspell.errors import ColdspellError, Place


class WholeFile:
    """A file that appears under its name when everything was written; use it in a ``with``.

    Raises
    ------
    ColdspellError
        It cannot be written there.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        try:
            if path.is_dir():
                raise ColdspellError("this is a folder", Place(str(path)), "name a file")
            handle, name = tempfile.mkstemp(prefix=f".{path.name}.", suffix=".part", dir=path.parent)
        except OSError as error:
            raise _cannot(path, error) from None
        self._part = Path(name)
        self.stream: IO[bytes] = os.fdopen(handle, "wb")

    def __enter__(self) -> WholeFile:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if kind is None:
            self.commit()
        else:
            self.discard()

    def write(self, text: str | bytes) -> None:
        """Add text (as UTF-8) or bytes."""
        try:
            self.stream.write(text.encode() if isinstance(text, str) else text)
        except OSError as error:
            raise _cannot(self.path, error) from None

    def commit(self) -> None:
        """Put the whole file in its place."""
        try:
            self.stream.flush()
            os.fsync(self.stream.fileno())
            self.stream.close()
            mask = os.umask(0)
            os.umask(mask)
            os.chmod(self._part, 0o666 & ~mask)
            os.replace(self._part, self.path)
        except OSError as error:
            self.discard()
            raise _cannot(self.path, error) from None

    def discard(self) -> None:
        """Leave nothing behind, also where the disk is full and what is still to be written cannot be."""
        with suppress(OSError):
            self.stream.close()
        self._part.unlink(missing_ok=True)


def _cannot(path: Path, error: OSError) -> ColdspellError:
    return ColdspellError(
        f"cannot be written: {error.strerror or error}", Place(str(path)), "name a file in a folder of yours"
    )
