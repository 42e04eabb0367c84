"""Know that no file of a library was touched since it was read last, without reading the files again.

The stamp is what the operating system says of every file: its name, number, size, and the times of its last
writing and of its last change. No program can set the time of the last change: the system does, at each
write, rename or change of the other time (POSIX.1-2017, volume 1, section 4.9); so a file edited in place has
another stamp even where its size and the time of its writing are as before.

Three things keep it safe. A stamp is not kept while a file is so young that a further write could fall into
the same tick of the clock. Where the system has no such time (Windows), files are read each time. And it is
for the records inside an installed package: those of a checkout or of one's own, which are there to be
edited, perhaps over a network that hands out old times for some seconds, are read each time.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from coldspell.cachefile import cached, content_key
from coldspell.library.files import digest, entries, read_libraries

_FORMAT = "stamp 1"
_YOUNG_NS = 3_000_000_000  # the coarsest clock of a file system in use ticks every two seconds


def stamped_digest(dirs: Sequence[Path], cache: Path | None = None) -> str:
    """Return the digest of library directories; files are read only where the stamp is not known.

    Raises
    ------
    ColdspellError
        As :func:`coldspell.library.files.read_libraries`.
    """
    stamp = stamp_of(dirs)
    if stamp is None:
        return digest(read_libraries(dirs))
    key = content_key(_FORMAT, stamp)
    return cached(key, "stamp", lambda: digest(read_libraries(dirs)).encode(), cache).decode()


def stamp_of(dirs: Sequence[Path]) -> str | None:
    """Return the stamp of every file of library directories; ``None`` where it could not be relied on."""
    if sys.platform == "win32":
        return None
    settled = time.time_ns() - _YOUNG_NS
    lines: list[str] = []
    try:
        for number, directory in enumerate(dirs):
            lines.append(f"{number} {os.path.realpath(directory)}")
            for relative, entry in entries(directory):
                status = entry.stat()
                if not 0 < status.st_ctime_ns < settled or not status.st_ino:
                    return None
                lines.append(
                    f"{relative}\0{status.st_dev} {status.st_ino} {status.st_mode} {status.st_size} "
                    f"{status.st_mtime_ns} {status.st_ctime_ns}"
                )
    except OSError:
        return None
    return "\n".join(lines)
