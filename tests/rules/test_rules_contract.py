"""A name that is changed in all rule files, and not in the program, is found by ``coldspell rules check``.

One name of each kind is changed in the text of a copy of the shipped rules, as with an editor's replace-all,
and the command is run: it says where, and how to mend it. Then every name of each kind at once.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
import rewriting
from rules_lots import SHIPPED
from typer.testing import CliRunner

from coldspell.cli.rules import app
from coldspell.decide.contract import contract
from coldspell.rulebook import asked, load_rulebook, rule_paths
from coldspell.rules import check_rules

pytestmark = pytest.mark.long


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    return shutil.copytree(SHIPPED, tmp_path / "rules")


def replace(folder: Path, pattern: str, new: str, files: str = "*.yaml") -> None:
    """Replace everywhere in the files; there must be something to replace."""
    count = 0
    for path in folder.glob(files):
        text, found = re.subn(pattern, new, path.read_text(encoding="utf-8"))
        path.write_text(text, encoding="utf-8")
        count += found
    assert count


def line_of(folder: Path, file: str, text: str) -> int:
    lines = (folder / file).read_text(encoding="utf-8").split("\n")
    (number,) = (n for n, line in enumerate(lines, 1) if re.search(rf"{re.escape(text)}\b", line))
    return number


def told(folder: Path) -> str:
    """What the check prints, with the folder taken out; it must leave with 1."""
    done = CliRunner().invoke(app, ["check", "--rules", str(folder)], env={"COLUMNS": "100"})
    assert done.exit_code == 1
    return done.output.replace(f"{folder}/", "")


NOT_DECLARED = "rules: error: the {kind} '{old}', which the program sets, is not declared [contract]\n"
NOTHING_SETS = (
    "{file}:{line}:{column}: error: nothing sets the {kind} '{new}' [contract]\n  Did you mean '{old}'?\n"
)


@pytest.mark.parametrize(
    ("kind", "old", "new", "pattern", "file", "column"),
    [
        ("fact", "moist_days", "moist_dayz", r"\bmoist_days\b", "facts.yaml", 11),
        ("fact", "had_cold", "has_cold", r"\bhad_cold\b", "facts.yaml", 11),
        ("field", "route.lies", "route.lyes", r"(?<=route\.)lies\b|\blies(?=:|\n)", "fields.yaml", 12),
        ("field", "medium.packs", "medium.pack", r"\bpacks\b", "fields.yaml", 12),
        ("placeholder", "short_by", "shorter_by", r"\bshort_by\b", "placeholders.yaml", 19),
        ("number", "gap_mm", "gaps_mm", r"\bgap_mm\b", "practice.yaml", 12),
    ],
)
def test_a_name_that_is_changed_in_all_rules_is_found(
    rules: Path, kind: str, old: str, new: str, pattern: str, file: str, column: int
) -> None:
    replace(rules, pattern, new.rpartition(".")[2])
    page = told(rules)
    line = line_of(rules, file, f"{kind if kind != 'number' else 'name'}: {new.rpartition('.')[2]}")
    assert (
        NOT_DECLARED.format(kind=kind, old=old) + f"  Declare it in {file}. Did you mean '{new}'?\n" in page
    )
    assert NOTHING_SETS.format(file=file, line=line, column=column, kind=kind, old=old, new=new) in page
    assert page.endswith("\n2 faults\n")


def test_a_decision_that_is_changed_in_all_rules_is_found(rules: Path) -> None:
    replace(rules, r"\bon_mould\b", "on_mold")
    page = told(rules)
    assert "rules: error: no decision is named 'on_mould', for which the program asks [contract]\n" in page
    assert (
        "on_mould.yaml:1:11: error: on_mold: neither the program nor another decision asks for it "
        "[contract]\n  Did you mean 'on_mould'?\n"
    ) in page
    assert page.endswith("\n2 faults\n")


def test_a_word_of_a_field_that_is_changed_in_all_rules_is_found(rules: Path) -> None:
    replace(rules, r"\bcold_pot\b", "cool_pot")
    page = told(rules)
    line = line_of(rules, "fields.yaml", "field: lies")
    at = f"fields.yaml:{line}:12: error: route.lies: the"
    assert f"{at} program does not know the word 'cool_pot' [contract]\n  Did you mean 'cold_pot'?\n" in page
    assert f"{at} word 'cold_pot', which the program knows, is not declared [contract]\n" in page
    assert page.endswith("\n2 faults\n")


def test_a_word_of_a_field_that_is_added_is_found(rules: Path) -> None:
    replace(rules, r"(?<=words: \{one: one only, )", "two: two at most, ", "fields.yaml")
    page = told(rules)
    assert (
        "layout.layers: the program does not know the word 'two' [contract]\n  Known here: one, many.\n"
        in page
    )
    assert page.endswith("\n1 fault\n")


def test_a_number_that_is_taken_out_is_found(rules: Path) -> None:
    replace(rules, r"\n  - \{name: mesh_mm,.*", "", "practice.yaml")
    page = told(rules)
    assert NOT_DECLARED.format(kind="number", old="mesh_mm") + "  Declare it in practice.yaml." in page
    assert page.endswith("\n1 fault\n")


def test_a_number_of_another_length_is_found(rules: Path) -> None:
    replace(rules, r"(?<=name: mesh_mm, value: )\[6, 13\]", "6", "practice.yaml")
    page = told(rules)
    line = line_of(rules, "practice.yaml", "name: mesh_mm")
    assert f"practice.yaml:{line}:12: error: the number 'mesh_mm' must be 2, not 1 [contract]\n" in page


def test_a_fact_that_nothing_sets_is_found(rules: Path) -> None:
    """Declared and tested, but no line of the program sets it: it would be missing for every lot."""
    fact = "facts:\n  - {fact: husky, from: record, values: [yes, no], means: Invented.}\n"
    (rules / "more.yaml").write_text(fact, encoding="utf-8")
    replace(rules, r"given: \[behaviour, medium\]", "given: [behaviour, medium, husky]", "on_mould.yaml")
    replace(
        rules,
        r"when: \{behaviour: recalcitrant\}",
        "when: {behaviour: recalcitrant, husky: no}",
        "on_mould.yaml",
    )
    page = told(rules)
    assert "more.yaml:2:12: error: nothing sets the fact 'husky' [contract]\n  Known here: " in page
    assert page.endswith("\n1 fault\n")


def test_a_word_that_the_program_sets_must_be_a_value_of_the_fact(rules: Path) -> None:
    replace(rules, r"\[none, some, most\]", "[none, some, many]", "facts.yaml")
    replace(rules, r"rooted: most\b", "rooted: many")
    page = told(rules)
    line = line_of(rules, "facts.yaml", "fact: rooted")
    at = f"facts.yaml:{line}:11: error: the fact 'rooted'"
    assert (
        f"{at} can be 'most', which is not among its values [contract]\n  Add most to its values.\n" in page
    )


def test_a_fact_of_the_lot_cannot_be_declared_again(rules: Path) -> None:
    again = "facts:\n  - {fact: moisture, from: lot, values: [wet, dry], means: Again.}\n"
    (rules / "more.yaml").write_text(again, encoding="utf-8")
    assert "more.yaml:2:12: error: the fact 'moisture' is declared twice [twice]\n" in told(rules)


def names(kind: str) -> set[str]:
    book = load_rulebook().book
    own = {fact.name for fact in contract().declares}
    return {
        "fact": {f.name for f in book.facts.values() if not f.text} - own,
        "decision": set(contract().decisions),
        "field": set(book.fields),
        "placeholder": {f.name for f in book.facts.values() if f.text},
        "number": set(book.practice),
        "word": {f"{path}: {word}" for path, field in book.fields.items() for word in field.words},
    }[kind]


def changed(kind: str) -> rewriting.Rules:
    """The shipped rules with every name of one kind changed everywhere in them."""
    rules, known = rewriting.read(), names(kind)
    mark: Callable[[str], str] = lambda name: f"{name}_x"  # noqa: E731
    if kind == "number":
        for number in rules["practice.yaml"]["practice"]:
            number["name"] = mark(number["name"])
    elif kind == "word":
        asked_not = {"not_asked": "not_asked"}  # no word of a field: its decision was not asked
        rewriting.rename_words(
            rules, lambda word: asked_not.get(word, mark(word)), {name.partition(":")[0] for name in known}
        )
    elif kind == "placeholder":
        rewriting.rename_in_braces(rules, lambda name: mark(name) if name in known else name)
    elif kind == "decision":

        def of_decision(name: str) -> str:
            head, dot, field = name.partition(".")
            return (mark(head) if head in known else head) + dot + field

        rewriting.rename_keys(rules, of_decision)
    else:
        rewriting.rename_keys(rules, lambda name: mark(name) if name in known else name)
        if kind == "fact":
            rewriting.rename_in_braces(rules, lambda name: mark(name) if name in known else name)
    return rules


@pytest.mark.parametrize("kind", ["fact", "decision", "field", "word", "placeholder", "number"])
def test_no_name_of_the_rules_can_be_changed_alone(kind: str, tmp_path: Path) -> None:
    """Every name of a kind at once: each is missed by the program, by name."""
    folder = rewriting.write(changed(kind), tmp_path / "rules")
    found = check_rules(rule_paths([folder]), None, asked)
    messages = [f.message for f in found if f.check == "contract"]
    for name in names(kind):
        path, _, word = name.partition(": ")
        missed = {
            "decision": f"no decision is named '{name}', for which the program asks",
            "word": f"{path}: the word '{word}', which the program knows, is not declared",
        }.get(kind, f"the {kind} '{name}', which the program sets, is not declared")
        assert missed in messages, name
    assert {f.check for f in found if f.severity == "error"} == {"contract"}
    assert all(f.mend for f in found if f.check == "contract")


def test_the_guide_shows_what_a_changed_placeholder_gives(rules: Path) -> None:
    replace(rules, r"\bgap(?=[,}])", "gaps")
    guide = (SHIPPED.parent / "docs" / "rules.md").read_text(encoding="utf-8")
    (shown,) = re.findall(r"```\n(placeholders.yaml:[0-9]+:19: .*?)```", guide, re.S)
    assert re.sub(r":[0-9]+:", "::", told(rules)) == re.sub(r":[0-9]+:", "::", shown) + "2 faults\n"


@pytest.mark.parametrize(
    ("name", "value", "unit", "fault"),
    [
        ("look_every_days", "-5", "days", "-5 days cannot be"),
        ("look_every_days", "0", "days", "0 days cannot be"),
        ("look_every_days", "2", "weeks", "the unit must be days, not weeks"),
        ("aged_percent", "[60, 20]", "percent", "60 to 20 runs backward"),
        ("aged_percent", "[20, 160]", "percent", "20 to 160 percent is outside 0 to 100"),
        ("gap_mm", "25000", "mm", "25000 mm is outside 0 to 1500"),
        ("cold_celsius", "[134, 241]", "°C", "134 to 241 °C is outside -40 to 105"),
    ],
)
def test_a_number_that_cannot_be_is_refused(
    rules: Path, name: str, value: str, unit: str, fault: str
) -> None:
    number = rf"(?<=name: {name}, )value: (?:\d+|\[[^\]]*\]), unit: [^,]*"
    replace(rules, number, f"value: {value}, unit: {unit}", "practice.yaml")
    line = line_of(rules, "practice.yaml", f"name: {name}")
    assert f"practice.yaml:{line}:12: error: {name}: {fault} [practice]\n" in told(rules)
