"""Templates of the page, its one style sheet and its one script, all from the package."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import jinja2

from coldspell import __version__
from coldspell.sheet.page import TEMPLATES as SHEET
from coldspell.sheet.unbroken import unbroken
from coldspell.texts import Texts

HERE = Path(__file__).parent


class Pages:
    """Renders pages; every text is escaped but the pictures, which are made of escaped text."""

    def __init__(self, texts: Texts, *, public: bool = False) -> None:
        self._environment = jinja2.Environment(
            loader=jinja2.FileSystemLoader([HERE / "templates", SHEET]),
            autoescape=True,
            undefined=jinja2.StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            auto_reload=False,
        )
        self._environment.filters["unbroken"] = unbroken
        self._environment.globals.update(t=texts.say, version=__version__, public=public)

    def page(self, template: str, **values: Any) -> str:
        """One page as HTML."""
        return self._environment.get_template(template).render(**values)


def style() -> str:
    """The style of the sheet with what the page has besides."""
    return (SHEET / "sheet.css").read_text("utf-8") + (HERE / "static" / "page.css").read_text("utf-8")


def script() -> str:
    """The script that offers names while one is typed; everything works without it."""
    return (HERE / "static" / "names.js").read_text("utf-8")


def icon() -> str:
    """A seed with its first root, for the tab of the browser."""
    return (HERE / "static" / "seed.svg").read_text("utf-8")
