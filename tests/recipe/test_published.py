"""The published schemas are current, and what is printed is valid, plain, narrow and the same each time."""

from __future__ import annotations

import json
import os
import pty
import re
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import lots
import msgspec
import pages
import pytest

from coldspell.ask import Question, answer
from coldspell.cli.main import main
from coldspell.cli.publish import published, with_table
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.library.load import Library
from coldspell.lot.read import make_lot
from coldspell.views import json_view
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_schema import told

ROOT = Path(__file__).parents[2]
SCHEMA: dict[str, Any] = json.loads((ROOT / "docs" / "schemas" / "recipe-2.json").read_text("utf-8"))
FORMATS = jsonschema.Draft202012Validator.FORMAT_CHECKER
FULL = bool(os.environ.get("COLDSPELL_FULL"))
Ask = Callable[..., Recipe]
LOTS: list[tuple[str, dict[str, Any]]] = [
    ("white oak", {"seeds": 25}),
    ("apple", {"seeds": 15, "sow": "2027-04-01"}),
    ("black cherry", {"kilograms": 2, "sow": "2026-12-20"}),
    ("oak", {}),
    ("northern red oak", {"moisture": "dried"}),
    ("peach", {"shell": "kernel", "units": "both", "want": 10}),
    ("eastern redbud", {"professional": "yes"}),
]


def run(*arguments: str, **kwargs: Any) -> subprocess.CompletedProcess[str]:
    """Run the program as a user does."""
    return subprocess.run(
        [sys.executable, "-m", "coldspell", *arguments], capture_output=True, text=True, check=False, **kwargs
    )


def test_published_files_are_current() -> None:
    """Make them anew with: python -m coldspell.cli.publish"""
    for path, content in published(ROOT).items():
        assert path.read_text(encoding="utf-8") == content, path


def test_a_table_made_anew_leaves_the_page_around_it() -> None:
    page = "# Page\n\n| a |\n|---|\n| old |\n\n## Behind\n\n| b |\n"
    assert with_table(page, "| a |", "| a |\n|---|\n| new |\n") == page.replace("old", "new")
    ends = "# Page\n\n| a |\n| old |\n"
    assert with_table(ends, "| a |", "| a |\n| new |\n") == ends.replace("old", "new")


@pytest.mark.parametrize(("name", "lot"), LOTS)
def test_json_is_valid_and_the_same_each_time(ask: Ask, name: str, lot: dict[str, Any]) -> None:
    first, second = json_view.render(ask(name, **lot)), json_view.render(ask(name, **lot))
    assert first == second
    jsonschema.Draft202012Validator(SCHEMA, format_checker=FORMATS).validate(json.loads(first))


