"""What is drawn is what the recipe's arithmetic says: counts, distances and days, measured on the drawing.

The arithmetic itself is checked in tests/arithmetic and tests/plan; a drawing must not differ from it.
"""

from __future__ import annotations

import itertools
import math
import random
import re
from datetime import date

import pytest
from draw_lots import drawn, recipe_of

from coldspell.api import shipped
from coldspell.draw.lies import lies_of
from coldspell.draw.packed import in_rows, layers_of, seeds_cut
from coldspell.draw.picture import Picture
from coldspell.draw.svg import Node
from coldspell.draw.timeline import timeline
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Layout


def seeds(picture: Picture) -> list[tuple[float, float, float, float]]:
    """Middle and half axes of every seed drawn in section."""
    laid = {id(one) for group in groups(picture) for one in group.all()}
    return [ellipse(e) for e in picture.node().all() if e.get("data-is") == "seed" and id(e) not in laid]


def groups(picture: Picture) -> list[Node]:
    return [e for e in picture.node().all() if e.get("data-is") == "laid"]


def from_above(picture: Picture) -> list[tuple[float, float, float, float]]:
    """Middle and half axes of every seed drawn from above."""
    return [ellipse(e) for group in groups(picture) for e in group.all() if e.get("data-is") == "seed"]


def ellipse(element: Node) -> tuple[float, float, float, float]:
    x, y, rx, ry = (float(element.get(name)) for name in ("cx", "cy", "rx", "ry"))
    return x, y, rx, ry


def layout_of(recipe: Recipe) -> Layout:
    assert recipe.layout is not None
    return recipe.layout


@pytest.mark.parametrize("lot", ["acorns", "four", "box", "us"])
def test_layers_are_drawn_to_one_scale(lot: str) -> None:
    recipe, picture = recipe_of(lot), drawn(lot)["packed"]
    layout = layout_of(recipe)
    laid = from_above(picture)
    assert len(laid) == layout.per_layer
    pairs = [math.dist(a[:2], b[:2]) for i, a in enumerate(laid) for b in laid[i + 1 :]]
    assert layout.pitch_mm is not None
    scale = min(pairs) / layout.pitch_mm
    length, width, thickness = recipe.lot.seed_mm
    for _, _, rx, ry in laid:
        assert (2 * rx, 2 * ry) == pytest.approx((width * scale, length * scale), rel=0.02)
    in_section = seeds(picture)
    for _, _, rx, ry in in_section:
        assert (2 * rx, 2 * ry) == pytest.approx((width * scale, thickness * scale), rel=0.02)
    block, plan = (e for e in picture.node().all() if e.get("data-is") == "block")
    depth = float(block.get("height"))
    assert depth == pytest.approx((layout.depth_mm or 0) * scale, rel=0.02)
    _, wide, long = in_rows(layout)
    sides = (float(plan.get("width")), float(plan.get("height")))
    assert sides == pytest.approx((wide * scale, long * scale), rel=0.02)
    floor = float(block.get("y")) + depth
    heights = sorted({round(floor - y, 1) for _, y, _, _ in in_section})
    assert heights == pytest.approx([level * scale for level in layout.levels_mm], rel=0.02)
    assert len(heights) == layout.layers


@pytest.mark.parametrize("lot", ["acorns", "box", "us"])
def test_the_gap_that_is_measured_is_the_gap(lot: str) -> None:
    recipe, picture = recipe_of(lot), drawn(lot)["packed"]
    layout, laid = layout_of(recipe), from_above(picture)
    assert layout.pitch_mm is not None
    scale = min(math.dist(a[:2], b[:2]) for i, a in enumerate(laid) for b in laid[i + 1 :]) / layout.pitch_mm
    gap = next(e for e in picture.node().all() if e.get("data-is") == "gap")
    found = re.fullmatch(r"M ([\d.]+) [\d.]+ H ([\d.]+)", gap.get("d"))
    assert found is not None
    assert float(found[2]) - float(found[1]) == pytest.approx((layout.gap_mm or 0) * scale, rel=0.03)


def test_layers_hold_every_seed_of_a_container() -> None:
    for lot in ("acorns", "four", "box", "us"):
        layout = layout_of(recipe_of(lot))
        assert sum(layers_of(layout)) == layout.per_container
        assert max(layers_of(layout)) == layout.per_layer


