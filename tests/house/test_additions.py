"""What a horticulturist can add without Python: a route, a form of medium, a step of preparation.

Each is added to a copy of the rules, by the edits shown, and gets a correct page: verdict, steps on the right
days, amounts. ``coldspell rules check`` finds no fault, and says what is missing where an edit was forgotten.
No page of another lot changes. Nothing here is advice: the additions are invented.
"""

from __future__ import annotations

import shutil
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import asking
import lots
import pytest
from typer.testing import CliRunner, Result

from coldspell import shipped
from coldspell.cli.rules import app
from coldspell.decide.tables import Tables, tables_of
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.rulebook import asked, rule_paths
from coldspell.rules.load import compile_rules
from coldspell.rules.plain import PlainEngine

pytestmark = pytest.mark.long

TODAY = date(2026, 11, 25)
Edit = tuple[str, str, str]  # file, what stands there, what stands there afterwards


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    return shutil.copytree(shipped.find("rules"), tmp_path / "rules")


def edit(rules: Path, *edits: Edit) -> None:
    for file, old, new in edits:
        text = (rules / file).read_text(encoding="utf-8")
        assert old in text, (file, old)
        (rules / file).write_text(text.replace(old, new, 1), encoding="utf-8")


def check(rules: Path) -> Result:
    return CliRunner().invoke(app, ["check", "--rules", str(rules)], env={"COLUMNS": "100"})


def tables(rules: Path) -> Tables:
    done = check(rules)
    assert (done.exit_code, done.output.splitlines()[-1]) == (0, "no faults"), done.output
    return tables_of(compile_rules(rule_paths([rules]), None, asked).book, PlainEngine())


def ask(name: str, rules: Tables | None, library: Library | None = None, **said: Any) -> tuple[str, Any]:
    page, recipe = asking.ask(name, said, TODAY, rules, library)
    assert recipe, page
    return " ".join(page.split()), recipe


def steps(recipe: Any) -> list[tuple[str, str | None, str | None]]:
    return [(step["do"], step["start"], step["end"]) for step in recipe["steps"]]


def unchanged(rules: Tables, answers: set[str]) -> int:
    """Ask some lots with and without the addition; those that do not meet it have the page they had."""
    same = 0
    for lot in lots.draw(asking.names(), 60):
        name, said, today = lot["name"], lot["said"], date.fromisoformat(lot["today"])
        page, recipe = asking.ask(name, said, today, rules)
        if answers.isdisjoint(row["answer"] for row in (recipe or {"trace": ()})["trace"]):
            same += 1
            assert page == asking.ask(name, said, today)[0], lot
    return same


BRIEF = """  keep_warm_briefly:
    says: Keep it moist at room warmth for some days, then sow.
    steps: whole
    sown: target
    lies: warm
    page: plan
    waits_from: none
    date: used
    losses: as_said
"""
BRIEF_RULE = """  - rule: a few warm days
    when: {shape: warm, moist_days: up to 7}
    choose: keep_warm_briefly
    because: It only has to swell.
"""
BRIEF_VERDICT = """  briefly: "Keep them moist at room warmth {start_when} for {warm_length}; sow {sow_when}."
"""
BRIEF_VERDICT_RULE = """  - rule: a few warm days
    when: {route: keep_warm_briefly}
    choose: briefly
    because: They only swell.
"""
ROUTE: tuple[Edit, ...] = (
    ("route.yaml", "given: [autumn, ", "given: [moist_days, autumn, "),
    ("route.yaml", "  warm_indoors:\n", BRIEF + "  warm_indoors:\n"),
    ("route.yaml", "  - rule: warmth only\n", BRIEF_RULE + "  - rule: warmth only\n"),
)
ITS_VERDICT: tuple[Edit, ...] = (
    ("verdict.yaml", "_dry, warm_indoors]", "_dry, warm_indoors, keep_warm_briefly]"),
    ("verdict.yaml", "  coat_warm:", BRIEF_VERDICT + "  coat_warm:"),
    ("verdict.yaml", "  - {rule: nowhere,", BRIEF_VERDICT_RULE + "  - {rule: nowhere,"),
)
KIND = """name: Exemplum tepidum
family: Exemplaceae
rank: species
plant: vine
unit: seed
size: medium
seed_mm: {length: 8, width: 6, cite: usual}
storage: {behaviour: orthodox, cite: usual}
treatments:
  - {name: swell, steps: [{do: warm_moist, days: 3}, {do: sow}], cite: usual}
cites: {usual: {basis: practice}}
"""


