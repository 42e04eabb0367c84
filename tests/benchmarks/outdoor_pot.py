"""What an outdoor pot adds as an arm beside the sequence of a seed without a record. Run by hand.

    python tests/benchmarks/outdoor_pot.py

Two measures.

*Contains* (from the records alone): how many species of the library get, by the low ends of the days on
record, what they ask for from (a) the sequence: swelling test with a nick, 60 days warm, 120 days cold; (b) a
pot set outdoors in autumn and kept two springs: a winter of 120 days, a summer of 150, another winter; (c)
either. Winters of a place with frost are meant; the pot opens no hard coat in this count, although frost and
soil open some. Kinds of which the record says that they are sown outdoors count for the pot by that alone.

*Plants* (a model): the chance of at least k plants from N seeds, for several ways to split them. Living share
of a lot ~ Beta(4, 2), the share of living seed that grows in an arm ~ Beta(5q, 5(1 - q)) with one effect of
the lot on all arms. The means q below are our choice, next to what was measured for kinds that need cold
(untreated 5-18 %, chilled 62-82 %) and for others (78-85 %, 61-78 %); those of the pot are the sequence's or
the cold's, less a sixth for slugs, mice, drought and two years in a pot, and are nobody's measurement.
``h`` is the share of cold-needing kinds in which the warm spell spoils the cold after it (a quarter is left).
That warmth first does no harm (h = 0) is the assumption that nobody has measured; the pot, which has its
winter first where it is sown in autumn, is the insurance for it.
"""

from __future__ import annotations

import random
from datetime import date

import numpy as np
from scipy import stats

from coldspell.api import shipped
from coldspell.decide.relatives import Relative, relative
from coldspell.lot.lot import Lot

CLASSES = ("none", "helps", "needed", "warm_cold", "coat", "coat_cold", "never", "outdoors")
ARMS: dict[str, tuple[float, ...]] = {
    "sequence": (0.85, 0.85, 0.78, 0.45, 0.80, 0.68, 0.82, 0.35),
    "cold": (0.75, 0.85, 0.70, 0.10, 0.65, 0.60, 0.05, 0.15),
    "warm": (0.85, 0.55, 0.10, 0.03, 0.80, 0.10, 0.82, 0.05),
    "pot": (0.55, 0.70, 0.60, 0.50, 0.25, 0.25, 0.02, 0.55),
}
PRIORS = {
    "no relatives, temperate": (0.50, 0.08, 0.20, 0.04, 0.13, 0.02, 0.02, 0.01),
    "relatives differ": (0.40, 0.15, 0.35, 0.04, 0.01, 0.01, 0.02, 0.02),
    "relatives warm, then cold": (0.04, 0.02, 0.24, 0.55, 0.01, 0.03, 0.005, 0.105),
    "warm country": (0.40, 0.02, 0.03, 0.01, 0.22, 0.01, 0.30, 0.01),
}
SPLITS: dict[int, tuple[int, tuple[dict[str, int], ...]]] = {
    6: (1, ({"sequence": 6}, {"sequence": 3, "pot": 3}, {"sequence": 3, "cold": 3}, {"pot": 6})),
    20: (
        3,
        (
            {"sequence": 20},
            {"sequence": 10, "pot": 10},
            {"sequence": 10, "cold": 10},
            {"sequence": 8, "cold": 6, "pot": 6},
            {"pot": 20},
        ),
    ),
    100: (
        10,
        (
            {"sequence": 100},
            {"sequence": 50, "pot": 50},
            {"sequence": 40, "cold": 40, "warm": 20},
            {"sequence": 40, "pot": 20, "cold": 20, "warm": 20},
            {"pot": 100},
        ),
    ),
}
DRAWS = 4000
WARM, COLD, WINTER, SUMMER = 60, 120, 120, 150


def low(days: object) -> float | None:
    """The low end of some days on record."""
    return getattr(days, "low", None)


def sequence_holds(kind: Relative) -> bool:
    """Whether the sequence contains what a kind asks for."""
    if kind.wants in ("nothing", "never_chill", "warmth", "open_coat"):
        return kind.warm is None or kind.warm.low <= WARM
    if kind.wants == "cold_helps":
        return True
    cold, warm = low(kind.cold), low(kind.warm)
    wants = kind.wants in ("cold", "warm_then_cold", "coat_then_cold")
    return wants and (cold or 0) <= COLD and (warm or 0) <= WARM


def pot_holds(kind: Relative) -> bool:
    """Whether a pot that is kept two springs contains it."""
    if kind.wants in ("nothing", "cold_helps", "outdoors"):
        return True
    cold, warm = low(kind.cold), low(kind.warm)
    return kind.wants in ("cold", "warm_then_cold") and (cold or 0) <= WINTER and (warm or 0) <= SUMMER


def contains() -> None:
    """Print how many records each arm contains."""
    lib = shipped()
    kinds = []
    for name in lib.records.names:
        record = lib.records.get(name)
        found = None if record.rank == "genus" else relative(record, Lot(), lib.tables.practice)
        if found is not None:
            kinds.append(found)
    print(f"{len(kinds)} species with a treatment that suits fresh seed, by their first treatment")
    for wants in (*dict.fromkeys(k.wants for k in kinds), None):
        some = [k for k in kinds if wants in (None, k.wants)]
        a = sum(map(sequence_holds, some)) / len(some)
        b = sum(map(pot_holds, some)) / len(some)
        c = sum(sequence_holds(k) or pot_holds(k) for k in some) / len(some)
        print(f"  {wants or 'all':15} {len(some):5}  sequence {a:4.0%}  pot {b:4.0%}  either {c:4.0%}")


def grown(rng: np.random.Generator, spoilt: float) -> list[dict[str, np.ndarray]]:
    """For each class the share of seeds that become seedlings in each arm, over many lots."""
    found = []
    for index, name in enumerate(CLASSES):
        alive, lot = rng.beta(4, 2, DRAWS), rng.uniform(0.001, 0.999, DRAWS)
        arms = {}
        for arm, means in ARMS.items():
            share = stats.beta.ppf(lot, 5 * means[index], 5 * (1 - means[index]))
            if arm == "sequence" and name in ("helps", "needed"):
                first = ARMS["warm"][index]  # what grew in the warmth is grown; only the rest is spoilt
                rest = np.maximum(share - first, 0)
                share = share - np.where(rng.random(DRAWS) < spoilt, 0.75 * rest, 0)
            arms[arm] = np.clip(alive * share, 0, 1)
        found.append(arms)
    return found


def plants() -> None:
    """Print the chance of enough plants for each split."""
    for spoilt in (0.0, 0.2, 0.4):
        shares = grown(np.random.default_rng(1), spoilt)
        print(f"warmth first spoils the cold in {spoilt:.0%} of the kinds that want cold")
        for prior, weights in PRIORS.items():
            for seeds, (k, splits) in SPLITS.items():
                row = []
                for split in splits:
                    rng = np.random.default_rng(2)
                    reached = [
                        np.mean(sum(rng.binomial(n, arms[arm]) for arm, n in split.items()) >= k)
                        for arms in shares
                    ]
                    chance = float(np.dot(reached, weights) / sum(weights))
                    row.append(f"{' + '.join(f'{n} {arm}' for arm, n in split.items())}: {chance:.2f}")
                print(f"  {prior:26} {seeds:3} seeds, {k} wanted   {';  '.join(row)}")


def main() -> None:
    """Print both."""
    random.seed(1)
    print(f"run {date.today().isoformat()}")
    contains()
    plants()


if __name__ == "__main__":
    main()
