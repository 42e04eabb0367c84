"""Water by material, paper towels and rolls, and what goes into a refrigerator drawer.

The amounts are common practice without source (the squeeze test overrides them), except where one is named.
"""

from __future__ import annotations

import math

from msgspec import Struct

from coldspell.errors import ColdspellError

WATER_ML_PER_LITRE: dict[str, tuple[float, float]] = {
    "vermiculite": (200, 300),
    "perlite": (150, 250),
    "sand": (60, 100),
    "sawdust": (200, 300),
    "peat": (50, 150),
    "dry_peat": (250, 350),
    "coir": (250, 350),
}
"""Millilitres for a litre of medium: dry-ish vermiculite, perlite and washed sand, aged dry sawdust, bagged
peat; ``dry_peat`` and ``coir`` bone dry, with warm water. Common practice, least sure towards the end."""


class Sheet(Struct, frozen=True):
    """A paper towel as practice has it; ``rules/practice.yaml`` holds the numbers."""

    side_mm: tuple[float, float]
    """Its sides [mm]."""
    most_seeds: int
    """Most seeds along one fold [count]."""
    water_ml: tuple[float, float]
    """Water that it takes, low and high [ml]."""
    per_roll: int
    """Most sheets that are rolled up together [count]."""


class Towels(Struct, frozen=True):
    """Sheets and rolls for small seed, water for all sheets [ml, low and high]."""

    sheets: int
    rolls: int
    seeds_per_sheet: int
    water_ml: tuple[float, float]


def water_ml(material: str, litres: float) -> tuple[float, float]:
    """Water for dry-ish medium [ml, low and high]: the low end first, then squeeze.

    Parameters
    ----------
    material : str
        One of :data:`WATER_ML_PER_LITRE` [name].
    litres : float
        Medium [litres].

    Raises
    ------
    ColdspellError
        When no amount is known for the material, or the litres are under 0.

    >>> water_ml("vermiculite", 2)
    (400, 600)
    """
    if material not in WATER_ML_PER_LITRE:
        known = ", ".join(WATER_ML_PER_LITRE)
        raise ColdspellError(f"no water amount is known for {material!r}", mend=f"known: {known}")
    low, high = WATER_ML_PER_LITRE[material]
    return low * _at_least(litres, 0, "litres"), high * litres


def towels(seeds: int, seed_width_mm: float, sheet: Sheet) -> Towels:
    """Sheets, rolls and water for small seed in paper towels.

    One row of seeds along one fold, a seed width apart; 5 mm wide (apple) on 230 mm: 23 a sheet.

    Parameters
    ----------
    seeds : int
        Seeds, at least one [count].
    seed_width_mm : float
        Width of a seed [mm].
    sheet : Sheet
        What a sheet takes [mm, ml, counts].

    Raises
    ------
    ColdspellError
        When there is no seed, or a number is too small.

    >>> towels(500, 5, Sheet((230, 230), 30, (5, 7), 4))
    Towels(sheets=22, rolls=6, seeds_per_sheet=23, water_ml=(110, 154))
    """
    _at_least(seeds, 1, "seeds")
    _at_least(sheet.per_roll, 1, "sheets a roll")
    _at_least(seed_width_mm, 0.1, "seed width")
    each = max(1, min(sheet.most_seeds, math.floor(sheet.side_mm[0] / (2 * seed_width_mm))))
    sheets = math.ceil(seeds / each)
    rolls = math.ceil(sheets / sheet.per_roll)
    return Towels(sheets, rolls, each, (sheet.water_ml[0] * sheets, sheet.water_ml[1] * sheets))


def sand_mix_litres(seed_litres: float, sand_per_seed: float = 3.0) -> float:
    """Litres of sand for small seed mixed with it: 1 : 3 by volume (common practice).

    Parameters
    ----------
    seed_litres : float
        Seed [litres].
    sand_per_seed : float
        Sand to one of seed [volume ratio].

    Raises
    ------
    ColdspellError
        When a number is under 0.

    >>> sand_mix_litres(0.5)
    1.5
    """
    return _at_least(seed_litres, 0, "seed") * _at_least(sand_per_seed, 0, "sand")


def bleach_ml_per_litre(label_percent: float, wanted_percent: float) -> float:
    """Bleach for a litre of water [ml], by the hypochlorite percent on its label: c1 V1 = c2 (V1 + V2).

    Parameters
    ----------
    label_percent : float
        Hypochlorite on the label [percent].
    wanted_percent : float
        Hypochlorite wanted in the bath [percent].

    Raises
    ------
    ColdspellError
        When the bath would not be weaker than the bleach.

    >>> round(bleach_ml_per_litre(5.5, 0.25))        # common practice: 47 ml of 5-6 % gives about 0.25 %
    48
    """
    if not 0 < wanted_percent < label_percent <= 100:
        raise ColdspellError("the solution must be weaker than the bleach", mend="percent of hypochlorite")
    return 1000 * wanted_percent / (label_percent - wanted_percent)


def moisture_percent(fresh_g: float, oven_dry_g: float) -> float:
    """Moisture by fresh weight from a sample weighed before and after the oven: 100 (fresh - dry) / fresh.

    Parameters
    ----------
    fresh_g, oven_dry_g : float
        Weight of one sample before and after drying [g].

    Raises
    ------
    ColdspellError
        When the dry weight is not over 0, or above the fresh one.

    >>> moisture_percent(50, 35)
    30.0
    """
    if not 0 < oven_dry_g <= fresh_g:
        raise ColdspellError(f"{fresh_g:g} g fresh and {oven_dry_g:g} g dry cannot be", mend="fresh first")
    return 100 * (fresh_g - oven_dry_g) / fresh_g


def dry_basis_percent(wet_basis_percent: float) -> float:
    """Moisture by dry weight from moisture by fresh weight: 100 w / (100 - w).

    Parameters
    ----------
    wet_basis_percent : float
        Moisture by fresh weight [percent, under 100].

    Raises
    ------
    ColdspellError
        When it lies outside 0 to under 100.

    >>> [round(dry_basis_percent(w), 3) for w in (5, 10, 30, 40, 50)]
    [5.263, 11.111, 42.857, 66.667, 100.0]
    """
    if not 0 <= wet_basis_percent < 100:
        raise ColdspellError(
            f"moisture by fresh weight lies from 0 to under 100, not {wet_basis_percent}",
            mend="give per cent of the fresh weight",
        )
    return 100 * wet_basis_percent / (100 - wet_basis_percent)


def wet_basis_percent(dry_basis_percent: float) -> float:
    """Moisture by fresh weight from moisture by dry weight: 100 d / (100 + d).

    Johnson 1979, Tree Planters' Notes 30(2):6-8, gives 43 percent dry and 30 percent wet (exact 30.07).

    Parameters
    ----------
    dry_basis_percent : float
        Moisture by dry weight [percent, may pass 100].

    Raises
    ------
    ColdspellError
        When it is under 0.

    >>> round(wet_basis_percent(43), 2)
    30.07
    """
    return 100 * _at_least(dry_basis_percent, 0, "moisture by dry weight") / (100 + dry_basis_percent)


def _at_least(value: float, least: float, name: str) -> float:
    if not (math.isfinite(value) and value >= least):
        raise ColdspellError(f"{name} must be at least {least:g}, not {value}", mend="give a larger number")
    return value
