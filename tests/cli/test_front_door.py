"""What two fresh readers met at the front door of the installed program; each was wrong before.

The names are common ones; how words beside a name are taken is our own choice.
"""

from __future__ import annotations

import json
from datetime import date, datetime
from pathlib import Path

import pytest

import coldspell
from coldspell.cli.main import main
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.library.names import Found, Missing, Several, look_up
from coldspell.library.unrecorded import unrecorded
from coldspell.lot.read import check_fact
from coldspell.settings.file import read_settings

DAY = "2026-11-30"


@pytest.fixture(scope="module")
def shipped() -> Library:
    return load_library(shipped_dirs())


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "config" / "settings.yaml"
    monkeypatch.setenv("COLDSPELL_SETTINGS", str(path))
    return path


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("red oak —moisture dried", "type --moisture"),
        ("red oak –moisture dried", "type --moisture"),
        ("red oak dried", '"red oak" --moisture dried'),
        ("red oak frozen", '"red oak" --frozen yes'),
        ("white oak mouldy", '"white oak" --mould shell'),
        ("Persian walnut roasted", '"Persian walnut" --heated yes'),
        ("sweet chestnut aus dem Supermarkt", '"sweet chestnut" --gathered bought'),
        ("red oak seeds 40", "--seeds 40"),
        ("Quercus rubra frozen", '"Quercus rubra" --frozen yes'),
        ("QUERCUS RUBRA FROZEN", "--frozen yes"),
        ("Quercus novissima dried", '"Quercus novissima" --moisture dried'),
        ("Roteiche getrocknet", "Roteiche --moisture dried"),
        ("tulip bulbs", "about seed alone"),
        ("Dahlia tubers", "about seed alone"),
        ("willow cuttings", "about seed alone"),
        ("oak seedlings", "about seed alone"),
        ("walnuts from my garden", "coldspell recipe walnuts"),
        ("walnut Franquette", "coldspell recipe \"walnut 'Franquette'\""),
        ("beech hedge", "coldspell recipe beech"),
        ("Quercus rubrum", "Quercus rubra"),
        ("accorn", "coldspell recipe acorn"),
    ],
)
def test_no_word_behind_a_name_is_let_go(typed: str, says: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(coldspell.ColdspellError) as told:
        coldspell.recipe(typed, today=date(2026, 11, 30))
    assert says in str(told.value)
    assert main(["recipe", *typed.split(), "--today", DAY]) == 2
    assert says in capsys.readouterr().err


@pytest.mark.parametrize("typed", ["daffodil bulbs", "Eiche frisch", "Tulip Bulbs", "Castanea aus"])
def test_no_kind_is_made_of_common_words(shipped: Library, typed: str) -> None:
    assert isinstance(look_up(shipped, typed), Missing)
    assert unrecorded(shipped, typed) is None


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("glands de chêne", "Quercus"), ("acorns of red oak", "Quercus rubra"),
        ("acorns red oak", "Quercus rubra"),
        ("Apfelkerne", "Malus × domestica"), ("Pfirsichkerne", "Prunus persica"), ("Eiche Samen", "Quercus"),
        ("noyau de pêche", "Prunus persica"), ("pépins de pomme", "Malus × domestica"),
        ("noyau d'abricot", "Prunus armeniaca"),
    ],
)  # fmt: skip
def test_what_is_handled_may_stand_before_a_name_or_in_it(shipped: Library, typed: str, name: str) -> None:
    found = look_up(shipped, typed)
    assert isinstance(found, Found), found
    assert found.record.name == name


@pytest.mark.parametrize("typed", ["Kirschkerne", "cherry stones", "Walnusskerne"])
def test_several_or_what_lies_in_a_shell_is_a_question(shipped: Library, typed: str) -> None:
    """A "Kern" of a nut is what lies in its shell, no seed with its shell on."""
    assert isinstance(look_up(shipped, typed), Several)


def test_a_capital_behind_a_botanical_name_is_an_author_or_said_to_be_a_variety(shipped: Library) -> None:
    found = look_up(shipped, "Juglans regia Franquette")
    assert isinstance(found, Found)
    assert (found.record.name, found.variety) == ("Juglans regia", "Franquette")
    for author in ("L.", "Marshall", "(L.) Batsch", "Siebold ex Zucc.", "E.Murray", "L. 1753"):
        assert shipped.beside.split_behind(author.split()) == ("", ""), author


