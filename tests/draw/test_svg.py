"""Drawings are SVG of attributes alone: well-formed, with text alternatives, safe under a strict policy.

SVG 1.1 and 2 (W3C): `title` and `desc` as first children; ARIA: `role="img"` named by `aria-labelledby`.
"""

from __future__ import annotations

import random
import re
import subprocess
import sys
from datetime import date
from xml.etree import ElementTree

import asking
import lots
import pytest
from draw_lots import LOTS, drawn, recipe_of

from coldspell.api import shipped
from coldspell.draw.drawing import pictures
from coldspell.draw.picture import Picture
from coldspell.draw.svg import node
from coldspell.errors import ColdspellError

SVG = "{http://www.w3.org/2000/svg}"
DRAWN = {"svg", "g", "rect", "path", "ellipse", "text", "title", "desc"}


def check(picture: Picture, prefix: str = "") -> ElementTree.Element:
    """One picture by the standard, and within its sheet."""
    root = ElementTree.fromstring(picture.svg(prefix))
    tags = [element.tag.removeprefix(SVG) for element in root.iter()]
    assert set(tags) <= DRAWN
    assert tags[1:3] == ["title", "desc"]
    assert root.get("role") == "img"
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert root.get("aria-labelledby") == " ".join(map(str, ids))
    assert all(text and text.strip() for text in (root[0].text, root[1].text))
    for element in root.iter():
        assert not {"style", "href", "class"} & set(element.attrib)
        assert not [name for name in element.attrib if name.startswith("on")]
        assert "nan" not in str(element.attrib).lower()
        if element.tag in (f"{SVG}rect", f"{SVG}ellipse"):
            assert all(float(element.get(side, "1")) >= 0 for side in ("width", "height", "rx", "ry"))
        if element.tag == f"{SVG}ellipse":
            assert -1 <= float(element.get("cx", "0")) <= picture.width + 1
            assert -1 <= float(element.get("cy", "0")) <= picture.height + 1
    assert 60 < picture.height < 620
    return root


def test_pictures_hold_the_standard(lot: str) -> None:
    found = drawn(lot)
    assert found
    ids: list[str] = []
    for picture in found.values():
        root = check(picture, "a-")
        ids += [str(element.get("id")) for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))


def test_any_lot_is_drawn() -> None:
    """Seeded draws over all records and states: no fault, nothing outside the sheet."""
    made = 0
    for one in lots.draw(random.Random(14).sample(asking.names(), 60), 60):
        try:
            recipe = shipped().recipe(one["name"], today=date.fromisoformat(one["today"]), **one["said"])
        except ColdspellError:
            continue
        for picture in pictures(recipe, shipped().texts, days_wide=700):
            check(picture)
            made += 1
    assert made > 60


def test_letters_of_every_label_lie_on_the_sheet(lot: str) -> None:
    """Half an em a letter is the usual width of a text face (common practice)."""
    for picture in drawn(lot).values():
        for element in picture.node().all():
            if element.tag != "text":
                continue
            text, size = str(element.inside[0]), float(element.get("font-size"))
            long, x = len(text) * size * 0.5, float(element.get("x"))
            left = {"start": x, "middle": x - long / 2, "end": x - long}[element.get("text-anchor")]
            assert left > -4, text
            assert left + long < picture.width + 6, text
            assert size >= 11


def test_markup_in_a_text_is_only_text() -> None:
    made = node("text", 'a<b>&"c"\x00', x=1).text()
    assert ElementTree.fromstring(made).text == 'a<b>&"c"'


@pytest.mark.parametrize("lot_", ["us", "acorns"])
def test_measures_are_in_the_units_of_the_grower(lot_: str) -> None:
    told = " ".join(picture.svg() for picture in drawn(lot_).values())
    inches, millimetres = re.search(r"[\d¼½¾⅛⅜⅝⅞] in\b", told), re.search(r"\d mm\b", told)
    assert (inches is not None) == (lot_ == "us")
    assert (millimetres is not None) == (lot_ != "us")


def test_the_same_recipe_gives_the_same_bytes() -> None:
    texts = shipped().texts
    for lot in LOTS:
        recipe = recipe_of(lot)
        assert [p.svg() for p in pictures(recipe, texts)] == [p.svg() for p in pictures(recipe, texts)]


def test_nothing_of_it_is_loaded_by_the_recipe_command() -> None:
    code = (
        "import sys; from coldspell.cli.main import main; main(['recipe', 'apple', '--seeds', '5']);"
        "print(*sorted(m for m in sys.modules if m.split('.')[0] in ('typst', 'jinja2', 'segno')"
        " or m.startswith(('coldspell.draw', 'coldspell.sheet'))), sep='\\n', file=sys.stderr)"
    )
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stderr.strip() == ""
