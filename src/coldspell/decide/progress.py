"""What is left of a treatment when part of it is behind the lot."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from coldspell.records.do import COUNTS_AS
from coldspell.records.model import Quantity, Step


def steps_left(
    steps: Sequence[Step], cold_days: float, warm_days: float, root_days: float = 0
) -> tuple[Step, ...]:
    """The steps that are still to be done, with the days still to be given.

    Spells are credited in their order, and a later one only once every earlier one is done: cold before the
    warmth that comes first does not count. A spell is done after its shortest length, one that ends
    on a root only after its longest. What comes before a spell that was begun (soaking, opening the coat) is
    done too; an optional spell counts as left out when a later one was begun.

    Parameters
    ----------
    steps
        As the record has them.
    cold_days, warm_days
        Days of moist cold and moist warmth that the lot has had.
    root_days
        For seed whose root ends the warmth and shows none yet: the least that is left of that warmth [days].

    >>> from coldspell.records.model import Quantity
    >>> cold = Step("cold_moist", days=Quantity(90, 120))
    >>> [(s.do, s.days) for s in steps_left([Step("soak"), cold], 30, 0)]
    [('cold_moist', Quantity(low=60, high=90, usual=None))]
    >>> [s.do for s in steps_left([Step("warm_moist", days=Quantity(60, 60)), cold], 30, 0)]
    ['warm_moist', 'cold_moist']
    """
    left = {"cold": cold_days, "warm": warm_days}
    before: list[Step] = []
    counting = any(left.values())
    for place, step in enumerate(steps):
        if step.do == "soak" and (cold_days or warm_days):
            continue  # it has lain moist
        spell = COUNTS_AS.get(step.do)
        if spell is None or not counting or step.days is None:
            before.append(step)
            continue
        had = min(left[spell], step.days.high)
        if had and root_days and spell == "warm" and not cold_days:
            before, counting = [replace(step, days=_at_least(_less(step.days, had), root_days))], False
            continue
        left[spell] -= had
        enough = step.days.low if step.until == "ready" else step.days.high  # else the root decides
        later = (COUNTS_AS.get(s.do) for s in steps[place + 1 :])
        begun_later = any(spell is not None and left[spell] for spell in later)
        if had >= enough or (step.need == "optional" and not had and begun_later):
            before = []
            continue
        counting = False
        if had:
            before = []
            step = replace(step, days=_less(step.days, had))
        before.append(step)
    return tuple(before)


def rest_left(steps: Sequence[Step], dry_days: float, warmest: float) -> tuple[Step, ...]:
    """The steps without the dry rest that dry days [days] were, unless it is one in more than room warmth.

    >>> from coldspell.records.model import Quantity
    >>> rest = Step("after_ripen", days=Quantity(90, 180))
    >>> [(s.do, s.days) for s in rest_left([rest], 60, 25)]
    [('after_ripen', Quantity(low=30, high=120, usual=None))]
    >>> rest_left([rest], 400, 25)
    ()
    """
    left = []
    for step in steps:
        hot = step.celsius is not None and step.celsius.low > warmest
        if step.do == "after_ripen" and step.days is not None and dry_days and not hot:
            if dry_days >= step.days.low:
                continue
            step = replace(step, days=_less(step.days, dry_days))
        left.append(step)
    return tuple(left)


def _at_least(days: Quantity, least: float) -> Quantity:
    return days if days.high >= least else Quantity(days.low, least)


def _less(days: Quantity, had: float) -> Quantity:
    usual = None if days.usual is None else max(0, days.usual - had)
    return Quantity(max(0, days.low - had), days.high - had, usual)