@pytest.fixture
def library(tmp_path: Path) -> Library:
    folder = tmp_path / "species" / "exemplum"
    folder.mkdir(parents=True)
    (folder / "exemplum-tepidum.yaml").write_text(KIND, encoding="utf-8")
    return load_library([*shipped_dirs(), tmp_path / "species"])


def test_a_route_that_keeps_seed_moist_at_room_warmth_for_three_days(rules: Path, library: Library) -> None:
    edit(rules, *ROUTE, *ITS_VERDICT)
    ready = tables(rules)
    _, before = ask("Exemplum tepidum", None, library, seeds=40, sow="2027-04-15")
    assert before["route"] == "warm_indoors"
    page, recipe = ask("Exemplum tepidum", ready, library, seeds=40, sow="2027-04-15")
    assert recipe["route"] == "keep_warm_briefly"
    assert "Keep them moist at room warmth from 11 April 2027 for 3 days; sow on 15 April 2027." in page
    assert steps(recipe) == [
        ("hold", "2026-11-25", "2027-04-11"),
        ("soak", "2027-04-11", "2027-04-12"),  # it has dried while it waited
        ("warm_moist", "2027-04-12", "2027-04-15"),
        ("sow", "2027-04-15", "2027-04-15"),
    ]
    # medium, amounts and looks follow from `lies: warm`: they are those of other warm lots
    for part in ("medium", "layout", "checks", "sowing", "expectation"):
        assert recipe[part] == before[part], part
    assert recipe["medium"]["litres"] > 0
    assert recipe["hold"] is None or recipe["hold"] != before["hold"]  # waits_from: none, it does not wait
    undated, recipe = ask("Exemplum tepidum", ready, library, seeds=40)  # 15 April is taken
    assert "for 3 days; sow on 15 April 2027." in undated
    assert unchanged(ready, {"keep_warm_briefly"}) > 50


def test_a_route_without_its_verdict_is_said(rules: Path) -> None:
    """A route that no table of verdicts is asked for would have a page without its first sentence."""
    edit(rules, *ROUTE)
    done = check(rules)
    assert done.exit_code == 1
    assert (
        "route: for the answer 'keep_warm_briefly' none of verdict, verdict_outdoors, verdict_indoors, "
        "verdict_sown is asked [contract]\n  Name it in 'applies' of exactly one of them.\n"
    ) in done.output
    assert done.output.endswith("\n1 fault\n")


NUTS = "  - rule: nut-sized seed in layers\n"
PAIL_RULES: tuple[Edit, ...] = (
    ("medium.yaml", "given: [has_sand, ", "given: [seeds, has_sand, "),
    ("medium.yaml", "  towel_roll:\n", """  pail:
    says: layers of damp medium in a lidded pail
    packs: layers
    medium_per_seed: 0
    first_look_days: 10
    holder: bag
    after_layers: no
  towel_roll:
"""),
    ("medium.yaml", NUTS, """  - rule: a handful of nuts in a pail
    when: {volume_lot: no, seeds: up to 12}
    choose: pail
    because: A pail does not tip over, and a handful is soon looked through.
""" + NUTS),
)  # fmt: skip
PAIL_ELSEWHERE: tuple[Edit, ...] = (
    ("layout.yaml", "{medium: bag, one_layer: yes}", "{medium: [bag, pail], one_layer: yes}"),
    ("layout.yaml", "    when: {medium: bag}\n", "    when: {medium: [bag, pail]}\n"),
    ("closure.yaml", "answers:\n", "answers:\n  lid_ajar: Lay the lid on and leave it ajar.\n"),
    ("closure.yaml", "  - rule: tray in a bag", """  - rule: pails
    when: {medium: pail}
    choose: lid_ajar
    because: Seed breathes even in the cold, slowly.
  - rule: tray in a bag"""),
    *(("wetness.yaml", "[bag, bag_mix,", "[bag_, pail, bag_mix,") for _ in range(3)),
    *(("wetness.yaml", "bag_,", "bag,") for _ in range(3)),
)  # fmt: skip