def test_four_seeds_and_four_hundred_are_two_pictures() -> None:
    four, many = drawn("four")["packed"], drawn("four hundred")["packed"]
    assert len(seeds(four)) < len(seeds(many))
    assert four.svg() != many.svg()
    assert four.title != many.title


@pytest.mark.parametrize(("lot", "most"), [("towel", 15), ("towels", 90)])
def test_a_sheet_has_its_seeds_along_one_fold(lot: str, most: int) -> None:
    layout, laid = layout_of(recipe_of(lot)), from_above(drawn(lot)["packed"])
    assert len(laid) == min(layout.per_layer or 0, most)
    assert len({round(y, 1) for _, y, _, _ in laid}) == 1
    xs = sorted(x for x, _, _, _ in laid)
    apart = [b - a for a, b in itertools.pairwise(xs)]
    assert min(apart) > 2 * max(rx for _, _, rx, _ in laid)  # not touching


def test_a_tray_shows_every_seed() -> None:
    layout, picture = layout_of(recipe_of("tray")), drawn("tray")["packed"]
    assert len(from_above(picture)) == layout.per_container == 500
    section, above = (e for e in picture.node().all() if e.get("data-is") == "block")
    scale = float(above.get("width")) / layout.footprint_mm[0]
    assert float(section.get("height")) == pytest.approx((layout.depth_mm or 0) * scale, rel=0.02)


@pytest.mark.parametrize("lot", ["bulk box", "four hundred"])
def test_a_cut_meets_as_many_seeds_as_a_plane_would(lot: str) -> None:
    """Beside seeds thrown at random into the block: those that a plane through its middle cuts."""
    recipe = recipe_of(lot)
    lies = lies_of(recipe, shipped().texts)
    assert lies is not None
    long, width = min(lies.layout.footprint_mm), recipe.lot.seed_mm[1]
    chance = random.Random(7)
    trials = 400
    met = sum(
        abs(chance.uniform(0, long) - long / 2) < width / 2 for _ in range(trials) for _ in range(lies.each)
    )
    assert seeds_cut(lies, long) == pytest.approx(met / trials, rel=0.1, abs=1)


def test_the_block_of_a_box_leaves_its_headroom() -> None:
    recipe, picture = recipe_of("bulk box"), drawn("bulk box")["packed"]
    layout = layout_of(recipe)
    block = next(e for e in picture.node().all() if e.get("data-is") == "block")
    scale = float(block.get("width")) / max(layout.footprint_mm)
    lid = next(e for e in picture.node().all() if e.get("stroke-dasharray") == "14 3")
    top = float(lid.get("d").split()[2])
    headroom = (float(block.get("y")) - top) / scale
    assert headroom == pytest.approx(layout.dimensions_mm[-1] - (layout.depth_mm or 0), abs=1)


def test_a_pit_is_as_deep_and_as_full_as_its_sum() -> None:
    recipe, picture = recipe_of("pit"), drawn("pit")["packed"]
    layout, medium = layout_of(recipe), recipe.medium
    assert layout.shape == "pit"
    assert medium is not None
    assert medium.litres is not None
    assert layout.depth_mm is not None
    soil, _, filling = (e for e in picture.node().all() if e.get("data-is") == "block")
    scale = float(filling.get("width")) / layout.footprint_mm[0]
    assert float(filling.get("height")) == pytest.approx(layout.depth_mm * scale, rel=0.02)
    floor = float(filling.get("y")) + float(filling.get("height"))
    assert floor - float(soil.get("y")) == pytest.approx(layout.dimensions_mm[-1] * scale, rel=0.02)
    litres = math.prod(layout.footprint_mm) * layout.depth_mm / 1e6
    assert medium.litres < litres < 2 * medium.litres  # seed and no more than as much again
    meshes = [e for e in picture.node().all() if e.get("data-is") == "mesh"]
    assert len(meshes) == 4  # on all sides


def test_a_tub_is_as_wide_as_it_is() -> None:
    recipe, picture = recipe_of("tub"), drawn("tub")["packed"]
    layout = layout_of(recipe)
    assert layout.shape == "tub"
    block = next(e for e in picture.node().all() if e.get("data-is") == "block")
    sides = (float(block.get("width")), float(block.get("height")))
    assert sides[0] / sides[1] == pytest.approx(layout.dimensions_mm[0] / (layout.depth_mm or 1), rel=0.02)


