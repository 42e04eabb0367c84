"""Sowing days that bring the cold room under its capacity, or as near to it as can be."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta

from msgspec import Struct

from coldspell.season.lot_plan import LotPlan, Spell
from coldspell.season.room import up

MOST_MOVED = 5_000
"""Lots up to which moves are looked for."""
WEEKS = 6
"""By how many weeks a sowing day may move."""
_MOST_ASKED = 400
"""Lots whose other days are tried."""
_MOST_STEPS = 8_000
"""Steps of one search for the fewest moves; beyond them moves are taken one by one."""
_NEAR = 0.05
"""How closely the least litres are looked for."""
_EPSILON = 1e-6


class Move(Struct, frozen=True):
    """One lot that is sown on another day, so that its cold falls elsewhere."""

    before: LotPlan
    after: LotPlan


class Mending(Struct, frozen=True):
    """Moves, and what they come to; without any of them it would come to less."""

    moves: tuple[Move, ...]
    fits: bool
    """Whether nothing overflows after the moves."""
    peak: float
    """Most litres at once after the moves."""
    sure: bool
    """Where it does not fit: whether every set of moves was weighed."""
    too_large: tuple[LotPlan, ...] = ()
    """Lots that take more than the capacity by themselves; they are not counted in the rest."""


Replan = Callable[[LotPlan, date], LotPlan | None]


def mend(plans: Sequence[LotPlan], capacity: float, replan: Replan) -> Mending:
    """Sowing days that bring the room under its capacity; where none do, those that come nearest.

    Lots move by whole weeks and later only, since what is sown sooner may meet frost; each once, those with
    the most days to spare first. The fewest moves are looked for as far as the search goes, else moves are
    taken one by one; those that turn out to be needless are left out. A lot that does not fit by itself is
    left out: no day mends that.

    Parameters
    ----------
    plans
        Lots with spells in the cold, of any number.
    capacity
        Room in the cold [litres].
    replan
        The plan of a lot for another sowing day; ``None`` where it cannot be met.
    """
    large = tuple(plan for plan in plans if plan.wants.room_litres > capacity)
    plans = [plan for plan in plans if plan.wants.room_litres <= capacity and plan.cold]
    if not plans:
        return Mending((), True, 0.0, True, large)
    search = _Search(plans, capacity, replan)
    found, sure = search.under(capacity)
    if found is not None:
        return Mending(tuple(found), True, search.peak_of(found), True, large)
    best: list[Move] = []
    low, high = max(capacity, search.least), search.peak_of(best)
    while high - low > _NEAR:
        target = (low + high) / 2
        tried, _ = search.under(target)
        if tried is None:
            low = target
        else:
            best, high = tried, min(high, search.peak_of(tried))
    fewer, _ = search.under(up(high))  # as it is printed
    best = best if fewer is None or len(fewer) > len(best) else fewer
    return Mending(tuple(best), False, search.peak_of(best), sure, large)


class _Search:
    """One season whose room overflows, with the other days of its lots."""

    def __init__(self, plans: Sequence[LotPlan], capacity: float, replan: Replan) -> None:
        ends = [day for plan in plans for spell in plan.cold for day in spell]
        self._first = min(ends).toordinal()
        days = max(ends).toordinal() - self._first + 1 + 7 * WEEKS
        self._litres = [0.0] * days
        for plan in plans:
            self._put(plan.cold, plan.wants.room_litres)
        self._over = {day for day, litres in enumerate(self._litres) if litres > capacity + _EPSILON}
        meets = [plan for plan in plans if plan.sow is not None]
        there = {p.number for p in meets if not self._over.isdisjoint(self._days(p.cold))}
        meets.sort(key=lambda p: (p.number not in there, -(p.spare or 0), -p.wants.room_litres, p.number))
        self._movable = meets[:_MOST_ASKED]
        self._all = len(meets) <= _MOST_ASKED
        self._replan, self._known = replan, dict[int, list[LotPlan]]()
        self._steps = 0
        self.least = self._least()

    def _others(self, plan: LotPlan) -> list[LotPlan]:
        """The plans of a lot for later sowing days, the nearest first; made when they are first asked for."""
        found = self._known.get(plan.number)
        if found is None:
            found = self._known[plan.number] = _other_days(plan, self._replan)
        return found

    def peak_of(self, moves: Sequence[Move]) -> float:
        """Most litres at once with some moves."""
        for move in moves:
            self._move(move)
        peak = max(self._litres)
        for move in moves:
            self._move(move, back=True)
        return peak

    def under(self, target: float) -> tuple[list[Move] | None, bool]:
        """The fewest moves found with which no day holds more; and whether none else could do it."""
        if self.least > target + _EPSILON:
            return None, self._all
        self._steps = 0
        for most in range(len(self._movable) + 1):
            found = self._fewest(target, most, set())
            if found is not None:
                return found, True
            if self._steps >= _MOST_STEPS:
                return self._one_by_one(target), False
        return None, self._all

    def _fewest(self, target: float, most: int, moved: set[int]) -> list[Move] | None:
        """At most so many moves that bring every day under a target; at the fullest day one has to begin."""
        fullest = max(self._litres)
        if fullest <= target + _EPSILON:
            return []
        day = self._litres.index(fullest)
        there = [p for p in self._movable if p.number not in moved and self._on(p.cold, day)]
        litres = sorted((p.wants.room_litres for p in there), reverse=True)
        if most == 0 or fullest - sum(litres[:most]) > target + _EPSILON:
            return None
        rest = sum(litres[: most - 1])
        for plan in there:
            if fullest - rest - plan.wants.room_litres > target + _EPSILON:
                continue
            for after in self._others(plan):
                if self._on(after.cold, day):
                    continue
                self._steps += 1
                if self._steps >= _MOST_STEPS:
                    return None
                move = Move(plan, after)
                self._move(move)
                found = self._fewest(target, most - 1, {*moved, plan.number})
                self._move(move, back=True)
                if found is not None:
                    return [move, *found]
        return None

    def _one_by_one(self, target: float) -> list[Move] | None:
        """Moves that each leave fewer litre-days too many, without those that turn out to be needless."""
        moves: list[Move] = []
        left = list(self._movable)
        while left and (fullest := max(self._litres)) > target + _EPSILON:
            day = self._litres.index(fullest)
            plan = next((p for p in left if self._on(p.cold, day)), None)
            if plan is None:
                break
            left.remove(plan)
            ways = [Move(plan, after) for after in self._others(plan)]
            best = min(ways, key=lambda move: self._excess_with(move, target), default=None)
            if best is not None and self._excess_with(best, target) < self._excess(target) - _EPSILON:
                moves.append(best)
                self._move(best)
        fits = max(self._litres) <= target + _EPSILON
        for move in moves:
            self._move(move, back=True)
        return self._needed(moves, target) if fits else None

    def _needed(self, moves: Sequence[Move], target: float) -> list[Move]:
        """Moves without those that can be left out."""
        kept = list(moves)
        for move in reversed(moves):
            fewer = [one for one in kept if one is not move]
            if self.peak_of(fewer) <= target + _EPSILON:
                kept = fewer
        return kept

    def _least(self) -> float:
        """Litres that no moves can bring it under: what lies there whichever days are taken."""
        least = {day: self._litres[day] for day in self._over}
        for plan in self._movable:
            days = self._over.intersection(self._days(plan.cold))
            for day in days:
                if not all(self._on(after.cold, day) for after in self._others(plan)):
                    least[day] -= plan.wants.room_litres
        return max(least.values(), default=0.0)

    def _excess_with(self, move: Move, target: float) -> float:
        self._move(move)
        excess = self._excess(target)
        self._move(move, back=True)
        return excess

    def _excess(self, target: float) -> float:
        """Litre-days above a target."""
        return sum(litres - target for litres in self._litres if litres > target)

    def _move(self, move: Move, *, back: bool = False) -> None:
        one, two = (move.after, move.before) if back else (move.before, move.after)
        self._put(one.cold, -move.before.wants.room_litres)
        self._put(two.cold, move.before.wants.room_litres)

    def _put(self, spells: Sequence[Spell], litres: float) -> None:
        for start, after in spells:
            one, two = start.toordinal() - self._first, after.toordinal() - self._first
            self._litres[one:two] = [held + litres for held in self._litres[one:two]]

    def _days(self, spells: Sequence[Spell]) -> Iterable[int]:
        for start, after in spells:
            yield from range(start.toordinal() - self._first, after.toordinal() - self._first)

    def _on(self, spells: Sequence[Spell], day: int) -> bool:
        at = day + self._first
        return any(start.toordinal() <= at < after.toordinal() for start, after in spells)


def _other_days(plan: LotPlan, replan: Replan) -> list[LotPlan]:
    """The plans of a lot for later sowing days, the nearest first."""
    assert plan.sow is not None
    found = (replan(plan, plan.sow + timedelta(days=7 * week)) for week in range(1, WEEKS + 1))
    return [after for after in found if after is not None]
