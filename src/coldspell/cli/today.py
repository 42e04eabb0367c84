"""The day that counts as today, as it is typed: a date, or words that count from the clock's day."""

from __future__ import annotations

import re
from datetime import date

from coldspell.typed import read_day


def the_day(said: str | None) -> date:
    """The day said by ``--today``; that of the clock where nothing is.

    >>> the_day("2027-04-15")
    datetime.date(2027, 4, 15)

    Raises
    ------
    ColdspellError
        It means no day, or more than one.
    """
    if not said:
        return date.today()
    if re.fullmatch(r"\s*[0-9-]{8,10}\s*", said):
        return read_day("--today", said)
    from coldspell.lot.days import read_said  # a start goes without

    return read_said("--today", said, date.today())
