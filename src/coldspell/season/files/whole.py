"""Files that are whole or absent: kept without a name while they grow, and put in their place at the end."""

from __future__ import annotations

import tempfile
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import IO

from coldspell.errors import ColdspellError, Place
from coldspell.placed import put


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
            self.stream: IO[bytes] = tempfile.TemporaryFile(dir=path.parent)  # noqa: SIM115 - closed below
        except OSError as error:
            raise _cannot(path, error) from None

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
            self.stream.seek(0)
            put(self.path, iter(lambda: self.stream.read(1 << 20), b""))
        except OSError as error:
            raise _cannot(self.path, error) from None
        finally:
            self.discard()

    def discard(self) -> None:
        """Leave nothing behind, also where the disk is full and what is still to be written cannot be."""
        with suppress(OSError):
            self.stream.close()


def _cannot(path: Path, error: OSError) -> ColdspellError:
    return ColdspellError(
        f"cannot be written: {error.strerror or error}", Place(str(path)), "name a file in a folder of yours"
    )
