"""Write the published files that are made from code: ``python -m coldspell.views.publish docs``."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from coldspell.recipe.lot_schema import lot_schema, lot_table
from coldspell.views import json_view


def publish(docs: Path) -> None:
    """Write the schemas of recipe and lot, and the table of facts of a lot."""
    for name, made in (("recipe-1", json_view.schema()), ("lot-1", lot_schema())):
        text = json.dumps(made, indent=1, ensure_ascii=False) + "\n"
        (docs / "schemas" / f"{name}.json").write_text(text, encoding="utf-8")
    page = docs / "lots.md"
    before = page.read_text(encoding="utf-8").split("| fact |")[0]
    page.write_text(before + lot_table(), encoding="utf-8")


if __name__ == "__main__":
    publish(Path(sys.argv[1]))
