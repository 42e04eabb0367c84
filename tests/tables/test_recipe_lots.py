"""``recipe --lots``: the recipe of each row is the recipe of one lot."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from coldspell.cli.main import main

SCHEMAS = Path(__file__).parent.parent.parent / "docs" / "schemas"

TABLE = (
    "lot,name,seeds,moisture,sow,bench\n"
    "A1,northern red oak,40,fresh,2027-04-15,3\n"
    "A2,apple,many,dried,2027-04-15,4\n"
    "A3,no such plant at all,4,,,\n"
    "A4,apple,200,dried,2027-04-15,5\n"
)


def lines(capsysbinary: pytest.CaptureFixture[bytes]) -> list[dict[str, Any]]:
    return [json.loads(line) for line in capsysbinary.readouterr().out.splitlines()]


def breaches(line: dict[str, Any]) -> list[str]:
    """What breaks the published schema of a line (docs/schemas/row-1.json)."""
    resources = [Resource.from_contents(json.loads(path.read_text())) for path in SCHEMAS.glob("*-[12].json")]
    registry: Registry[Any] = Registry().with_resources((one.id() or "", one) for one in resources)
    schema = registry.contents("https://coldspell.example/schemas/row-1.json")
    return [fault.message for fault in Draft202012Validator(schema, registry=registry).iter_errors(line)]


def test_each_row_is_a_line_and_refusals_are_too(
    tmp_path: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    path = tmp_path / "lots.csv"
    path.write_text(TABLE)
    assert main(["recipe", "--lots", str(path), "--today", "2026-11-30", "--winter", "cold"]) == 1
    found = lines(capsysbinary)
    assert [line["row"] for line in found] == [2, 3, 4, 5]
    assert ["recipe" in line for line in found] == [True, False, False, True]
    assert found[1]["errors"][0]["column"] == "seeds"
    assert found[0]["carried"] == {"bench": "3"}
    assert [fault for line in found for fault in breaches(line)] == []
    assert breaches({**found[0], "recipe": {}})
    assert breaches({**found[1], "errors": []})
    options = ["--seeds", "200", "--moisture", "dried", "--sow", "2027-04-15", "--winter", "cold"]
    assert main(["recipe", "apple", *options, "--today", "2026-11-30", "--format", "json"]) == 0
    assert json.loads(capsysbinary.readouterr().out) == found[3]["recipe"]


def test_wrong_use(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "lots.csv"
    path.write_text(TABLE)
    for more in (["apple"], ["--full"], ["--format", "json"], ["--table", "ods"], ["--delimiter", "ab"]):
        assert main(["recipe", "--lots", str(path), *more]) == 2
        assert capsys.readouterr().out == ""
    assert main(["recipe"]) == 2


def test_one_recipe_loads_nothing_of_tables() -> None:
    code = (
        "import sys; from coldspell.cli.main import main; main(['recipe', 'apple', '--seeds', '4']); "
        "found = [m for m in sys.modules if m.startswith(('coldspell.tables', 'pyarrow', 'csv'))]; "
        "print(*found, file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stderr.split() == []