def test_a_form_of_medium_with_a_known_way_of_packing(rules: Path) -> None:
    edit(rules, *PAIL_RULES)
    done = check(rules)
    assert done.exit_code == 1
    for table in ("closure", "wetness"):  # `unique` tables name the medium: the check says what they lack
        assert f"{table}: no rule holds for a lot with medium: pail" in done.output
    edit(rules, *PAIL_ELSEWHERE)
    ready = tables(rules)
    said = {"seeds": 9, "moisture": "dried", "container": "200x150x100", "sow": "2027-04-15"}
    _, before = ask("peach", None, **said)
    page, recipe = ask("peach", ready, **said)
    assert (before["medium"]["form"], recipe["medium"]["form"]) == ("bag", "pail")
    assert recipe["verdict"] == before["verdict"]
    assert steps(recipe) == steps(before)
    assert "Layers of damp medium in a lidded pail: horticultural vermiculite." in page
    assert "Closed Lay the lid on and leave it ajar." in page
    for amount in ("litres", "water_ml", "containers", "container_says", "space_litres", "material"):
        assert recipe["medium"][amount] == before["medium"][amount], amount
    for number in ("pitch_mm", "layers", "per_layer", "dimensions_mm"):
        assert recipe["layout"][number] == before["layout"][number], number
    assert recipe["layout"]["layers"] * recipe["layout"]["per_layer"] >= 9 / recipe["medium"]["containers"]
    # its own first look, ten days after the cold began; two weeks from then on
    cold = next(date.fromisoformat(s["start"]) for s in recipe["steps"] if s["do"] == "cold_moist")
    assert recipe["checks"]["dates"][:2] == [str(cold + timedelta(days=n)) for n in (10, 24)]
    _, many = ask("peach", ready, **{**said, "seeds": 13})
    assert many["medium"]["form"] == "bag_mix"
    assert unchanged(ready, {"pail"}) > 40


RINSE: tuple[Edit, ...] = (
    ("preparation.yaml", "swollen, medium, cutting,", "swollen, medium, gathered, cutting,"),
    ("preparation.yaml", "  soak:\n", """  rinse:
    says: Rinse it in clear water until no soil comes off.
    do: clean
    when: first
    under_way: again
    takes: moment
  drain:
    says: Drain it in a sieve before it goes into its bag.
    do: dry_back
    when: before_bag
    under_way: again
    takes: moment
  soak:
"""),
    ("preparation.yaml", "  - rule: bare kernels\n", """  - rule: soil on the seed
    when: {gathered: ground_autumn}
    add: rinse
    because: Soil brings rot.
  - rule: drained after the soak
    when: {gathered: ground_autumn, medium: bag}
    add: drain
    because: The rinsing leaves it dripping.
  - rule: bare kernels
"""),
)  # fmt: skip


def test_a_step_of_preparation(rules: Path) -> None:
    edit(rules, *RINSE)
    ready = tables(rules)
    said = {"seeds": 7, "moisture": "dried", "gathered": "ground_autumn", "sow": "2027-04-15"}
    _, before = ask("peach", None, **said)
    page, recipe = ask("peach", ready, **said)
    cold = next(step for step in steps(recipe) if step[0] == "cold_moist")
    old, new = steps(before), steps(recipe)
    # the first thing to do, and the last before the bag is closed, on the day on which the cold begins
    assert new.index(("clean", None, None)) < next(n for n, s in enumerate(new) if s[0] in ("hold", "soak"))
    assert new[new.index(cold) - 1] == ("dry_back", cold[1], cold[1])
    assert [step for step in new if step[0] not in ("clean", "dry_back")] == old
    assert "Rinse it in clear water until no soil comes off." in page
    assert "Drain it in a sieve before it goes into its bag." in page
    _, again = ask("peach", ready, **said, cold_days_done=30)
    assert {"clean", "dry_back"} <= {step[0] for step in steps(again)}  # under_way: again
    _, sweet = ask("peach", ready, **{**said, "gathered": "ripe"})
    assert not {"clean", "dry_back"} & {step[0] for step in steps(sweet)}
    assert unchanged(ready, {"rinse"}) > 50
