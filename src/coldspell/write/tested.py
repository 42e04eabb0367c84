"""How many seeds a test takes, and what it can mean."""

from __future__ import annotations

from coldspell.arithmetic.samples import clopper_pearson
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.lot.lot import Lot
from coldspell.plan.plan import Plan
from coldspell.texts import Texts


def percent(low: float, high: float) -> str:
    """A share, or from which to which."""
    return f"{low:g} %" if low == high else f"{low:g}–{high:g} %"


def filled_low(knowledge: Knowledge) -> float:
    """The least share of seed that is full in an ordinary lot [percent]; all of it where nobody says."""
    filled = knowledge.value("filled_percent")
    return filled.value.low if filled else 100.0


def cuts(seeds: int, practice: Practice, filled: float = 100.0) -> int:
    """How many seeds of a lot are cut: ten, more where many are empty, at most one in four (practice)."""
    most = practice.cut_most
    if filled < practice.mostly_empty_percent:
        most = practice.cut_most_empty[1]
    elif filled < practice.often_empty_percent:
        most = practice.cut_most_empty[0]
    return min(seeds // int(practice.cut_share), int(most))


def cut_count(seeds: int, practice: Practice, texts: Texts, filled: float = 100.0) -> str:
    """In words how many seeds of a lot are cut for a test."""
    few = cuts(seeds, practice, filled)
    names = ("one_if_spared", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
    return texts.say(f"cut_{names[few]}") if few < len(names) else str(few)


def pinch(lot: Lot, practice: Practice) -> int:
    """How many seeds are sown on wet paper for a test: a hundred, at most one in four (practice)."""
    return max(1, min(lot.seeds // int(practice.cut_share), int(practice.pinch_seeds)))


def batch(plan: Plan, practice: Practice) -> int:
    """How many hard coats are opened for a trial: a share of the lot, within bounds (practice)."""
    least, most = practice.batch_seeds
    return int(min(most, max(least, plan.decisions.size.seeds // int(practice.batch_share))))


def seeds_tried(plan: Plan, practice: Practice) -> int:
    """How many are tested in all: what was cut before counts with what is cut now."""
    lot, filled = plan.lot, filled_low(plan.decisions.knowledge)
    if any("{pinch}" in firing.says for step in plan.steps for firing in step.rules):
        return pinch(lot, practice)
    more = cuts(lot.seeds, practice, filled)
    if lot.cut is None:
        return max(1, more)
    before, in_all = lot.cut[1], int(practice.cut_in_all_seeds)
    return before + more if filled < practice.often_empty_percent else max(before, in_all)


def again_means(lot: Lot, tried: int) -> str:
    """The share that may live when no more are found alive than before."""
    if lot.cut is None:
        return ""
    low, high = clopper_pearson(lot.cut[0], tried)
    return percent(round(100 * low), round(100 * high))


def paper_days(knowledge: Knowledge, practice: Practice) -> float:
    """Days on wet paper: as long as the kind takes to come up in tests, and no less than practice gives."""
    germination = knowledge.value("germination")
    up = germination.days.high if germination and germination.days else practice.paper_untold_days
    return max(practice.paper_days, up)