def test_the_schema_is_one() -> None:
    """Draft 2020-12 of JSON Schema, as the reference library of Python checks it."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert "date" in FORMATS.checkers


@pytest.mark.long
def test_recipes_of_many_lots_fit_the_schema(library: Library, tables: Tables) -> None:
    """Of 3,000 seeded lots 200, with COLDSPELL_FULL all; no key or word may be undeclared."""
    reference = jsonschema.Draft202012Validator(_closed(SCHEMA), format_checker=FORMATS)
    valid = 0
    for lot in lots.draw(library.names, 3000 if FULL else 200):
        question = Question(lot["name"], make_lot(lot["said"]), date.fromisoformat(lot["today"]))
        try:
            recipe = answer(question, library, tables, "test")
        except ColdspellError:
            continue
        fault = next(reference.iter_errors(json.loads(json_view.render(recipe))), None)
        assert fault is None, f"{lot}: {fault.json_path if fault else ''}: {fault and fault.message}"
        valid += 1
    assert valid >= 190


def test_a_recipe_is_read_back_as_it_was(ask: Ask) -> None:
    recipe = ask("peach", seeds=40, sow="2027-04-15")
    assert msgspec.json.decode(json_view.render(recipe), type=Recipe) == recipe


def test_making_a_recipe_does_not_load_its_description() -> None:
    code = "import sys, coldspell.ask, coldspell.views.json_view; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert "coldspell.write.recipe" in loaded
    described = {"coldspell.write.recipe_kinds", "coldspell.records.terms", "coldspell.schema.declare"}
    assert not described & loaded


@pytest.mark.parametrize(
    ("path", "wrong"),
    [
        ("asked_on", "25 November"),
        ("asked_on", "2026-02-30"),
        ("units", "imperial"),
        ("species.rank", "cultivar"),
        ("does.lies", "somewhere"),
        ("timing.fits", "perhaps"),
        ("treatments.0.status", "maybe"),
        ("treatments.0.steps.0", "sing"),
        ("medium.litres", -1),
        ("medium.material", "glass"),
        ("layout.pattern", "round"),
        ("layout.points_mm.0", [1]),
        ("steps.0.need", "often"),
        ("steps.0.celsius", [1, 2]),
        ("sources.0.basis", "hearsay"),
        ("lot.said.moisture", "wet"),
        ("lot.said.seeds", "many"),
        ("cautions", None),
    ],
)
def test_the_schema_refuses_what_no_recipe_holds(ask: Ask, path: str, wrong: Any) -> None:
    recipe = json.loads(json_view.render(ask("peach", seeds=7, sow="2027-04-15")))
    reference = jsonschema.Draft202012Validator(SCHEMA, format_checker=FORMATS)
    assert reference.is_valid(recipe)
    *above, last = [int(part) if part.isdigit() else part for part in path.split(".")]
    here = recipe
    for part in above:
        here = here[part]
    here[last] = wrong
    faults = [fault.json_path for fault in reference.iter_errors(recipe)]
    assert len(set(faults)) == 1, faults


def test_everything_in_the_schema_is_described() -> None:
    """Every key, every closed word; and no word says what is true of records alone."""
    keys = [part for one in _maps(SCHEMA) for part in one["properties"].values()]
    words = [word for part in keys for word in _words(part)]
    assert len(keys) > 150
    assert len(words) > 150
    assert all(part["description"] for part in [*keys, *words])
    assert "key is absent" not in json.dumps(SCHEMA)
    for part in keys:
        if part.get("examples"):
            assert len(part["examples"]) > 4


def test_the_page_names_every_key_and_word_and_its_examples_fit() -> None:
    page = (ROOT / "docs" / "recipe-json.md").read_text("utf-8")
    for one in _maps(SCHEMA):
        for key in one["properties"]:
            assert one is SCHEMA["$defs"]["LotAnswer"]["properties"]["said"] or f"| `{key}` | " in page
    for kind in (word for part in SCHEMA["$defs"].values() for word in _words(part)):
        assert f"- `{kind['const']}`: {kind['description']}\n" in page
    assert told().fields
    shown: dict[str, Any] = {}
    for block in re.findall(r"```json\n(.*?)```", page, re.DOTALL):
        shown |= json.loads(block)
    jsonschema.Draft202012Validator(SCHEMA, format_checker=FORMATS).validate(shown)


def _closed(schema: Any) -> Any:
    """The schema without room for further keys."""
    if isinstance(schema, list):
        return [_closed(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    closed = {key: _closed(one) for key, one in schema.items()}
    if "properties" in closed and isinstance(closed.get("required"), list):
        closed["additionalProperties"] = False
    return closed


def _maps(schema: Any) -> list[dict[str, Any]]:
    """Every map that a schema describes by its keys."""
    if not isinstance(schema, dict | list):
        return []
    parts = schema if isinstance(schema, list) else list(schema.values())
    own = [schema] if isinstance(schema, dict) and schema.get("type") == "object" else []
    return [one for one in own if "properties" in one] + [m for part in parts for m in _maps(part)]


def _words(schema: Any) -> list[dict[str, Any]]:
    """Every closed word within a schema."""
    if not isinstance(schema, dict | list):
        return []
    parts = schema if isinstance(schema, list) else list(schema.values())
    own = [schema] if isinstance(schema, dict) and "const" in schema else []
    return own + [word for part in parts for word in _words(part)]


@pytest.mark.parametrize(("name", "lot"), LOTS)
@pytest.mark.parametrize("width", [20, 40, 59, 60, 80, 200])
def test_no_line_is_wider_than_the_terminal(ask: Ask, name: str, lot: dict[str, Any], width: int) -> None:
    page = pages.short(ask(name, **lot), width)
    assert max(len(line) for line in page.splitlines()) <= min(max(width, 32), 110)
    assert not any(line != line.rstrip() for line in page.splitlines())


@pytest.mark.parametrize(("name", "lot"), LOTS)
def test_ascii_only(ask: Ask, name: str, lot: dict[str, Any]) -> None:
    recipe = ask(name, **lot)
    page = pages.short(recipe, 80, ascii_only=True)
    assert page.isascii()
    assert page.count("?") == pages.short(recipe, 80).count("?")  # no sign was lost for a question mark


def test_same_bytes_from_two_processes_and_hash_seeds() -> None:
    arguments = ("recipe", "peach", "--seeds", "20", "--today", "2026-11-25", "--format", "json")
    first = run(*arguments, env={**os.environ, "PYTHONHASHSEED": "1"})
    second = run(*arguments, env={**os.environ, "PYTHONHASHSEED": "2"})
    assert first.returncode == 0
    assert first.stdout == second.stdout


def test_ascii_terminal_and_narrow_terminal() -> None:
    done = run(
        "recipe", "apple", "--seeds", "5", env={**os.environ, "PYTHONIOENCODING": "ascii", "COLUMNS": "40"}
    )
    assert done.returncode == 0
    assert done.stdout.isascii()
    assert max(len(line) for line in done.stdout.splitlines()) <= 40


def test_a_reader_that_leaves_early_is_no_error() -> None:
    program = f"{sys.executable} -m coldspell recipe peach --format json"
    done = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {program} | head -1"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert done.stderr == ""


def test_no_colour_codes_on_a_terminal() -> None:
    own, worker = pty.openpty()
    with subprocess.Popen([sys.executable, "-m", "coldspell", "recipe", "apple"], stdout=worker) as process:
        os.close(worker)
        chunks = []
        try:
            while chunk := os.read(own, 65536):
                chunks.append(chunk)
        except OSError:
            pass
        process.wait()
    assert b"\x1b[" not in b"".join(chunks)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["recipe", "Nosuchia"], "no record for"),
        (["recipe", "Quercus rubar"], "coldspell recipe \"Quercus rubra\""),
        (["recipe", "blue flugelberry"], "botanical name"),
        (["recipe", "peech"], "peach"),
        (["recipe", "peach", "--seeds", "0"], "seeds is 0"),
        (["recipe", "peach", "--sow", "2027-02-31"], "no 2027-02-31 in the calendar"),
        (["recipe", "peach", "--sow", "soon"], "not a date"),
        (["recipe", "peach", "--collected", "2026-10-01", "--sow", "2026-09-01"], "before the day"),
        (["recipe", "peach", "--cut", "11/10"], "cannot be 11 of 10"),
        (["recipe", "peach", "--moisture", "wet"], "one of: fresh, dried"),
        (["recipe", "peach", "--format", "xml"], "one of: text, json"),
        (["recipe", "peach", "--why-not", "towl_roll"], "Did you mean 'towel_roll'?"),
        (["recipe", "peach", "--lot", "/nosuch/lot.yaml"], "No such file"),
        (["recipe", "ash"], "several plants"),
        (["recipe", "peach", "--sow", "9999-12-31", "--today", "9999-12-30"], "is far off"),
    ],
)
def test_wrong_use_is_one_clear_message(
    arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    told = capsys.readouterr()
    assert says in told.err
    assert told.out == ""
    assert "Traceback" not in told.err


def test_lot_file_mistakes_have_their_line(tmp_path: Path) -> None:
    lot = tmp_path / "lot.yaml"
    lot.write_text("seeds: 40\nmoistur: fresh\n")
    done = run("recipe", "peach", "--lot", str(lot))
    assert done.returncode == 2
    assert f"{lot}:2:1" in done.stderr
    assert "moisture" in done.stderr
    lot.write_text("seeds: 40\nmoisture: wet\n")
    assert f"{lot}:2:11" in run("recipe", "peach", "--lot", str(lot)).stderr


def test_lot_file_and_options_agree(tmp_path: Path, ask: Ask) -> None:
    lot = tmp_path / "lot.json"
    lot.write_text(json.dumps({"seeds": 40, "sow": "2027-04-15", "medium": ["sand"], "cut": "9/10"}))
    done = run(
        "recipe", "peach", "--lot", str(lot), "--seeds", "20", "--today", "2026-11-25", "--format", "json"
    )
    found = json.loads(done.stdout)
    assert found["lot"]["said"]["seeds"] == 20
    assert found["medium"]["material"] == "sand"
    asked = ask("peach", date(2026, 11, 25), seeds=20, sow="2027-04-15", medium=["sand"], cut="9/10")
    assert found["steps"] == json.loads(json_view.render(asked))["steps"]


def test_usual_is_null_where_the_source_has_none(ask: Ask, library: Library) -> None:
    """Of every seventh record: the ranges of the steps are those of the record, its usual value or none."""
    seen = set()
    for name in list(library.names)[::7]:
        record = library.get(name)
        recipe = ask(name, seeds=30, moisture="dried")
        used = next((t.name for t in recipe.treatments if t.status == "used"), None)
        treatment = next((t for t in record.treatments if t.name == used), None)
        if treatment is None or recipe.does.page != "plan":
            continue
        own = {(s.do, s.days.low, s.days.high): s.days.usual for s in treatment.steps if s.days}
        for step in recipe.steps:
            key = step.days and (step.do, step.days[0], step.days[2])
            if step.days and key in own:
                assert step.days[1] == own[key], name
                seen.add(step.days[1] is None)
    assert seen == {True, False}
