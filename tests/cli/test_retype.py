"""What an error says to type keeps what was typed; days, schemas and genera as people ask for them."""

from __future__ import annotations

import json
import re
import shlex
from datetime import date, timedelta
from pathlib import Path

import pytest

from coldspell.cli.main import main
from coldspell.cli.retype import with_options
from coldspell.cli.schema import SCHEMAS
from coldspell.cli.today import the_day
from coldspell.errors import ColdspellError
from coldspell.library.load import load_library, shipped_dirs

SCHEMA_FILES = Path(__file__).parents[2] / "docs" / "schemas"


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("recipe chestnut --seeds 5 --cut 8/10", "coldspell recipe Castanea --seeds 5 --cut 8/10   "),
        ("chestnut --seeds 5", "coldspell recipe Castanea --seeds 5   "),
        ("trial chestnut --seeds 60", "coldspell trial Castanea --seeds 60   "),
        ("trouble chestnut --what mould", "coldspell trouble Castanea --what mould   "),
        ("recipe red oak dried --seeds 5", 'coldspell recipe "red oak" --moisture dried --seeds 5'),
        ("recipe red ooak --seeds 5", 'coldspell recipe "red oak" --seeds 5'),
        ("recipe --seeds 5 chestnut", "coldspell recipe Castanea --seeds 5   "),
        ("page export x --only chestnut", "coldspell page export x --only Castanea   chestnut"),
        ("page export x --only aple --jobs 2", "coldspell page export x --only apple --jobs 2"),
        ("page export x --only apple --only=chestnut", "x --only apple --only=Castanea   chestnut"),
        ("recipe red oak dried --moisture fresh", 'coldspell recipe "red oak" --moisture dried'),
    ],
)
def test_what_to_type_keeps_command_and_options(
    typed: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    if typed.startswith("page"):
        pytest.importorskip("jinja2", reason="type: uv run --all-groups pytest (the group surfaces)")
    assert main(typed.split()) == 2
    assert any(f"{line.strip()} ".find(says.rstrip()) >= 0 for line in capsys.readouterr().err.splitlines())


def test_what_to_type_can_be_typed(capsys: pytest.CaptureFixture[str]) -> None:
    """A value with blanks is quoted; sentences that hold a command keep their words."""
    mend = with_options(
        "type a name in letters, as: coldspell recipe red oak\n    coldspell recipe Castanea   chestnut",
        ["recipe", "chestnut", "--place", "New York", "--lot=my lot.yaml"],
    )
    first, second = mend.splitlines()
    assert first.endswith("coldspell recipe red oak")
    assert second.endswith('coldspell recipe Castanea --place "New York" --lot="my lot.yaml"   chestnut')
    assert with_options(second, ["recipe", "--seeds", "5", "chestnut"]) == second
    for said in ("see all options: coldspell recipe --help", "type as: coldspell recipe red oak --seeds 40"):
        assert with_options(said, ["recipe", "apple", "--bogus"]) == said


@pytest.mark.parametrize(
    "typed", ["page export x --only {}", "trouble {}", "trial {}", "sheet {}", "species show {}", "recipe {}"]
)
@pytest.mark.parametrize("name", ["aple", "Qqqq", "chestnut"])
def test_no_advice_names_another_command(
    typed: str, name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What a refused name is mended with is the command at hand, or the list of what is on record."""
    monkeypatch.chdir(tmp_path)
    words = typed.format(name).split()
    assert main(words) == 2
    advised = re.findall(r"coldspell (?!species find)[a-z]+", capsys.readouterr().err)
    assert {*advised} <= {f"coldspell {words[0]}"}, advised


def test_options_of_a_table_want_one(capsys: pytest.CaptureFixture[str]) -> None:
    """They stand in the list of options of the command: that there is no such option would be wrong."""
    assert main(["recipe", "apple", "--seeds", "5", "--decimal-comma"]) == 2
    assert "--decimal-comma says how a table of lots is written" in capsys.readouterr().err


def test_today_is_said_as_other_days_are() -> None:
    assert the_day("tomorrow") == date.today() + timedelta(days=1)
    assert the_day("20270415") == date(2027, 4, 15)
    for wrong in ("soon", "2026-13-01", "2026-1"):
        with pytest.raises(ColdspellError, match="--today"):
            the_day(wrong)


@pytest.mark.parametrize("name", SCHEMAS)
def test_a_schema_is_printed_as_published(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Also where only the wheel is installed, which has no docs."""
    assert main(["schema", name]) == 0
    published = sorted(SCHEMA_FILES.glob(f"{name}-[0-9].json"))[-1]
    assert json.loads(capsys.readouterr().out) == json.loads(published.read_text("utf-8"))


def test_a_schema_that_is_none_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema", "recipes"]) == 2
    assert "'recipe'" in capsys.readouterr().err
    assert main(["schema"]) == 0
    assert [line.split()[0] for line in capsys.readouterr().out.splitlines()] == [*SCHEMAS]


def test_a_genus_says_that_it_answers_for_all_of_it(capsys: pytest.CaptureFixture[str]) -> None:
    library = load_library(shipped_dirs())
    whole = [one for one in library.names if " " not in one and library.get(one).asks is None]
    for typed, genus in (("beech", "Fagus"), *((one, one) for one in whole[:3])):
        assert main(["recipe", typed, "--today", "2026-11-30", "--no-settings", "--format", "json"]) == 0
        note = json.loads(capsys.readouterr().out)["species"]["note"]
        assert f"for {genus} as a whole" in note
        named = [one for one in library.members(genus) if " " in one and one in note]
        assert len(named) == min(6, len(library.members(genus)) - 1)
    assert main(["recipe", "Fagus sylvatica", "--no-settings", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["species"]["note"] == ""


@pytest.mark.parametrize(
    ("typed", "plants"),
    [
        ("red oak --what mould", ["Quercus rubra"]),
        ("walnut --what mould", ["Juglans"]),
        ("hazelnut --what mould", ["Corylus avellana", "Corylus americana"]),
        ("maple --what dry", ["Acer"]),
    ],
)
def test_the_page_that_a_trouble_names_can_be_asked_for_as_it_stands(
    typed: str, plants: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """Every fact that was said stands in it, --what does not, and each command is one line that runs."""
    said = ["--seeds", "30", "--mould", "kernel", "--place", "New South Wales", "--southern", "--no-fridge"]
    said += ["--medium", "sand", "--medium", "peat", "--today", "2026-11-30", "--no-settings"]
    assert main(["trouble", *typed.split(), *said]) == 0
    lines = [line.strip() for line in capsys.readouterr().out.splitlines()]
    commands = [shlex.split(line) for line in lines if line.startswith("coldspell recipe")]
    assert {one[2] for one in commands} >= set(plants)
    for command in commands:
        assert main([*command[1:], "--format", "json"]) == 0
        told = json.loads(capsys.readouterr().out)["lot"]["said"]
        assert (told["seeds"], told["mould"], told["place"]) == (30, "kernel", "New South Wales")
        assert (told["southern"], told["refrigerator"], told["medium"]) == (True, "none", ["sand", "peat"])


def test_with_a_name_the_trouble_keeps_its_words(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trouble", "--what", "dry", "--seeds", "20", "--place", "New South Wales"]) == 0
    typed = 'coldspell trouble NAME --what dry --seeds 20 --place "New South Wales"'
    assert typed in [line.strip() for line in capsys.readouterr().out.splitlines()]
