"""The documentation as a site: ``sphinx-build -W -n docs SITE``; a broken link is an error."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
_PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]

project = "Coldspell"
release = _PROJECT["version"]
copyright = "Coldspell contributors; text CC-BY-4.0"
extensions = ["myst_parser"]
exclude_patterns = ["season-demo"]
html_theme = "furo"
html_title = f"Coldspell {release}"
html_extra_path = ["schemas"]
html_show_sphinx = False
html_copy_source = False
myst_heading_anchors = 3
myst_links_external_new_tab = False
suppress_warnings = ["misc.highlighting_failure"]  # blocks of our own rules with braces are not all YAML
nitpicky = True


_ABOVE = {
    "contributing": ".github/CONTRIBUTING.md",
    "developers": "DEVELOPERS.md",
    "security": ".github/SECURITY.md",
    "changes": "CHANGELOG.md",
}
"""Pages whose text stands above docs, where people look for it in a clone."""


def _pages_above(app: Any, docname: str, source: list[str]) -> None:
    """Take the text of such a page from its place, and let links lead to pages of the site."""
    if docname in _ABOVE:
        text = (ROOT / _ABOVE[docname]).read_text("utf-8")
        source[0] = text.replace("](../docs/", "](").replace("](docs/", "](").replace("](DEV", "](../DEV")
    for page, path in _ABOVE.items():
        source[0] = source[0].replace(f"](../{path})", f"]({page}.md)")


def setup(app: Any) -> None:
    """Register what is done to pages as they are read."""
    app.connect("source-read", _pages_above)
