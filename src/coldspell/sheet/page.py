"""HTML of a sheet in print style: one file that asks for nothing from outside."""

from __future__ import annotations

import base64
import hashlib
from pathlib import Path

from coldspell.extras import extra
from coldspell.sheet.content import Sheet
from coldspell.sheet.unbroken import unbroken

TEMPLATES = Path(__file__).parent / "templates"


def page(sheet: Sheet) -> str:
    """The sheet as one HTML file.

    Its style is named by its hash in a policy that forbids everything else; pictures are SVG with attributes
    only.

    Raises
    ------
    ColdspellError
        The library for it is not installed.
    """
    jinja2 = extra("jinja2", "sheet", "an HTML sheet")
    style = (TEMPLATES / "sheet.css").read_text("utf-8")
    digest = base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii")
    pictures = "; img-src data:" if sheet.logo or sheet.photographs else ""
    environment = jinja2.Environment(
        loader=jinja2.FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["unbroken"] = unbroken
    found = environment.get_template("sheet.html").render(
        sheet=sheet, style=style, policy=f"default-src 'none'; style-src 'sha256-{digest}'{pictures}"
    )
    return str(found)
