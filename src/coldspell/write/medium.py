"""What the seeds lie in and how they are laid."""

from __future__ import annotations

from coldspell.arithmetic.containers import Bag, Box, Filling, Tub, container_litres
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import LayoutFields, MaterialFields, MediumFields, as_fields
from coldspell.plan.amounts import Amounts
from coldspell.write.case import Case
from coldspell.write.geometry import block
from coldspell.write.recipe_work import Layout, Medium
from coldspell.write.units import number


def medium(case: Case) -> Medium | None:
    """What the seeds lie in."""
    form, amount = case.decisions.answer(Ask.MEDIUM), case.plan.amounts
    material = case.decisions.fields(Ask.MATERIAL, MaterialFields)
    fields = case.decisions.fields(Ask.MEDIUM, MediumFields)
    if form is None or material is None or fields is None:
        return None
    return Medium(
        form=form,
        packs=fields.packs,
        says=case.said(Ask.MEDIUM),
        material=material.same_as,
        material_says=case.said(Ask.MATERIAL),
        litres=_rounded(amount.litres),
        water_ml=amount.water_ml and (_round_to(amount.water_ml[0], 5), _round_to(amount.water_ml[1], 5)),
        containers=amount.containers,
        container_says=_container_words(case, amount),
        sheets=amount.sheets,
        space_litres=_rounded(amount.space_litres),
        wetness=case.said(Ask.WETNESS),
        closure=case.said(Ask.CLOSURE),
        place=case.said(Ask.PLACE),
    )


def layout(case: Case) -> Layout | None:
    """How the seeds are laid."""
    if case.decisions.answer(Ask.LAYOUT) is None:
        return None
    fields = case.decisions.fields(Ask.MEDIUM, MediumFields)
    if fields is None:
        return None
    amount = case.plan.amounts
    lies = block(amount, fields, case.decisions.size, case.practice)
    filling = amount.filling
    layered = filling is not None and filling.method == "layers"
    single = layered and filling is not None and filling.layers == 1
    return Layout(
        says=_one_layer(case) if single and not _single_by_rule(case) else case.said(Ask.LAYOUT),
        pitch_mm=filling.pitch_mm if filling and layered else None,
        gap_mm=case.practice.gap_mm if layered else None,
        layers=filling.layers if filling and layered else None,
        per_layer=filling.per_layer if filling and layered else amount.seeds_per_sheet,
        per_container=lies.per_container,
        shape=lies.shape,
        dimensions_mm=lies.sides_mm,
        pattern=filling.pattern.kind if filling and filling.pattern else None,
        footprint_mm=tuple(round(side, 1) for side in lies.base_mm),
        depth_mm=None if lies.depth_mm is None else round(lies.depth_mm, 1),
        levels_mm=tuple(round(level, 1) for level in filling.levels_mm) if filling else (),
        points_mm=_points(filling),
    )


def place(case: Case) -> str | None:
    """Where the lot lies in the cold, pots of rooted seed included."""
    return case.said(Ask.PLACE) or None


def _single_by_rule(case: Case) -> bool:
    """Whether the rules themselves allow one layer only."""
    fields = case.decisions.fields(Ask.LAYOUT, LayoutFields)
    return fields is not None and fields.layers == "one"


def _one_layer(case: Case) -> str:
    """What the answer says that allows one layer only: so it is where no more than one is filled."""
    for name, answer in case.book.decisions[Ask.LAYOUT].answers.items():
        if as_fields(LayoutFields, answer.fields).layers == "one":
            return case.answer(Ask.LAYOUT, name)
    return case.said(Ask.LAYOUT)


def _container_words(case: Case, amount: Amounts) -> str | None:
    say, box, count = case.texts.say, amount.container, amount.containers or 1
    if amount.sheets is not None:
        return say(
            "towels",
            sheets=amount.sheets,
            sheet=say("sheet" if amount.sheets == 1 else "sheets"),
            rolls=amount.containers,
            roll=say("roll" if amount.containers == 1 else "rolls"),
        )
    if isinstance(box, Bag):
        bag = say("bag" if count == 1 else "bag_many")
        width, length = case.units.length(box.width_mm), case.units.length(box.length_mm)
        return say("bags", count=number(count), bag=bag, width=width, length=length)
    if isinstance(box, Box):
        sides = " × ".join(case.units.length(s) for s in (box.length_mm, box.width_mm, box.height_mm))
        return say("boxes", count=number(count), box=say("box" if count == 1 else "box_many"), sides=sides)
    if isinstance(box, Tub):
        small = container_litres(box) < case.practice.jar_litres
        one, many = ("jar", "jar_many") if small else ("bucket", "bucket_many")
        bucket = say(one if count == 1 else many)
        volume = case.units.volume(container_litres(box))
        return say("buckets", count=number(count), bucket=bucket, volume=volume)
    if amount.containers is not None:
        return case.texts.count("trays", count, number(count))
    return None


def _points(filling: Filling | None) -> tuple[tuple[float, float], ...]:
    if filling is None or filling.pattern is None:
        return ()
    return tuple((round(x, 1), round(y, 1)) for x, y in filling.pattern.points_mm)


def _rounded(litres: float | None) -> float | None:
    return None if litres is None else float(f"{litres:.3g}")


def _round_to(value: float, step: int) -> float:
    return float(max(step, round(value / step) * step))
