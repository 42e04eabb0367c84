"""The program: commands, and the one place where errors become messages and exit codes."""

from __future__ import annotations

import gc
import os
import re
import sys
from typing import Any


def run() -> None:
    """Entry point: run the program and leave with its exit code.

    The collector of cycles is left out of one recipe: it looks through all modules while they load, and once
    more at the end, a seventh of the whole time, for next to nothing. Hence nothing is imported above.
    """
    if sys.argv[1:2] == ["recipe"]:
        gc.disable()
    code = main(sys.argv[1:])
    gc.freeze()
    sys.exit(code)


def main(arguments: list[str]) -> int:
    """Run one command; 0 answered, 1 a check found faults, 2 wrong use, 3 internal fault, 130 interrupted."""
    from coldspell.errors import ColdspellError

    try:
        return _guarded(arguments)
    except KeyboardInterrupt:
        _complain("interrupted")
        return 130
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
    asked = f" {' '.join(arguments)} "
    if not re.search(r" --format[ =](?:json|jsonl) ", asked):
        _complain(str(error))
        return
    import json

    where = None if error.where is None else str(error.where)
    said = {"what": error.what, "where": where, "mend": error.mend, "exit_code": error.exit_code}
    document = {"schema": "coldspell/error/1", "error": said}
    sys.stderr.write(json.dumps(document) + "\n")


def _complain(text: str) -> None:
    from coldspell.views.layout import fitted

    try:
        sys.stderr.write(fitted(f"coldspell: {text}\n", sys.stderr.encoding))
    except BrokenPipeError:
        return


def _close_output() -> None:
    """Point standard output nowhere, so that the interpreter does not complain when it flushes at the end."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
