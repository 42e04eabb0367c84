"""What may be said of a lot from Python: the table of lot facts as types (a test holds the two equal)."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Literal, TypedDict

from coldspell.lot.lot import Material, YesNoUnknown

YesNo = Literal["yes", "no"]


class LotSaid(TypedDict, total=False):
    seeds: int | None
    kilograms: float | None
    moisture: Literal["fresh", "dried"] | None
    stored_years: float | None
    days_dry: float | None
    collected: date | str | None
    sow: date | str | None
    sown: date | str | None
    last_frost: date | str | None
    usual_frost: str | None
    southern: bool | YesNo | None
    place: str | None
    winter: Literal["cold", "mild", "none", "unknown"] | None
    origin: Literal["north", "south", "unknown"] | None
    gathered: Literal["green", "ripe", "ground_autumn", "ground_spring", "bought", "unknown"] | None
    climate: Literal["temperate", "warm", "unknown"] | None
    shed: Literal["moist", "dry", "unknown"] | None
    pulp: YesNoUnknown | bool | None
    shell: Literal["husk", "intact", "cracked", "kernel"] | None
    frozen: YesNoUnknown | bool | None
    heated: YesNoUnknown | bool | None
    swollen: Literal["yes", "no", "some", "unknown"] | None
    rooted: int | None
    root_mm: float | None
    soft: YesNoUnknown | bool | None
    mould: Literal["none", "shell", "kernel", "unknown"] | None
    holes: YesNoUnknown | bool | None
    smell: Literal["none", "earthy", "sour", "rotten", "almond", "unknown"] | None
    cut: tuple[int, int] | str | None
    float: tuple[int, int] | str | None
    cold_days_done: float | None
    warm_days_done: float | None
    cold_break_days: float | None
    sure: bool | YesNo | None
    children: bool | YesNo | None
    animals: bool | YesNo | None
    professional: bool | YesNo | None
    refrigerator: Literal["own", "food", "none"] | None
    fridge_celsius: float | None
    fridge_litres: float | None
    grow_in: Literal["container", "bed", "site"] | None
    medium: Material | Sequence[Material] | None
    container: Sequence[float] | str | None
    bag: Sequence[float] | str | None
    want: int | None
    units: Literal["metric", "us", "both"] | None


"""Facts of a lot by the names of lot files; every one may be left out or ``None``."""
