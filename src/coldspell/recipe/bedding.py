"""What the seeds lie in and how they are laid."""

from __future__ import annotations

from coldspell.arithmetic.containers import Bag, Box, Filling
from coldspell.recipe import practice
from coldspell.recipe.amounts import Amounts
from coldspell.recipe.case import Case
from coldspell.recipe.recipe import Layout, Medium
from coldspell.recipe.wording import number


def medium(case: Case, amount: Amounts) -> Medium | None:
    """What the seeds lie in."""
    form = case.decisions.answer("medium")
    if form is None:
        return None
    material = case.decisions.answer("material") or ""
    return Medium(
        form=form,
        says=case.text("medium", form),
        material="vermiculite" if material == "buy_vermiculite" else material,
        material_says=case.text("material", material),
        litres=_rounded(amount.litres),
        water_ml=amount.water_ml and (_round_to(amount.water_ml[0], 5), _round_to(amount.water_ml[1], 5)),
        containers=amount.containers,
        container_says=_container_words(case, amount),
        sheets=amount.sheets,
        space_litres=_rounded(amount.space_litres),
        wetness=case.said("wetness"),
        closure=case.said("closure"),
        place=case.said("place"),
    )


def layout(case: Case, amount: Amounts) -> Layout | None:
    """How the seeds are laid."""
    if case.decisions.answer("layout") is None:
        return None
    filling, box = amount.filling, amount.container
    layered = filling is not None and filling.method == "layers"
    dimensions: tuple[float, ...] = ()
    if isinstance(box, Box):
        dimensions = (box.length_mm, box.width_mm, box.height_mm)
    elif isinstance(box, Bag):
        dimensions = (box.width_mm, box.length_mm)
    single = layered and filling is not None and filling.layers == 1
    says = case.text("layout", "one_layer") if single else case.said("layout")
    return Layout(
        says=says,
        pitch_mm=filling.pitch_mm if filling and layered else None,
        gap_mm=practice.GAP_MM if layered else None,
        layers=filling.layers if filling and layered else None,
        per_layer=filling.per_layer if filling and layered else amount.seeds_per_sheet,
        per_container=filling.per_container if filling else None,
        dimensions_mm=dimensions,
        pattern=filling.pattern.kind if filling and filling.pattern else None,
        footprint_mm=tuple(round(side, 1) for side in filling.footprint_mm) if filling else (),
        levels_mm=tuple(round(level, 1) for level in filling.levels_mm) if filling else (),
        points_mm=_points(filling),
    )


def place(case: Case) -> str | None:
    """Where the lot lies in the cold, pots of rooted seed included."""
    return case.said("place") or None


def _container_words(case: Case, amount: Amounts) -> str | None:
    if amount.sheets is not None:
        rolls = "roll" if amount.containers == 1 else "rolls"
        sheets = "sheet" if amount.sheets == 1 else "sheets"
        return f"{amount.sheets} paper-towel {sheets} in {amount.containers} {rolls}, plastic bag"
    if amount.container is None:
        return None
    box = amount.container
    count = amount.containers or 1
    if isinstance(box, Bag):
        size = f"{case.units.length(box.width_mm)} × {case.units.length(box.length_mm)}"
        return f"{number(count)} plastic {'bag' if count == 1 else 'bags'} about {size}"
    if isinstance(box, Box):
        sides = " × ".join(case.units.length(s) for s in (box.length_mm, box.width_mm, box.height_mm))
        return f"{number(count)} {'box' if count == 1 else 'boxes'} {sides}"
    return None


def _points(filling: Filling | None) -> tuple[tuple[float, float], ...]:
    if filling is None or filling.pattern is None:
        return ()
    return tuple((round(x, 1), round(y, 1)) for x, y in filling.pattern.points_mm)


def _rounded(litres: float | None) -> float | None:
    return None if litres is None else float(f"{litres:.3g}")


def _round_to(value: float, step: int) -> float:
    return float(max(step, round(value / step) * step))
