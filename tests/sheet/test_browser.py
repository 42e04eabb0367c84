"""The HTML sheet in a real browser (Debian Chromium): nothing is refused by its policy, nothing runs off."""

from __future__ import annotations

import io
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from coldspell.api import shipped
from coldspell.sheet.content import Wanted, sheet

pytestmark = pytest.mark.long

WHY = "type: uv run --all-groups pytest (the group surfaces)"
playwright = pytest.importorskip("playwright.sync_api", reason=WHY)
pypdf = pytest.importorskip("pypdf", reason=WHY)
pytest.importorskip("jinja2", reason=WHY)
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
if CHROMIUM is None:
    pytest.skip("type: apt-get install chromium", allow_module_level=True)

LOTS: dict[str, dict[str, Any]] = {
    "northern red oak": {"seeds": 40, "moisture": "fresh", "sow": "2027-04-15"},
    "apple": {"seeds": 15},
    "common hawthorn": {"seeds": 100, "moisture": "dried", "units": "both"},
}


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as started:
        found = started.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield found
        found.close()


@pytest.mark.parametrize("width", [360, 1000])
@pytest.mark.parametrize("name", sorted(LOTS))
def test_a_sheet_is_shown_whole(browser: Any, tmp_path: Path, name: str, width: int) -> None:
    from coldspell.sheet.page import page as html

    recipe = shipped().recipe(name, today=date(2026, 11, 30), **LOTS[name])
    path = tmp_path / "sheet.html"
    path.write_text(html(sheet(recipe, shipped().texts, Wanted(june_card=True))), encoding="utf-8")
    shown = browser.new_page(viewport={"width": width, "height": 800})
    told: list[str] = []
    asked: list[str] = []
    shown.on("console", lambda message: told.append(message.text))
    shown.on("request", lambda request: asked.append(request.url))
    shown.goto(path.as_uri())
    assert told == []  # a style that the policy refuses is told here
    assert asked == [path.as_uri()]
    assert shown.evaluate("document.documentElement.scrollWidth") <= width
    assert shown.evaluate("getComputedStyle(document.querySelector('.safety')).borderTopWidth") == "3px"
    pictures = shown.locator("svg[role=img]:visible")
    assert pictures.count() >= 3
    for i in range(pictures.count()):
        box = pictures.nth(i).bounding_box()
        assert box is not None
        assert box["width"] > 250
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= width
    letters = shown.locator("svg[role=img]:visible text").first
    assert letters.evaluate("e => e.getBoundingClientRect().height") > 9
    shown.close()


def test_printed_from_the_browser_it_is_a_few_pages(browser: Any, tmp_path: Path) -> None:
    from coldspell.sheet.page import page as html

    recipe = shipped().recipe("apple", today=date(2026, 11, 30), seeds=15)
    path = tmp_path / "sheet.html"
    path.write_text(html(sheet(recipe, shipped().texts, Wanted())), encoding="utf-8")
    shown = browser.new_page()
    shown.goto(path.as_uri())
    printed = shown.pdf(prefer_css_page_size=True)
    assert len(pypdf.PdfReader(io.BytesIO(printed)).pages) <= 3
    shown.close()