def test_every_option_that_a_refusal_names_is_one(shipped: Library) -> None:
    for option in {*shipped.beside.options.values()}:
        fact, value = option.removeprefix("--").split(" ")
        if not value.isupper():
            check_fact(fact.replace("-", "_"), value)


def test_a_setting_that_cannot_be_used_is_not_kept(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["settings", "set", "fridge_celsius", "39"]) == 2
    assert "write 39F" in capsys.readouterr().err
    assert main(["settings", "set", "office_folder", "off"]) == 2
    assert "settings unset office_folder" in capsys.readouterr().err
    assert not home.exists()
    assert main(["settings", "set", "fridge_celsius", "39F"]) == 0
    assert main(["settings", "set", "units", "US"]) == 0
    monkeypatch.setenv("HOME", str(tmp_path))
    (tmp_path / "desk").mkdir()
    assert main(["settings", "set", "office_folder", "~/desk"]) == 0
    kept = {"units": "us", "fridge_celsius": 3.9, "office_folder": str(tmp_path / "desk")}
    assert read_settings() == kept
    assert coldspell.Library(office="~/desk").office is not None
    (tmp_path / "desk").rmdir()
    capsys.readouterr()
    assert main(["recipe", "apple", "--today", DAY]) == 2
    assert str(home) in capsys.readouterr().err
    assert main(["settings", "unset", "office_folder"]) == 0
    assert main(["settings", "set", "units", "''"]) == 0
    assert read_settings() == {"fridge_celsius": 3.9}


def test_a_fault_of_a_setting_names_its_file(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home.parent.mkdir()
    home.write_text("fridge_celsius: 39\n", "utf-8")
    assert main(["recipe", "apple", "--today", DAY]) == 2
    assert str(home) in capsys.readouterr().err


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (["recipe", "apple", "--seeds", "1.000"], "1000 or a fraction"),
        (["recipe", "apple", "--seeds", "1,000"], "1000 or a fraction"),
        (["recipe", "red oak", "--collected", "2027-10-12"], "2026-10-12"),
        (["trouble", "apple", "--format", "json"], "--what"),
        (["count", "plants", "--want", "20", "--germination", "0.85"], "write 85"),
        (["recipe", "--lots", "lots.csv", "--date-format", "dd.mm.yyyy"], "%d.%m.%Y"),
    ],
)
def test_what_can_be_read_in_two_ways_is_asked_about(
    typed: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    more = ["--today", DAY] if typed[0] in ("recipe", "trouble") else []
    assert main([*typed, *more]) == 2
    told = capsys.readouterr()
    assert says in told.err
    assert told.out == ""


@pytest.mark.parametrize(
    "typed",
    [["help"], ["version"], ["help", "recipe"], ["trouble", "peach", "--what", "Schimmel"],
     ["recipe", "peach", "--mold", "shell"], ["recipe", "'red oak'"]],
)  # fmt: skip
def test_what_people_type_is_answered(typed: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(typed) == 0
    assert capsys.readouterr().out


def test_an_error_for_programs_names_the_candidates(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["recipe", "accorn", "--format", "json"]) == 2
    assert json.loads(capsys.readouterr().err)["error"]["candidates"][0] == "acorn"


def test_python_takes_days_as_text_and_moments_and_raises_the_one_error() -> None:
    pages = [
        coldspell.recipe("apple", today=day) for day in (DAY, datetime(2026, 11, 30, 8), date(2026, 11, 30))
    ]
    assert pages[0] == pages[1] == pages[2]
    for wrong in (None, 3):
        with pytest.raises(coldspell.ColdspellError):
            coldspell.recipe(wrong, today=DAY)  # type: ignore[arg-type]
    with pytest.raises(coldspell.ColdspellError):
        coldspell.recipe("apple", today=7)  # type: ignore[arg-type]
    found = list(coldspell.plans([{"name": "apple"}, "pear", None], today=DAY))  # type: ignore[list-item]
    assert [isinstance(one, coldspell.ColdspellError) for one in found] == [False, True, True]
    assert "recipe" in dir(coldspell)


def test_a_setting_of_a_season_takes_a_day_as_text() -> None:
    from coldspell.season.planning import Planner, Setting

    assert Planner(Setting(DAY)).setting.today == date(2026, 11, 30)  # type: ignore[arg-type]
