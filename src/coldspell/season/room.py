"""Litres in the cold by day, the days on which they are too many, and moves that mend it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, timedelta

from msgspec import Struct

from coldspell.season.lot_plan import LotPlan, Spell

MOST_MOVED = 5_000
"""Lots up to which moves are looked for."""
_TRIES = 400


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

    def excess(self, capacity: float) -> float:
        """Litre-days above the capacity: what a move has to make less."""
        return sum((after - day) * max(0.0, litres - capacity) for day, after, litres in self.spans())


class Move(Struct, frozen=True):
    """One lot that is sown on another day, so that its cold falls elsewhere."""

    before: LotPlan
    after: LotPlan


class Mending(Struct, frozen=True):
    """Moves found, and the litre-days above the capacity that are left after them."""

    moves: tuple[Move, ...]
    left: float
    capacity_needed: float
    """Litres with which nothing overflows after the moves."""
    too_large: tuple[LotPlan, ...] = ()
    """Lots that take more than the capacity by themselves; they are not counted in the rest."""


Replan = Callable[[LotPlan, date], LotPlan | None]


def mend(plans: Sequence[LotPlan], capacity: float, replan: Replan, *, weeks: int = 6) -> Mending:
    """Sowing days that bring the room under its capacity.

    Lots with the most days to spare are moved first, by whole weeks and later only, since what is sown sooner
    may meet frost; each lot once. A move is taken when it leaves fewer litre-days above the capacity; those
    that turn out to be needless are taken back; the set found mends what it can and need not be the least. A
    lot that does not fit by itself is left out: no day mends that.

    Parameters
    ----------
    plans
        Lots with spells in the cold, of any number.
    capacity
        Room in the cold [litres].
    replan
        The plan of a lot for another sowing day; ``None`` where it cannot be met.
    weeks
        How far a sowing day may move.
    """
    room = ColdRoom()
    large = tuple(plan for plan in plans if plan.wants.room_litres > capacity)
    plans = [plan for plan in plans if plan.wants.room_litres <= capacity]
    for plan in plans:
        room.add(plan.cold, plan.wants.room_litres)
    moves: dict[int, Move] = {}
    tried: set[int] = set()
    for _ in range(_TRIES):
        over = room.over(capacity)
        if not over:
            break
        (start, end), _ = over[0]
        movable = [
            p
            for p in plans
            if p.number not in tried and p.sow is not None and any(a < end and b > start for a, b in p.cold)
        ]
        if not movable:
            movable = [p for p in plans if p.number not in tried and p.sow is not None and _meets(p, over)]
        if not movable:
            break
        lot = max(movable, key=lambda p: (p.spare or 0, p.wants.room_litres, -p.number))
        tried.add(lot.number)
        moved = _best(lot, room, capacity, replan, weeks)
        if moved is not None:
            moves[lot.number] = Move(lot, moved)
    for number, move in reversed(list(moves.items())):
        litres, left = move.before.wants.room_litres, room.excess(capacity)
        room.add(move.after.cold, litres, -1)
        room.add(move.before.cold, litres)
        if room.excess(capacity) <= left + 1e-6:
            del moves[number]
        else:
            room.add(move.before.cold, litres, -1)
            room.add(move.after.cold, litres)
    return Mending(tuple(moves.values()), room.excess(capacity), room.peak()[0], large)


def _meets(plan: LotPlan, over: Sequence[tuple[Spell, float]]) -> bool:
    return any(a < end and b > start for (start, end), _ in over for a, b in plan.cold)


def _best(lot: LotPlan, room: ColdRoom, capacity: float, replan: Replan, weeks: int) -> LotPlan | None:
    """The nearest move of a lot that leaves fewest litre-days too many; the room is changed by it."""
    assert lot.sow is not None
    litres = lot.wants.room_litres
    least, found = room.excess(capacity), None
    room.add(lot.cold, litres, -1)
    for week in range(1, weeks + 1):
        moved = replan(lot, lot.sow + timedelta(days=7 * week))
        if moved is None:
            continue
        room.add(moved.cold, litres)
        excess = room.excess(capacity)
        room.add(moved.cold, litres, -1)
        if excess < least - 1e-6:
            least, found = excess, moved
        if found is not None and least <= 1e-6:
            break
    room.add((found or lot).cold, litres)
    return found
