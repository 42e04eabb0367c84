"""A folder that is whole or absent: made beside its place and put there at the end."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from coldspell.errors import ColdspellError, Place
from coldspell.placed import unfinished

MARK = "coldspell-site.json"
"""The file by which a folder is known as made here, so that it may be replaced."""


@contextmanager
def whole_folder(folder: Path) -> Iterator[Path]:
    """A folder to write into, which takes the place of ``folder`` once all is written.

    Raises
    ------
    ColdspellError
        There is a file of that name, or a folder with files that were not made here; or it cannot be written.
    """
    folder = folder.absolute()
    _refuse(folder)
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        part = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", suffix=".part", dir=folder.parent))
    except OSError as error:
        raise _cannot(folder, error) from None
    try:
        with unfinished(part):
            yield part
            mask = os.umask(0)
            os.umask(mask)
            part.chmod(0o777 & ~mask)
            _put(part, folder)
    except OSError as error:
        raise _cannot(folder, error) from None
    finally:
        shutil.rmtree(part, ignore_errors=True)


def _refuse(folder: Path) -> None:
    if folder.is_symlink() or (folder.exists() and not folder.is_dir()):
        raise ColdspellError("this is no folder", Place(str(folder)), "name a new folder")
    if folder.is_dir() and any(folder.iterdir()) and not (folder / MARK).is_file():
        mend = "name a new folder, or an empty one; only what was exported before is replaced"
        raise ColdspellError("this folder has other files in it", Place(str(folder)), mend)


def _put(part: Path, folder: Path) -> None:
    """The new folder in the place of the old one, which is taken away last."""
    _refuse(folder)
    old = part.with_suffix(".old")
    if folder.exists():
        folder.rename(old)
    try:
        part.rename(folder)
    except OSError:
        if old.exists():
            old.rename(folder)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _cannot(folder: Path, error: OSError) -> ColdspellError:
    return ColdspellError(
        f"cannot be written: {error.strerror or error}", Place(str(folder)), "name a folder of yours"
    )
