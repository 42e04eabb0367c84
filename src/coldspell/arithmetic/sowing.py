"""Mass and count, purity and pure live seed, sowing density of beds, seeds for each cell or spot."""

from __future__ import annotations

import math

from coldspell.arithmetic.distributions import check_percent, check_share
from coldspell.errors import ColdspellError


def seeds_in(kilograms: float, seeds_per_kg: float, purity_percent: float = 100.0) -> float:
    """Pure seeds in a mass of seed as bought.

    Parameters
    ----------
    kilograms : float
        Seed as bought [kg].
    seeds_per_kg : float
        Pure seeds in a kilogram [count per kg].
    purity_percent : float
        Part of the mass that is seed [percent].

    Raises
    ------
    ColdspellError
        When a number is not over 0, or the purity is no percentage.

    >>> seeds_in(2, 10000, 90)
    18000.0
    """
    seeds = _over_zero(kilograms, "kilograms") * _over_zero(seeds_per_kg, "seeds per kilogram")
    return seeds * _part(purity_percent)


def kilograms_of(seeds: float, seeds_per_kg: float, purity_percent: float = 100.0) -> float:
    """Mass of seed as bought that holds so many pure seeds [kg].

    Parameters
    ----------
    seeds : float
        Pure seeds wanted [count].
    seeds_per_kg : float
        Pure seeds in a kilogram [count per kg].
    purity_percent : float
        Part of the mass that is seed [percent].

    Raises
    ------
    ColdspellError
        When a number is not over 0, or the purity is no percentage.

    >>> kilograms_of(18000, 10000, 90)
    2.0
    """
    return seeds / (_over_zero(seeds_per_kg, "seeds per kilogram") * _some(_part(purity_percent), "purity"))


def seeds_per_kg_from_thousand(thousand_seed_g: float) -> float:
    """Seeds in a kilogram from the weight of a thousand seeds [g].

    Parameters
    ----------
    thousand_seed_g : float
        Weight of a thousand seeds [g].

    Raises
    ------
    ColdspellError
        When the weight is not over 0.

    >>> seeds_per_kg_from_thousand(25)
    40000.0
    """
    return 1e6 / _over_zero(thousand_seed_g, "weight of a thousand seeds")


def pure_live_seed_percent(purity_percent: float, germination_percent: float) -> float:
    """Pure live seed: purity times germination over 100 [percent of the mass].

    Texas Department of Transportation, Pure live seed: 85 and 75 percent make "0.64"; exact 0.6375.

    Parameters
    ----------
    purity_percent, germination_percent : float
        Part that is seed; part of the seed that sprouts [percent].

    Raises
    ------
    ColdspellError
        When one is no percentage.

    >>> pure_live_seed_percent(85, 75)
    63.75
    """
    return check_percent(purity_percent, "purity") * check_percent(germination_percent, "germination") / 100


def bulk_for_pure_live_seed(pure_live: float, purity_percent: float, germination_percent: float) -> float:
    """Mass of seed as bought for a mass of pure live seed, in the same unit: 10000 / (purity x germination).

    US Geological Survey, Northern Prairie, Table 4 prints factors by steps of 0.05 (80 and 80 percent: 1.55).

    Parameters
    ----------
    pure_live : float
        Pure live seed wanted [any unit of mass].
    purity_percent, germination_percent : float
        Part that is seed; part of the seed that sprouts [percent].

    Raises
    ------
    ColdspellError
        When one is no percentage, or one is 0.

    >>> bulk_for_pure_live_seed(1, 80, 80)
    1.5625
    """
    percent = pure_live_seed_percent(purity_percent, germination_percent)
    return pure_live * 100 / _some(percent, "pure live seed")


def plants_per_kg(
    seeds_per_kg: float, purity_percent: float, germination_percent: float, survival_percent: float = 100.0
) -> float:
    """Plants from a kilogram of seed as bought.

    Willan 1985 (FAO Forestry Paper 20/2, chapter 9): 36,000 seedlings a kilogram, whether purity is 90 and
    germination 80 percent or the other way round (so 50,000 pure seeds a kilogram).

    Parameters
    ----------
    seeds_per_kg : float
        Pure seeds in a kilogram [count per kg].
    purity_percent, germination_percent, survival_percent : float
        Parts that are seed, sprout and live [percent].

    Raises
    ------
    ColdspellError
        When seeds per kilogram are not over 0, or one is no percentage.

    >>> round(plants_per_kg(50000, 90, 80)), round(plants_per_kg(50000, 80, 90))
    (36000, 36000)
    """
    live = pure_live_seed_percent(purity_percent, germination_percent) / 100
    return _over_zero(seeds_per_kg, "seeds per kilogram") * live * _part(survival_percent)


