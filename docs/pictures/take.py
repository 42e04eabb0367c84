"""The pictures of the documentation: the page on a phone and on a desk, the static site, a printed sheet.

    uv run --all-groups python docs/pictures/take.py [FOLDER]

Needs Chromium. The lots are invented; the day is fixed, so that a picture changes only where the page does.
"""

from __future__ import annotations

import shutil
import socket
import sys
import tempfile
import threading
from datetime import date
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from coldspell.api import shipped
from coldspell.sheet.content import Adviser, Wanted, sheet
from coldspell.sheet.typeset import Typesetter
from coldspell.web.export.site import export
from coldspell.web.server import make_app, make_server

TODAY = date(2026, 11, 30)
OAK = "/recipe?name=northern+red+oak&seeds=40&moisture=fresh&sow=2027-04-15"
PAGES = {
    "ask-phone": ("/", 390, 760, "light"),
    "answer-phone": (OAK, 390, 760, "light"),
    "answer-dark": ("/recipe?name=apple&seeds=40&moisture=dried&sow=2027-04-15", 390, 760, "dark"),
    "answer-desk": (OAK, 900, 760, "light"),
    "compare": ("/compare?name=apple&seeds=40&a-sow=2027-04-15&b-sow=2027-02-01", 900, 640, "light"),
}
"""For each picture: address, width, height, colours."""


def take(browser: Browser, address: str, to: Path, width: int, height: int, colours: str) -> None:
    """One picture of what is seen first."""
    context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=colours)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(address)
    page.screenshot(path=to)
    context.close()


def main(folder: Path) -> None:
    """Take all of them into a folder."""
    folder.mkdir(exist_ok=True)
    listener = socket.create_server(("127.0.0.1", 0))
    server = make_server(make_app(shipped(), {}, lambda: TODAY))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    base = f"http://127.0.0.1:{listener.getsockname()[1]}"
    chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    with sync_playwright() as started, tempfile.TemporaryDirectory() as work:
        browser = started.chromium.launch(executable_path=chromium, args=["--no-sandbox", "--disable-gpu"])
        for name, (path, width, height, colours) in PAGES.items():
            take(browser, base + path, folder / f"{name}.png", width, height, colours)
        export(Path(work, "site"), [], ["Quercus rubra"])
        address = Path(work, "site", "plants", "quercus-rubra.html").as_uri()
        take(browser, address, folder / "site-phone.png", 390, 760, "light")
        browser.close()
    server.should_exit = True
    thread.join(10)
    recipe = shipped().recipe("apple", today=TODAY, seeds=40, moisture="dried", sow="2027-04-15")
    content = sheet(recipe, shipped().texts, Wanted(adviser=Adviser("A. Adviser", "Seed counter, 555 0100")))
    (folder / "sheet.png").write_bytes(Typesetter().png(content, ppi=64))


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent)