def days(recipe: Recipe, width: float) -> tuple[Picture, int, float]:
    """The line of days with its first day and its units to a day, read off its axis."""
    picture = timeline(recipe, shipped().texts, width)
    assert picture is not None
    told = [date.fromisoformat(d) for s in recipe.steps for d in (s.start, s.end) if d]
    if recipe.hold and recipe.hold.until:
        told.append(date.fromisoformat(recipe.hold.until))
    if recipe.checks:
        told += [date.fromisoformat(d) for d in recipe.checks.dates]
    first, last = min(told).toordinal(), max(told).toordinal()
    return picture, first, (width - 20) / (last - first)


@pytest.mark.parametrize("width", [340.0, 700.0])
@pytest.mark.parametrize("lot", ["acorns", "towel", "net", "dried", "bare"])
def test_days_lie_where_the_recipe_has_them(lot: str, width: float) -> None:
    recipe = recipe_of(lot)
    picture, first, scale = days(recipe, width)

    def day(x: float) -> str:
        return date.fromordinal(first + round((x - 10) / scale)).isoformat()

    found: dict[str, list[Node]] = {}
    for element in picture.node().all():
        found.setdefault(element.get("data-is"), []).append(element)
    bars = [
        (day(float(e.get("x"))), day(float(e.get("x")) + float(e.get("width")))) for e in found.get("bar", [])
    ]
    long = [(s.start, s.end) for s in recipe.steps if s.start and s.start != s.end and s.do != "sow"]
    assert [start for start, _ in bars] == [start for start, _ in long]
    if scale > 1:
        assert bars == long
    sown = [s.start for s in recipe.steps if s.do == "sow"]
    assert [day(float(e.get("d").split()[1])) for e in found["sow"]] == sown
    assert recipe.checks is not None
    ticks = re.findall(r"M ([\d.]+)", found["looks"][0].get("d"))
    assert [day(float(x)) for x in ticks] == list(recipe.checks.dates)
    assert len(found.get("window", [])) == (
        1 if recipe.hold and recipe.hold.until and recipe.hold.until > _ready(recipe) else 0
    )
    for e in found.get("window", []):
        assert day(float(e.get("x"))) == _ready(recipe)
        assert recipe.hold is not None
        assert day(float(e.get("x")) + float(e.get("width"))) == recipe.hold.until


def _ready(recipe: Recipe) -> str:
    return [s.end for s in recipe.steps if s.do.endswith("_moist") and s.end][-1] or ""


def test_seed_lies_as_deep_as_it_is_sown() -> None:
    recipe, picture = recipe_of("acorns"), drawn("acorns")["into"]
    assert recipe.sowing is not None
    assert recipe.sowing.depth_mm is not None
    assert recipe.sowing.pot_depth_mm is not None
    block = next(e for e in picture.node().all() if e.get("data-is") == "block")
    level, height = float(block.get("y")), float(block.get("height"))
    scale = height / ((recipe.sowing.pot_depth_mm[0] + recipe.sowing.pot_depth_mm[2]) / 2)
    (_, y, _, ry), *_ = seeds(picture)
    cover = (recipe.sowing.depth_mm[0] + recipe.sowing.depth_mm[2]) / 2
    assert y - ry - level == pytest.approx(cover * scale, abs=0.5)
    mesh = next(e for e in picture.node().all() if e.get("data-is") == "mesh")
    wires = [float(x) for x in re.findall(r"M ([\d.]+)", mesh.get("d"))]
    assert recipe.sowing.mesh_mm is not None
    opening = (recipe.sowing.mesh_mm[0] + recipe.sowing.mesh_mm[2]) / 2
    assert (wires[-1] - wires[0]) / (len(wires) - 1) == pytest.approx(opening * scale, rel=0.1)


def test_what_is_not_looked_at_shows_no_signs() -> None:
    assert "signs" not in drawn("warm")
    assert "signs" in drawn("acorns")
    assert "packed" not in drawn("rooted")


@pytest.mark.parametrize("lot", ["loose acorns", "pit", "net"])
def test_a_cut_says_how_many_of_its_seeds_it_meets(lot: str) -> None:
    """Forty acorns in a bag are drawn as the three that a plane meets: whoever counts them is told why."""
    picture = drawn(lot)["packed"]
    shown = len(seeds(picture))
    lies = lies_of(recipe_of(lot), shipped().texts)
    assert lies is not None
    assert shown < lies.each
    words = [str(e.inside[0]) for e in picture.node().all() if e.tag == "text"]
    assert f"Cut open; the cut meets {shown} of {lies.counted(lies.each)}" in words