def bed_kilograms(
    area_m2: float,
    plants_per_m2: float,
    seeds_per_kg: float,
    purity_percent: float = 100.0,
    germination_percent: float = 100.0,
    survival_percent: float = 100.0,
) -> float:
    """Seed to sow on a bed [kg]: area x density / (seeds/kg x purity x germination x survival).

    Bonner & Karrfalt 2008, form recalled; no printed worked example was found.

    Parameters
    ----------
    area_m2 : float
        Bed [square metres].
    plants_per_m2 : float
        Plants wanted [count per square metre].
    seeds_per_kg : float
        Pure seeds in a kilogram [count per kg].
    purity_percent, germination_percent, survival_percent : float
        Parts that are seed, sprout and live [percent].

    Raises
    ------
    ColdspellError
        When a number is not over 0, or one is no percentage.

    >>> bed_kilograms(10, 36, 50000, 90, 80)        # ten square metres, 360 plants, at 36,000 a kilogram
    0.01
    """
    plants = _over_zero(area_m2, "area") * _over_zero(plants_per_m2, "plants per square metre")
    each = plants_per_kg(seeds_per_kg, purity_percent, germination_percent, survival_percent)
    return round(plants / _some(each, "plants per kilogram"), 12)


def sowing_per_m2(plants_per_m2: float, germination_percent: float, survival_percent: float = 100.0) -> float:
    """Seeds to sow a square metre for a wanted density of plants.

    Parameters
    ----------
    plants_per_m2 : float
        Plants wanted [count per square metre].
    germination_percent, survival_percent : float
        Parts that sprout and live [percent].

    Raises
    ------
    ColdspellError
        When a number is not over 0, or one is no percentage.

    >>> round(sowing_per_m2(100, 80, 62.5))
    200
    """
    live = _part(germination_percent) * _part(survival_percent)
    return _over_zero(plants_per_m2, "plants per square metre") / _some(live, "germination and survival")


def density_per_m2(row_mm: float, in_row_mm: float) -> float:
    """Plants a square metre in rows: 1e6 / (row x spacing).

    Taft 1966, Tree Planters' Notes 17(2): rows 6 inches apart, acorns 2, 4, 6 inches: 12, 6, 4 a square foot.

    Parameters
    ----------
    row_mm, in_row_mm : float
        Rows apart, and plants apart in the row [mm].

    Raises
    ------
    ColdspellError
        When a distance is not over 0.

    >>> [round(density_per_m2(152.4, mm), 1) for mm in (50.8, 101.6, 152.4)]
    [129.2, 64.6, 43.1]
    """
    return 1e6 / (_over_zero(row_mm, "row distance") * _over_zero(in_row_mm, "distance in the row"))


def filled_share(chance: float, seeds: int) -> float:
    """Share of cells or spots with at least one plant: 1 - (1 - g)**n.

    Schubert & Fowells 1964 (PSW Research Note 44): five seeds, one in four growing.

    Parameters
    ----------
    chance : float
        Chance that one seed gives a plant [0 to 1].
    seeds : int
        Seeds in each cell [count].

    Raises
    ------
    ColdspellError
        When the chance is no share, or the seeds are under 0.

    >>> round(filled_share(0.25, 5), 6)
    0.762695
    """
    check_share(chance, "chance")
    if seeds < 0:
        raise ColdspellError(f"there must be seeds, not {seeds}", mend="give the number of seeds")
    return 1 - math.pow(1 - chance, seeds)


def crowded_share(chance: float, seeds: int) -> float:
    """Share of cells with two plants or more, to be thinned: 1 - (1-g)**n - n g (1-g)**(n-1).

    Parameters
    ----------
    chance : float
        Chance that one seed gives a plant [0 to 1].
    seeds : int
        Seeds in each cell [count].

    Raises
    ------
    ColdspellError
        When the chance is no share, or the seeds are under 0.

    >>> round(crowded_share(0.8, 2), 2)
    0.64
    """
    return max(0.0, filled_share(chance, seeds) - seeds * chance * math.pow(1 - chance, max(0, seeds - 1)))


def seeds_per_cell(wanted_filled: float, chance: float) -> int:
    """Fewest seeds for each cell or spot so that the wanted share is filled.

    ``ceil(ln(1 - P) / ln(1 - g))``. Roy 1957, in Schubert & Fowells 1964: 5 seeds at 50 percent, 29 at 10
    (both follow with P = 0.95, which is our finding).

    Parameters
    ----------
    wanted_filled : float
        Share of cells to be filled [0 to 1].
    chance : float
        Chance that one seed gives a plant [0 to 1].

    Raises
    ------
    ColdspellError
        When one is no share, or no number of seeds is enough.

    >>> seeds_per_cell(0.95, 0.5), seeds_per_cell(0.95, 0.1)
    (5, 29)
    """
    check_share(wanted_filled, "wanted share of filled cells"), check_share(chance, "chance")
    if wanted_filled == 0:
        return 0
    if chance == 1:
        return 1
    if wanted_filled == 1 or chance == 0:
        raise ColdspellError("no number of seeds fills every cell", mend="ask for a share below 1, as 0.95")
    return max(1, math.ceil(math.log1p(-wanted_filled) / math.log1p(-chance) - 1e-9))


def _part(percent: float) -> float:
    return check_percent(percent, "percentage") / 100


def _some(value: float, name: str) -> float:
    if value <= 0:
        raise ColdspellError(
            f"{name} is 0: no amount of seed is enough", mend="check the shares; none of them can be 0"
        )
    return value


def _over_zero(value: float, name: str) -> float:
    if not (math.isfinite(value) and value > 0):
        raise ColdspellError(f"{name} must be over 0, not {value}", mend="give a number over 0")
    return value
