"""The page in a real browser (Debian Chromium): main job with and without script, phone and desktop, axe."""

from __future__ import annotations

import shutil
import socket
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.long

WHY = "type: uv run --all-groups pytest (the group surfaces)"
playwright = pytest.importorskip("playwright.sync_api", reason=WHY)
axe = pytest.importorskip("axe_playwright_python.sync_playwright", reason=WHY)
for _name in ("litestar", "uvicorn", "jinja2", "segno", "typst"):
    pytest.importorskip(_name, reason=WHY)
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
if CHROMIUM is None:
    pytest.skip("type: apt-get install chromium", allow_module_level=True)
QUIET = (
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)


@pytest.fixture(scope="module")
def address(app: Any) -> Iterator[str]:
    from coldspell.web.server import make_server

    listener = socket.create_server(("127.0.0.1", 0))
    server = make_server(app)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    server.should_exit = True
    thread.join(10)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as started:
        found = started.chromium.launch(executable_path=CHROMIUM, args=[*QUIET])
        yield found
        found.close()


class Watched:
    """A page with all that it told the console and asked for."""

    def __init__(self, context: Any) -> None:
        self.page = context.new_page()
        self.told: list[str] = []
        self.asked: list[str] = []
        self.page.on("console", lambda message: self.told.append(message.text))
        self.page.on("request", lambda request: self.asked.append(request.url))


@pytest.mark.parametrize(("width", "script"), [(360, False), (1100, True)])
def test_the_main_job(browser: Any, address: str, width: int, script: bool) -> None:
    context = browser.new_context(viewport={"width": width, "height": 800}, java_script_enabled=script)
    watched = Watched(context)
    page = watched.page
    page.goto(address)
    page.get_by_label("Name of the plant").fill("northern red oak")
    page.get_by_label("How many seeds").fill("40")
    page.get_by_label("Fresh or moist").check()
    page.get_by_text("More about the lot").click()
    page.get_by_label("Day to sow").fill("2027-04-15")
    page.get_by_role("button", name="Say what it needs").click()
    page.wait_for_url("**/recipe?*")
    assert page.get_by_role("heading", level=1).inner_text() == "Northern red oak"
    text = page.locator("main").inner_text()
    assert "40 acorns, fresh" in text
    assert "Never let them dry" in text
    assert page.locator("svg[role=img]:visible").count() >= 3
    page.get_by_text("Why it says so").click()  # opens without script
    assert page.locator("details[open] li").first.is_visible()
    page.get_by_role("link", name="Change what you said").click()
    assert page.get_by_label("Name of the plant").input_value() == "northern red oak"
    assert page.get_by_label("Day to sow").input_value() == "2027-04-15"
    assert watched.told == []  # what the policy refuses is told here
    assert {url.split("/")[2] for url in watched.asked} == {address.split("/")[2]}
    context.close()


PAGES = {
    "form": "/?seeds=4000&rooted=1",
    "wrong": "/recipe?name=apple&seeds=x",
    "answer": "/recipe?name=apple&seeds=15",
    "compare": "/compare?name=apple&a-sow=2027-04-15&b-sow=2027-02-01",
    "library": "/library?q=oak",
    "record": "/library/Malus%20%C3%97%20domestica",
    "record form": "/record?name=Quercus%20rubra",
    "trouble": "/trouble?name=northern+red+oak&seeds=40&what=mould",
    "choose": "/choose?when=now&plant=nut%20tree&closed-from=2026-12-20&closed-to=2027-01-06",
}


@pytest.mark.parametrize("name", sorted(PAGES))
def test_whole_on_a_phone_and_nothing_for_axe(browser: Any, address: str, name: str) -> None:
    """axe-core, with the rules of WCAG 2; light on a phone, dark on a desk."""
    both = name in ("form", "answer")
    for width, scheme in ((360, "light"), (1100, "dark"))[: 1 + both]:
        context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme)
        page = context.new_page()
        page.goto(address + PAGES[name])
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        found = axe.Axe().run(page).response
        assert len(found["passes"]) > 10
        assert [one["id"] for one in found["violations"]] == []
        context.close()


def test_by_keyboard_alone(browser: Any, address: str) -> None:
    page = browser.new_page()
    page.goto(address)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "f-name"
    page.keyboard.type("apple")
    page.keyboard.press("Enter")
    page.wait_for_url("**/recipe?*")
    assert page.get_by_role("heading", level=1).inner_text() == "Apple"
    page.close()


def test_names_are_offered_while_one_is_typed(browser: Any, address: str) -> None:
    page = browser.new_page()
    page.goto(address)
    page.get_by_label("Name of the plant").press_sequentially("Walnuss")
    page.locator("#names option[value='Juglans regia']").wait_for(state="attached")
    offered = page.locator("#names option").evaluate_all("all => all.map(one => one.value)")
    assert "Juglans regia" in offered
    page.close()


def test_in_print_only_the_answer_is_left(browser: Any, address: str) -> None:
    page = browser.new_page()
    page.goto(address + "/recipe?name=apple&seeds=15")
    page.emulate_media(media="print")
    assert not page.get_by_role("link", name="Library").is_visible()
    assert page.get_by_role("heading", level=1).is_visible()
    page.close()


def test_the_exported_site_from_a_file(browser: Any, tmp_path: Path) -> None:
    """From file:// with its strict policy: search, a page and its pictures; without script the list; axe."""
    from coldspell.web.export.site import export

    export(tmp_path / "site", [], ["Malus × domestica", "Quercus robur", "Juglans regia"])
    front = (tmp_path / "site" / "index.html").as_uri()
    context = browser.new_context(viewport={"width": 390, "height": 800})
    watched = Watched(context)
    page = watched.page
    page.goto(front)
    for typed, found in (("eiche", "Quercus robur"), ("Nußbaum", None), ("noyer", "Juglans regia"),
                         ("aplle", "Malus × domestica"), ("walnuts", "Juglans regia")):  # fmt: skip
        page.get_by_label("Name of the plant").fill(typed)
        names = page.locator("#found i").all_inner_texts()
        assert found is None or names[:1] == [found], typed
    assert axe.Axe().run(page).response["violations"] == []
    page.locator("#found a").first.click()
    page.get_by_role("heading", name="What the record says").wait_for()
    page.wait_for_function("[...document.images].every((one) => one.complete)")
    assert page.evaluate(
        "[...document.images].every((one) => one.naturalWidth > 0) && document.images.length"
    )
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert axe.Axe().run(page).response["violations"] == []
    page.emulate_media(media="print")  # what is folded on the screen is printed
    assert page.locator("details td").first.is_visible()
    assert not page.get_by_role("link", name="All plants").is_visible()
    assert [told for told in watched.told if "Refused" in told] == []
    assert {url.split(":")[0] for url in watched.asked} == {"file"}
    context.close()
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(front)
    assert not page.get_by_label("Name of the plant").is_visible()
    page.get_by_role("link", name="All plants by their botanical names").click()
    page.get_by_role("link", name="Quercus robur").click()
    assert "Weeks" in page.locator("table.weeks").first.inner_text()
    context.close()
