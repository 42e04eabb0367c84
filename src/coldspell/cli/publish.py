"""Write what is published but made from code: ``python -m coldspell.cli.publish`` in a checkout.

Schemas of record, list of poisonous plants, recipe and lot, the references of record fields and of the
recipe's JSON, the lists of checks, the table of facts of a lot, and the example in the README. A test
compares them, so a stale one is noticed. No count of records is among them: contributions would conflict.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from coldspell.ask import Question, answer
from coldspell.check import page as checks_page
from coldspell.cli import commands_page
from coldspell.cli.line_schemas import error_schema, row_schema
from coldspell.decide.tables import Tables
from coldspell.library.library import Library
from coldspell.library.load import load_library, shipped_dirs
from coldspell.lot.read import make_lot
from coldspell.lot.schema import lot_schema, lot_table
from coldspell.office.schema import office_schema
from coldspell.records import fields_page
from coldspell.records.record_schema import poisonous_schema, record_schema
from coldspell.rulebook import load_tables
from coldspell.rules import checks as rule_checks
from coldspell.rules.plain import PlainEngine
from coldspell.settings.keys import settings_schema
from coldspell.texts import Texts
from coldspell.views import json_view, one_page
from coldspell.write import recipe_page
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_schema import recipe_schema

EXAMPLE = {"seeds": 40, "moisture": "fresh", "collected": "2026-10-12", "sow": "2027-04-15"}


def published(root: Path) -> dict[Path, str]:
    """Every published file and what should stand in it."""
    return {**records(root), **_recipes(root)}


def records(root: Path) -> dict[Path, str]:
    """What is published about records: made from their declaration and from the table of checks."""
    docs = root / "docs"
    return {
        docs / "schemas" / "record-2.json": _json(record_schema()),
        docs / "schemas" / "poisonous-1.json": _json(poisonous_schema()),
        docs / "record-fields.md": fields_page.page(),
        docs / "checks.md": checks_page.page(),
        docs / "commands.md": commands_page.page(),
    }


def _recipes(root: Path) -> dict[Path, str]:
    library, tables = load_library(shipped_dirs()), load_tables(PlainEngine())
    docs = root / "docs"
    made = {
        docs / "schemas" / "recipe-2.json": _json(recipe_schema(tables.book)),
        docs / "schemas" / "row-1.json": _json(row_schema()),
        docs / "schemas" / "error-1.json": _json(error_schema()),
        docs / "schemas" / "lot-1.json": _json(lot_schema()),
        docs / "schemas" / "settings-1.json": _json(settings_schema()),
        docs / "schemas" / "office-1.json": _json(office_schema()),
        docs / "recipe-json.md": recipe_page.page(
            tables.book,
            _plain(_answer("northern red oak", EXAMPLE, library, tables)),
            _plain(_answer("oak", {}, library, tables)),
        ),
    }
    lots = docs / "lots.md"
    made[lots] = with_table(lots.read_text("utf-8"), "| fact |", lot_table())
    rules = docs / "rules.md"
    made[rules] = with_table(rules.read_text("utf-8"), "| id | what is wrong |", rule_checks.table())
    readme = root / "README.md"
    made[readme] = _between(readme.read_text("utf-8"), "recipe", lambda: _example(library, tables))
    return made


def _json(value: object) -> str:
    return json.dumps(value, indent=1, ensure_ascii=False) + "\n"


def _between(page: str, mark: str, make: Callable[[], str]) -> str:
    """Replace what stands between a pair of comments."""
    pattern = re.compile(rf"(<!-- {mark} -->\n).*?(<!-- /{mark} -->)", re.DOTALL)
    made = make()
    return pattern.sub(lambda m: m[1] + made + m[2], page)


def with_table(page: str, head: str, table: str) -> str:
    """A page with the table that has this head written anew; what stands before and behind it is kept."""
    before, _, after = page.partition(head)
    behind = after.partition("\n\n")[2]
    return before + table + (f"\n{behind}" if behind else "")


def _answer(name: str, said: dict[str, Any], library: Library, tables: Tables) -> Recipe:
    return answer(Question(name, make_lot(said), date(2026, 10, 12)), library, tables, "0" * 16)


def _plain(recipe: Recipe) -> dict[str, Any]:
    """The recipe as read from its JSON; the digest of the library changes with every record, so not here."""
    return {**json.loads(json_view.render(recipe)), "library": "0" * 32}


def _example(library: Library, tables: Tables) -> str:
    page = one_page.render(_answer("northern red oak", EXAMPLE, library, tables), Texts(tables.texts), 80)
    return "\n```text\n" + page + "```\n\n"


if __name__ == "__main__":
    for path, content in published(Path.cwd()).items():
        path.write_text(content, encoding="utf-8")
