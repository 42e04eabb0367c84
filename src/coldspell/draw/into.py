"""What seed is sown or planted into, in section: a pot with its depth and mesh, a bed, a sunk pot."""

from __future__ import annotations

from msgspec import Struct

from coldspell.draw.picture import WIDTH, Picture
from coldspell.draw.pieces import (
    GREY,
    INK,
    SOIL,
    block,
    label,
    labels,
    mesh,
    mesh_down,
    root,
    seed,
    upright,
)
from coldspell.draw.svg import Node, node, path
from coldspell.texts import Texts
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_plain import Range
from coldspell.write.recipe_work import Sowing
from coldspell.write.units import Units

ANY_POT_MM, BED_MM, BED_WIDE_MM = 90.0, 150.0, 260.0
"""Depth of a pot where any will do, and the slice of a bed that is drawn (our choice)."""
LEFT, HIGH = 30.0, 190.0


class Ground(Struct, frozen=True):
    """Where seed goes in, on the sheet: left, level of the soil, width, height, units to a millimetre."""

    left: float
    level: float
    width: float
    height: float
    scale: float


def into(recipe: Recipe, texts: Texts) -> Picture | None:
    """The pot or bed of a recipe, to scale; ``None`` where it is not sown, or stays in its tray."""
    sowing = recipe.sowing
    if sowing is None or sowing.into == "its_tray":
        return None
    pot = sowing.into in ("deep_pot", "pot", "sunk")
    deep = _middle(sowing.pot_depth_mm) or (ANY_POT_MM if pot else BED_MM)
    wide = deep * (0.5 if sowing.into == "deep_pot" else 1.0) if pot else BED_WIDE_MM
    scale = min(HIGH / deep, (200 if sowing.into != "bed" else 168) / wide, 1.7)
    over = 30.0 if sowing.mesh_mm else 16.0
    ground = Ground(LEFT, over + 24, wide * scale, deep * scale, scale)
    body = [
        *(
            _pot(ground, sowing)
            if pot
            else block(ground.left, ground.level, ground.width, ground.height, SOIL)
        ),
        *_seeds(recipe, sowing, ground),
        *_mesh(recipe, sowing, ground),
        *_measures(recipe, sowing, ground, texts),
    ]
    title = texts.say(f"draw_into_{sowing.into}")
    return Picture(
        name="into",
        title=title,
        says=_says(title, recipe, sowing, texts),
        height=ground.level + ground.height + 24,
        body=tuple(body),
    )


def _middle(span: Range | None) -> float:
    return 0.0 if span is None else (span[0] + span[2]) / 2


def planted(recipe: Recipe) -> bool:
    """Whether it has roots already and is potted."""
    return recipe.does.lies in ("pot", "cold_pot")


def cover_mm(recipe: Recipe) -> float:
    """How deep the upper side of the seed lies; 0 on the surface."""
    sowing, thickness = recipe.sowing, recipe.lot.seed_mm[2]
    if sowing is None:
        return 0.0
    if planted(recipe):
        return thickness * 0.25
    return _middle(sowing.depth_mm)


def _pot(ground: Ground, sowing: Sowing) -> list[Node]:
    """A pot that narrows a little, with an open base where a taproot needs it; sunk, with soil around it."""
    left, right, low = ground.left, ground.left + ground.width, ground.level + ground.height
    found: list[Node] = []
    if sowing.into == "sunk":
        found += block(left - 22, ground.level, ground.width + 44, ground.height + 12, SOIL)
    found += block(left + 2, ground.level, ground.width - 4, ground.height)
    walls = path("M", left - 2, ground.level - 8, "L", left + 2, low, "M", right + 2, ground.level - 8)
    floor = path("M", left + 2, low, "H", right - 2)
    return [
        *found,
        node("path", d=f"{walls} {path('L', right - 2, low)}", stroke=INK, stroke_width=3, fill="none"),
        node("path", d=floor, stroke=INK, stroke_width=3, stroke_dasharray="7 5", fill="none"),
    ]


def _seeds(recipe: Recipe, sowing: Sowing, ground: Ground) -> list[Node]:
    """One seed in a deep pot; in others a few in a row, never more than there are."""
    length, _, thickness = (side * ground.scale for side in recipe.lot.seed_mm)
    most = 1 if sowing.into == "deep_pot" else max(1, min(5, int(ground.width / (3 * max(length, 6)))))
    count = min(most, int(str(recipe.lot.said["seeds"])))
    cover, step = cover_mm(recipe) * ground.scale, ground.width / count
    y = ground.level + cover + thickness / 2 if cover > 0 else ground.level - thickness / 2
    found = []
    for i in range(count):
        x = ground.left + (i + 0.5) * step
        if planted(recipe):
            found.append(root(x, y, min(ground.height * 0.35, max(18.0, length * 1.6)), thickness))
        found.append(seed(x, y, length, thickness))
    return found


def _mesh(recipe: Recipe, sowing: Sowing, ground: Ground) -> list[Node]:
    """Mesh over the seed; outdoors under it and beside it too."""
    if sowing.mesh_mm is None:
        return []
    opening = _middle(sowing.mesh_mm) * ground.scale
    left, right = ground.left - 6, ground.left + ground.width + 6
    found = [mesh(left, right, ground.level - 14, opening)]
    if recipe.does.lies == "outdoors" and sowing.into == "bed":
        low = ground.level + ground.height * 0.72
        found += [mesh(left + 6, right - 6, low, opening)]
        found += [mesh_down(x, ground.level - 14, low, opening) for x in (left + 6, right - 6)]
    return found


def _measures(recipe: Recipe, sowing: Sowing, ground: Ground, texts: Texts) -> list[Node]:
    """Cover, depth of the pot, width of the mesh, each beside what it measures."""
    say, units, x = texts.say, Units(recipe.units), ground.left + ground.width + 16
    room = WIDTH - x - 14
    found: list[Node] = []
    if sowing.mesh_mm is not None:
        width = units.length(sowing.mesh_mm[::2])
        found += labels(say("draw_mesh", mesh=width), x, ground.level - 10, room)
    if sowing.depth_mm is not None and not planted(recipe):
        low = ground.level + _middle(sowing.depth_mm) * ground.scale
        depth = units.length(sowing.depth_mm[::2])
        middle = ground.left + ground.width / 2
        line = path("M", middle + 14, low, "H", x + 2, "M", x - 10, ground.level, "H", x + 2)
        found.append(node("path", d=line, stroke=GREY, stroke_width=0.8))
        low = max(low, ground.level + 4)
        found += upright(x, ground.level, low, "")
        found += labels(say("draw_cover", depth=depth), x + 10, max(low, ground.level + 24), room)
    if sowing.pot_depth_mm is not None:
        depth = units.length(sowing.pot_depth_mm[::2])
        low = ground.level + ground.height
        found += labels(say("draw_pot_depth", depth=depth), x, low - 22, room)
        found.append(label(say("draw_open_base"), ground.left, low + 17))
    return found


def _says(title: str, recipe: Recipe, sowing: Sowing, texts: Texts) -> str:
    parts, units = [title], Units(recipe.units)
    if sowing.depth_mm is not None and not planted(recipe):
        parts.append(texts.say("draw_cover", depth=units.length(sowing.depth_mm[::2])))
    if sowing.pot_depth_mm is not None:
        parts.append(texts.say("draw_pot_depth", depth=units.length(sowing.pot_depth_mm[::2])))
    if sowing.mesh_mm is not None:
        parts.append(texts.say("draw_mesh", mesh=units.length(sowing.mesh_mm[::2])))
    return f"{'; '.join(parts)}."
