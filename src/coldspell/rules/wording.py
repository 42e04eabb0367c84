"""Numbers and ranges in the words that rules use."""

from __future__ import annotations

from coldspell.rules.model import UNKNOWN


def number_words(value: float) -> str:
    """A number as a person writes it: no trailing ``.0``."""
    return str(int(value)) if value == int(value) else repr(value)


def range_words(over: float | None, up_to: float | None, known: bool = True, unknown: bool = False) -> str:
    """A range of numbers in words, as rules write it."""
    parts = [f"over {number_words(over)}"] if over is not None else []
    parts += [f"up to {number_words(up_to)}"] if up_to is not None else []
    text = ", ".join(parts) or ("known" if known else "")
    return f"{text} or unknown" if text and unknown else text or UNKNOWN
