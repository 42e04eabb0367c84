"""The program: commands, and the one place where errors become messages and exit codes."""

from __future__ import annotations

import os
import sys

try:
    if "coldspell" in os.path.basename(sys.argv[0]) or sys.argv[0].endswith("coldspell/__main__.py"):
        import _signal  # type: ignore[import-not-found]  # from here on Ctrl+C shows no traceback

        if _signal.getsignal(_signal.SIGINT) is _signal.default_int_handler:
            _signal.signal(_signal.SIGINT, _signal.SIG_DFL)
    import gc
    import signal
except KeyboardInterrupt:  # from here on; while the interpreter itself begins, only it could answer
    os._exit(130)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import FrameType
    from typing import Any


def run() -> None:
    """Entry point: run the program and leave with its exit code.

    The collector of cycles is left out of one recipe: it looks through all modules while they load, and once
    more at the end, a seventh of the whole time, for next to nothing. Hence nothing is imported above.
    """
    if signal.getsignal(signal.SIGINT) is not signal.SIG_IGN:  # else a parent wants it ignored
        signal.signal(signal.SIGINT, _interrupted)
    if signal.getsignal(signal.SIGTERM) is signal.SIG_DFL:
        signal.signal(signal.SIGTERM, _interrupted)
    _write_whole()
    if sys.argv[1:2] == ["recipe"]:
        gc.disable()
    code = main(sys.argv[1:])
    gc.freeze()
    if code == 0 and not gc.isenabled():
        os._exit(0)  # all is written: taking down what was loaded is a fortieth of the whole time
    sys.exit(code)


def _interrupted(number: int, frame: FrameType | None) -> None:
    """Leave at once, also while modules load and while the interpreter ends, where no ``except`` holds.

    Files are put in their place in one step, so none is left half written; what was being made, and the
    processes that help, go too.
    """
    os.write(2, b"coldspell: interrupted\n")
    if "multiprocessing" in sys.modules:
        import multiprocessing

        for child in multiprocessing.active_children():
            child.kill()
    if "coldspell.placed" in sys.modules:
        from coldspell.placed import abandon

        abandon()
    os._exit(128 + number)


def _write_whole() -> None:
    """Write through a buffer in unbuffered mode (``PYTHONUNBUFFERED``), too.

    Without one the interpreter drops what a full disk did not take, and nobody learns of it.
    """
    import io

    stream = sys.stdout
    if stream is not None and isinstance(getattr(stream, "buffer", None), io.RawIOBase):
        buffered = io.BufferedWriter(io.FileIO(stream.fileno(), "wb", closefd=False))
        sys.stdout = io.TextIOWrapper(buffered, stream.encoding, stream.errors, line_buffering=True)


def main(arguments: list[str]) -> int:
    """Run one command; 0 answered, 1 a check found faults, 2 wrong use, 3 internal fault, 130 interrupted."""
    import warnings

    from coldspell.errors import ColdspellError

    try:
        if sys.stdout is None:
            raise ColdspellError("standard output is closed", mend="give the answer somewhere to go")
        with warnings.catch_warnings():
            warnings.showwarning = _warn
            return _guarded(arguments)
    except KeyboardInterrupt:
        _complain("interrupted")
        return 130
    except SystemExit as stop:  # completion ends so; and so does the library of commands at a broken pipe
        if stop.code:
            _close_output()
        return 0
    except BrokenPipeError:
        _close_output()
        return 0
    except ColdspellError as error:
        _tell(error, arguments)
        return error.exit_code
    except RecursionError:
        _complain("too deeply nested")
        return 2
    except Exception as error:
        if isinstance(error, OSError) and error.strerror:
            return _refused_by_the_system(error)
        if os.environ.get("COLDSPELL_DEBUG"):
            raise
        _complain(f"internal fault: {type(error).__name__}: {error}\n  Set COLDSPELL_DEBUG=1 to see where.")
        return 3


def _guarded(arguments: list[str]) -> int:
    from coldspell.cli.program import COMMANDS, build
    from coldspell.cli.typing import meant, refuse_no_numbers

    if "_COLDSPELL_COMPLETE" in os.environ:
        from coldspell.cli.complete import words_so_far

        return build(words_so_far() or [], complete=True)([])
    arguments = meant(arguments, COMMANDS)
    refuse_no_numbers(arguments)
    found = build(arguments)(arguments)
    sys.stdout.flush()
    return found


def _tell(error: Any, arguments: list[str]) -> None:
    """Say what is wrong and what to type; as JSON where the answer would have been JSON."""
    import re

    if "coldspell recipe" in error.mend:
        from coldspell.cli.retype import with_options

        error.mend = with_options(error.mend, arguments, error.what)
    asked = f" {' '.join(arguments)} "
    if not re.search(r" --format[ =](?:json|jsonl) ", asked):
        _complain(str(error))
        return
    import json

    where = None if error.where is None else str(error.where)
    said = {"what": error.what, "where": where, "mend": error.mend, "exit_code": error.exit_code}
    said["candidates"] = list(error.candidates)
    document = {"schema": "coldspell/error/1", "error": said}
    sys.stderr.write(json.dumps(document) + "\n")


def _refused_by_the_system(error: OSError) -> int:
    """Name what the system would not do: a full disk, a folder that is gone, a path that is too long."""
    import errno

    if error.filename is not None:
        _complain(f"{str(error.filename)[:120]}: {error.strerror}\n  Check the path and who may use it.")
    elif error.errno in (errno.ENOSPC, errno.EFBIG, errno.EIO, getattr(errno, "EDQUOT", errno.ENOSPC)):
        _close_output()
        _complain(f"the answer could not be written whole: {error.strerror}\n  Mend that and ask again.")
    else:
        _complain(f"the system says: {error.strerror}\n  Is the folder gone that you work in?")
    return 2


def _warn(message: Warning | str, *where: object, **more: object) -> None:
    _complain(str(message))


def _complain(text: str) -> None:
    from coldspell.views.layout import fitted

    if sys.stderr is None:
        return
    try:
        sys.stderr.write(fitted(f"coldspell: {text}\n", sys.stderr.encoding))
    except OSError:
        return


def _close_output() -> None:
    """Point standard output nowhere, so that the interpreter does not complain when it flushes at the end."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
