"""Litres in the cold by day, and the days on which they are too many."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from coldspell.season.lot_plan import Spell


class ColdRoom:
    """What lies in the cold on each day, added up as lots come in; memory goes with days, not with lots."""

    def __init__(self) -> None:
        self._changes: dict[int, float] = {}

    def add(self, spells: Iterable[Spell], litres: float, sign: int = 1) -> None:
        """Put a lot in for its spells (``sign`` -1 takes it out)."""
        changes = self._changes
        for start, end in spells:
            one, two = start.toordinal(), end.toordinal()
            changes[one] = changes.get(one, 0.0) + sign * litres
            changes[two] = changes.get(two, 0.0) - sign * litres

    def merge(self, changes: Mapping[int, float]) -> None:
        """Add what another room holds."""
        for day, litres in changes.items():
            self._changes[day] = self._changes.get(day, 0.0) + litres

    @property
    def changes(self) -> dict[int, float]:
        """Litres that come in or go out, by ordinal of the day."""
        return self._changes

    def spans(self) -> list[tuple[int, int, float]]:
        """Days between changes (ordinals; the second is the day after), and the litres that lie there."""
        days, litres, found = sorted(self._changes), 0.0, []
        for day, after in zip(days, [*days[1:], *days[-1:]], strict=True):
            litres += self._changes[day]
            if after > day:
                found.append((day, after, max(0.0, round(litres, 6))))
        return found

    def on(self, day: date) -> float:
        """Litres on one day."""
        at = day.toordinal()
        return max(0.0, round(sum(v for d, v in self._changes.items() if d <= at), 6))

    def peak(self) -> tuple[float, date | None]:
        """Most litres at once, and the first day on which they lie there."""
        best, when = 0.0, None
        for day, _, litres in self.spans():
            if litres > best:
                best, when = litres, date.fromordinal(day)
        return best, when

    def over(self, capacity: float) -> list[tuple[Spell, float]]:
        """Runs of days with more than the capacity, each with its most litres."""
        runs: list[tuple[Spell, float]] = []
        for day, after, litres in self.spans():
            if litres <= capacity + 1e-6:
                continue
            first = date.fromordinal(day)
            if runs and runs[-1][0][1] == first:
                (start, _), most = runs.pop()
                runs.append(((start, date.fromordinal(after)), max(most, litres)))
            else:
                runs.append(((first, date.fromordinal(after)), litres))
        return runs


def up(litres: float) -> float:
    """Litres to buy or to have room for: rounded up to a tenth."""
    return -(-round(litres, 6) * 10 // 1) / 10 if litres < 100 else float(-(-round(litres, 6) // 1))
