"""A command whose parameters are put together when it is called: its own, and those that were typed."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Sequence
from typing import Any


def with_parameters(
    answer: Callable[..., int], parameters: Sequence[inspect.Parameter], **fixed: Any
) -> Callable[..., int]:
    """A function that takes just these parameters, for typer to read, and calls ``answer`` with them.

    Parameters
    ----------
    answer
        What is done; its docstring is the help.
    fixed
        What it is given besides.
    """

    def command(**given: Any) -> int:
        return answer(**given, **fixed)

    command.__doc__ = answer.__doc__
    command.__signature__ = inspect.Signature(parameters)  # type: ignore[attr-defined]
    command.__annotations__ = {p.name: p.annotation for p in parameters}
    return command
