"""No rule decides by the name of a plant: what is true of a kind stands in its record."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import rewriting

from coldspell.library.load import load_library, shipped_dirs
from coldspell.records.name import genus_of
from coldspell.shipped import find
from coldspell.yaml.document import parse, plain

SRC = Path(__file__).parents[2] / "src" / "coldspell"
DECIDING = ("decide", "plan", "write", "rules", "counter", "views", "season", "arithmetic", "texts", "trial")


def genera() -> set[str]:
    """The genera of all records and of the list of poisonous plants."""
    file = find("species") / "poisonous.yaml"
    entries = plain(parse(file.read_text("utf-8"), str(file)))
    poisonous = [entry.get("genus") or entry["species"] for entry in entries]
    return {genus_of(name) for name in [*load_library(shipped_dirs()).names, *poisonous]}


def common_names() -> set[str]:
    """Common names in all languages."""
    library = load_library(shipped_dirs())
    records = (library.get(name) for name in library.names)
    return {name.casefold() for one in records for names in one.common_names.values() for name in names}


def words_of(text: str) -> set[str]:
    """Words as they are written."""
    return set(re.findall(r"[A-Z][a-z]+", text))


def literals(path: Path) -> Iterator[str]:
    """Texts in a module that are no docstring or text below a field."""
    tree = ast.parse(path.read_text("utf-8"))
    said = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in said:
            yield node.value


def test_the_lists_of_names_are_whole() -> None:
    assert {"Quercus", "Prunus", "Taxus"} <= genera()
    assert {"apple", "horse chestnut"} <= common_names()


def test_no_rule_or_sentence_holds_the_name_of_a_genus() -> None:
    known = genera()
    files = [*find("rules").glob("*.yaml"), SRC / "texts" / "en.yaml"]
    assert len(files) > 60
    found = {file.name: named for file in files if (named := words_of(file.read_text("utf-8")) & known)}
    assert found == {}


def test_no_condition_holds_the_common_name_of_a_plant() -> None:
    known = common_names()
    conditions = [
        (table["decision"], rule["rule"], value)
        for table in rewriting.decisions(rewriting.read())
        for rule in table["rules"]
        for fact, wanted in rule["when"].items()
        if fact not in ("smell", "unit")  # of almonds: a smell; acorn: a word of the schema for what is sown
        for value in (wanted if isinstance(wanted, list) else [wanted])
    ]
    assert len(conditions) > 1000
    assert [one for one in conditions if str(one[2]).casefold() in known] == []


def test_what_decides_and_writes_names_no_genus() -> None:
    known = genera()
    found = {
        (path.name, text)
        for room in DECIDING
        for path in (SRC / room).rglob("*.py")
        for text in literals(path)
        if words_of(text) & known and not path.name.startswith("responses")
    }
    assert found == set()
