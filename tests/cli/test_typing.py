"""What people type: names without quotation marks, slips, degrees, far years, bytes that are no text."""

from __future__ import annotations

import json
import os
import random
import re
import string
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from coldspell.cli.complete import next_words
from coldspell.cli.line_schemas import error_schema
from coldspell.cli.main import main
from coldspell.cli.program import COMMANDS, EXAMPLES, made
from coldspell.cli.typing import meant
from coldspell.library.load import load_library, shipped_dirs

FUZZ = int(os.environ.get("COLDSPELL_FUZZ", "60"))


@pytest.mark.parametrize(
    "typed",
    [["recipe", "northern", "red", "oak"], ["northern", "red", "oak"], ["northern red oak"],
     ["recipe", "--seeds", "40", "northern", "red", "oak"], ["Stieleiche"], ["pommier", "--seeds", "9"]],
)  # fmt: skip
def test_names_need_no_quotation_marks_and_no_command(
    typed: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*typed, "--today", "2026-11-30"]) == 0
    assert "Printed 30 November 2026" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (["reciepe", "red", "oak"], "coldspell recipe red oak"),
        (["northrn", "red", "oak"], 'coldspell recipe "northern red oak"'),
        (["chestnut"], "coldspell recipe Castanea"),
        (["recipe"], "coldspell recipe red oak"),
        (["recipe", "oak", "--moistur", "fresh"], "--moisture"),
        (["recipe", "oak", "--fridge-celsius", "40"], "40 °F is 4.4 °C: write 40F"),
        (["recipe", "oak", "--sow", "2927-04-15"], "write a year from 1950 to 2200"),
        (["recipe", "oak", "--sow", "0227-04-15"], "write a year from 1950 to 2200"),
        (["recipe", "oak", "--collected", "1016-10-12"], "write a year from 1950 to 2200"),
        (["recipe", "oak", "--today", "9999-06-01"], "write a year from 1950 to 2200"),
        (["recipe", "oak", "--seeds", "nan"], "1 to 1,000,000,000 seeds"),
        (["recipe", "oak", "--kilograms", "inf"], "0.000001 to 1,000,000 kilograms"),
        (["recipe", "Quercus rubra\udcff"], "no text"),
        (["recipe", "oak", "--place", "a\ud800"], "no text"),
        (["recipe", "oak", "--lot", "/dev/zero"], "not a file"),
        (["recipe", ""], "type a name in letters"),
        (["recipe", "🌰"], "type a name in letters"),
        (["recipe", "20270415"], "type a name in letters"),
        (["recipe", "apple", "Honeycrisp"], "coldspell recipe \"apple 'Honeycrisp'\""),
        (["recipe", "Honeycrisp", "apple"], "coldspell recipe \"apple 'Honeycrisp'\""),
        (["recipe", "oak", "--today", "0001-06-01"], "--today: the year 1"),
        (["species", "new", "corylus heterophylla", "--into", "x"], "a capital: Corylus heterophylla"),
        (["count", "bed", "--area", "inf", "--density", "100"], "write it in digits"),
        (["count", "seeds", "--seeds-per-kg", "5e-324", "--seeds", "3.7", "--purity", "0.5"], "in digits"),
    ],
)  # fmt: skip
def test_a_slip_is_refused_with_what_to_type(
    typed: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Rows of reliability.md (B1, B2, C) and newcomers.md (10, 19, 20) with sister slips."""
    assert main(typed) == 2
    told = capsys.readouterr()
    assert says in told.err
    assert told.out == ""


def test_a_lot_file_that_is_no_text_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """reliability.md (C): a byte that is not UTF-8 was replaced in JSON, and refused in YAML."""
    for name, content in (("lot.json", b'{"place": "\xff"}'), ("lot.yaml", b'place: "\xff"\n')):
        (tmp_path / name).write_bytes(content)
        assert main(["recipe", "oak", "--lot", str(tmp_path / name)]) == 2
        assert "UTF-8" in capsys.readouterr().err


def test_a_long_path_is_not_said_in_full(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["recipe", "oak", "--lot", "/".join(["folder"] * 200)]) == 2
    assert len(capsys.readouterr().err) < 500


def test_what_is_found_is_not_taken_for_what_was_looked_for(capsys: pytest.CaptureFixture[str]) -> None:
    """newcomers.md (20): seven other pines, and no word that the one asked for is not there."""
    for name, told in (("Pinus zzyzx pine", True), ("Pinus mugo", False), ("pine", False)):
        assert main(["species", "find", name]) == 0
        assert ("no record is called" in capsys.readouterr().err) is told, name


@pytest.mark.parametrize("command", [["sheet"], ["species", "show"], ["rules", "show"]])
def test_a_name_of_several_words_needs_no_quotation_marks(
    command: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    if command == ["sheet"]:
        pytest.importorskip("segno", reason="the group surfaces is not installed")
    name = "small seed in a towel" if command[0] == "rules" else "northern red oak"
    more = ["-o", str(tmp_path / "a.html"), "--today", "2026-10-12"] if command == ["sheet"] else []
    assert main([*command, *name.split(), *more]) == 0
    apart = capsys.readouterr().out
    assert main([*command, name, *more]) == 0
    assert capsys.readouterr().out == apart


@pytest.mark.parametrize(("typed", "same"), [("40F", "4.4"), ("40 °F", "4.4"), ("4C", "4"), ("5 °C", "5")])
def test_degrees_may_be_typed_with_their_letter(
    typed: str, same: str, capsys: pytest.CaptureFixture[str]
) -> None:
    pages = []
    for one in (typed, same):
        assert main(["recipe", "apple", "--today", "2026-11-30", "--fridge-celsius", one]) == 0
        pages.append(capsys.readouterr().out)
    assert pages[0] == pages[1]


@pytest.mark.parametrize("form", [["--format", "json"], ["--format=json"]])
def test_an_error_is_json_where_the_answer_would_be(
    form: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["recipe", "chestnut", *form]) == 2
    told = capsys.readouterr()
    found = json.loads(told.err)
    assert found["schema"] == "coldspell/error/1"
    assert found["error"].keys() == {"what", "where", "mend", "exit_code", "candidates"}
    assert "Castanea" in found["error"]["candidates"]
    schema = Draft202012Validator(error_schema())
    assert schema.is_valid(found)
    assert not schema.is_valid({**found, "error": {**found["error"], "exit_code": 0}})
    assert told.out == ""


@pytest.mark.parametrize("typed", [["-h"], *([*name.split(), "-h"] for name in EXAMPLES)])
def test_help_is_had_by_a_letter_and_ends_with_two_examples(
    typed: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(typed) == 0
    told = capsys.readouterr().out
    assert told.count("coldspell ") >= (1 if typed == ["-h"] else 3)


def test_a_shell_is_offered_the_next_word_of_a_name() -> None:
    library = load_library(shipped_dirs())
    assert "oak" in next_words(library, ["northern", "red"], "")
    assert next_words(library, ["Quercus"], "rubr") == ["rubra"]
    assert "hêtre" in next_words(library, [], "hê")
    assert next_words(library, [], "q") == []


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("recipe apple --moisture ", ["fresh", "dried"]),
        ("recipe apple --format j", ["json"]),
        ("recipe apple --as ", ["message"]),
        ("recipe --table x", ["xlsx"]),
        ("trouble apple --what s", ["smell", "sprouts"]),
        ("season lots.csv --label-form ", ["bag", "pot"]),
        ("season lots.csv --look-day w", ["wednesday"]),
        ("sheet apple --paper a", ["a4"]),
        ("choose --format c", ["csv"]),
        ("settings set un", ["units"]),
        ("species check --explain stale", ["stale-law"]),
        ("species check --format s", ["sarif"]),
        ("rules check --explain dead", ["dead-row"]),
        ("spec", ["species"]),
    ],
)
def test_a_shell_is_offered_the_words_that_may_stand_there(
    line: str, offered: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    words = f"coldspell {line}".split(" ")
    monkeypatch.setenv("_COLDSPELL_COMPLETE", "complete_bash")
    monkeypatch.setenv("COMP_WORDS", f"coldspell {line}")
    monkeypatch.setenv("COMP_CWORD", str(len(words) - 1))
    main([])
    assert capsys.readouterr().out.split() == offered


@pytest.mark.parametrize("path", [path for path in COMMANDS if path != "page"])
def test_every_option_with_a_choice_of_words_offers_them(path: str) -> None:
    """Of what stands in help as a|b|c each word is offered where it is typed."""
    for leaf in _leaves(made([path, "--help"]).commands[path]):
        for option in leaf.params:
            shown = str(getattr(option, "metavar", None) or "")
            if re.fullmatch(r"[a-z_]+(\|[a-z_…]+)+", shown):
                assert option._custom_shell_complete is not None, (path, leaf.name, option.opts)


def _leaves(command: Any) -> Iterator[Any]:
    if hasattr(command, "commands"):
        for one in command.commands.values():
            yield from _leaves(one)
    else:
        yield command


_RAW = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
_PIECES = [
    "recipe", "count", "species", "find", "show", "rules", "oak", "apple", "--seeds", "--sow", "--format",
    "json", "--lot", "--today", "2927-01-01", "2026-11-30", "-1", "inf", "nan", "1e309", "--cut", "8/10",
    "0/0", "--fridge-celsius", "400", "--place", "\x1b[31m", "\u202eoak", "\udcff", "", "--", "-h", "🌰",
    "plants", "--want", "live", "pack", "bed", "cells", "--area", "dates", "--bag", "1e308x1e308", "=", "--=",
]  # fmt: skip


@pytest.mark.parametrize("turn", range(FUZZ))
def test_any_arguments_are_answered_or_refused_kindly(turn: int, capsys: pytest.CaptureFixture[str]) -> None:
    """Never a traceback or an internal fault, and nothing raw on the terminal; more with COLDSPELL_FUZZ."""
    draw = random.Random(f"arguments {turn}")
    typed = draw.choices(_PIECES, k=draw.randint(1, 7))
    if draw.random() < 0.3:
        typed[-1] = "".join(draw.choices(string.printable + "é×ß\u2066\u0000", k=draw.randint(1, 20)))
    code = main(typed)
    told = capsys.readouterr()
    assert code in (0, 1, 2), (typed, told.err)
    assert _RAW.search(told.out + told.err) is None, typed
    assert code != 2 or told.err.strip(), typed


@pytest.mark.parametrize(
    ("typed", "meant_"),
    [
        (["recipe", "red oak", "--children", "yes"], ["recipe", "red oak", "--children"]),
        (["recipe", "red oak", "--children", "no", "--seeds", "9"], ["recipe", "red oak", "--seeds", "9"]),
        (["recipe", "red oak", "--animals=Yes"], ["recipe", "red oak", "--animals"]),
        (["recipe", "red oak", "--unsure=false"], ["recipe", "red oak"]),
        (["recipe", "red oak", "--frozen", "yes"], ["recipe", "red oak", "--frozen", "yes"]),
        (["recipe", "--children", "red", "oak"], ["recipe", "--children", "red", "oak"]),
        (["settings", "set", "note", "yes"], ["settings", "set", "note", "yes"]),
    ],
)
def test_an_option_without_value_takes_yes_and_no(typed: list[str], meant_: list[str]) -> None:
    assert meant(typed, COMMANDS) == meant_


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (["recipe", "red", "oak", "--seed", "40"], "type --seeds in place of --seed; or"),
        (["recipe", "red oak", "--moistur=dried"], "type --moisture in place of --moistur;"),
        (["recipe", "red oak", "--fridge", "40F"], "see all options: coldspell recipe --help\n"),
        (["I", "have", "acorns"], "type: coldspell recipe acorns\n"),
        (["I", "have", "walnuts"], "type: coldspell recipe walnuts\n"),
    ],
)
def test_a_slip_is_mended_by_a_line_to_type(
    typed: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(typed) == 2
    assert says in capsys.readouterr().err
