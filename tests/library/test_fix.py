"""``coldspell species check --fix``: what is mended, what is left, and that no file is ever half written."""

from __future__ import annotations

import os
import random
import stat
from pathlib import Path

import pytest
from typer.testing import CliRunner

from coldspell import shipped
from coldspell.check import fix
from coldspell.cli.species import app
from coldspell.errors import ColdspellError
from coldspell.library.files import NOT_RECORDS, walk
from coldspell.yaml import document

HEAD = "name: Exemplum arboreum\nfamily: Exemplaceae\nrank: species\nplant: shrub\nunit: seed\n"


def fixed(text: str, name: str = "record.yaml") -> tuple[str, tuple[str, ...]]:
    return fix.fix_bytes(text.encode(), name, "f")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("{do: sow, need: required}", "{do: sow}"),
        ("{do: sow, need: required, until: ready}", "{do: sow}"),
        ("{need: required, until: ready, do: sow}", "{do: sow}"),
        ("{ need: required , do: sow }", "{ do: sow }"),
        ("{do: sow, need: optional, until: rooted}", "{do: sow, need: optional, until: rooted}"),
        ('{do: sow, need: "required"}', '{do: sow, need: "required"}'),
        ('{do: sow, note: "need: required"}', '{do: sow, note: "need: required"}'),
        ("{do: sow,\n         need: required}", "{do: sow}"),
        ("do: sow\n        need: required\n        until: ready", "do: sow"),
        ("do: sow\n        need: required  # why", "do: sow\n        need: required  # why"),
        ("need: required\n        do: sow", "need: required\n        do: sow"),
    ],
)  # fmt: skip
def test_a_default_that_is_written_out_goes(before: str, after: str) -> None:
    frame = "schema: 2\n" + HEAD + "treatments:\n  - name: a  # why\n    steps:\n      - {}\n    cite: []\n"
    text, done = fixed(frame.replace("{}", before))
    assert text == frame.replace("{}", after)
    assert bool(done) == (before != after)


def test_the_version_is_written_once_and_only_into_valid_records() -> None:
    head = "# yaml-language-server: $schema=https://coldspell.example/schemas/record-1.json\n# note\n"
    new = head.replace("record-1", "record-2") + "schema: 2\n" + HEAD
    assert fixed(head + HEAD) == (new, ("wrote 'schema: 2'",))
    assert fixed(head + "schema: 1\n" + HEAD)[0] == new
    assert fixed(new) == (new, ())
    wrong = HEAD + "colour: red\n"
    assert fixed(wrong) == (wrong, ())
    assert fixed("{" + HEAD.strip().replace("\n", ", ") + "}\n")[1] == ()


def test_spaces_and_line_ends() -> None:
    text, done = fixed("schema: 2  \n" + HEAD.rstrip())
    assert text == "schema: 2\n" + HEAD
    assert len(done) == 2
    windows = ("\ufeff" + "schema: 2\n" + HEAD).replace("\n", "\r\n").encode()
    assert fix.fix_bytes(windows, "record.yaml", "f").text == "schema: 2\n" + HEAD
    block = "schema: 2\n" + HEAD + "author: |\n  one  \n  two\n"
    assert fixed(block) == (block, ())  # there they are part of the text


def test_sources_are_sorted_with_their_comments() -> None:
    text = "# head\n- id: b\n  title: B\n# on a\n- {id: a, title: A}\n# end\n"
    text, done = fixed(text, "bibliography.yaml")
    assert text == "# head\n# on a\n- {id: a, title: A}\n# end\n- id: b\n  title: B\n"
    assert done == ("sorted the sources by id",)
    assert fixed(text, "bibliography.yaml") == (text, ())


def test_what_is_no_yaml_is_left_alone() -> None:
    assert fixed("a: [1  \n") == ("", ())
    assert fix.fix_bytes(b"a: \xff  \n", "record.yaml", "f") == ("", ())


@pytest.mark.long
def test_every_tenth_record_says_the_same_afterwards_and_twice_is_once() -> None:
    for name, path in list(walk(shipped.find("species")))[::10]:
        data = path.read_bytes()
        text = fix.fix_bytes(data, name, name).text
        assert fix.fix_bytes(text.encode(), name, name) == (text, ())
        before, after = (document.plain(document.parse(one, name)) for one in (data.decode(), text))
        if name in NOT_RECORDS:
            assert before == after
            continue
        assert after.pop("schema") == 2
        before.pop("schema", None)
        for treatment in before.get("treatments", ()):
            for step in treatment["steps"]:
                for key, word in fix.DEFAULTS:
                    if step.get(key) == word:
                        del step[key]
        assert before == after
        assert _remarks(data.decode()) == _remarks(text)


def _remarks(text: str) -> list[str]:
    """The remarks of a record, without the line that names its schema."""
    lines = [line for line in text.splitlines() if line.startswith("# ")]
    return [line for line in lines if "record-1" not in line and "record-2" not in line]


def test_a_file_with_random_blanks_is_mended_to_the_same() -> None:
    rng = random.Random(5)
    good = "schema: 2\n" + HEAD
    for _ in range(50):
        lines = [line + " " * rng.randrange(3) for line in good.splitlines()]
        assert fixed("\n".join(lines) + "\n" * rng.randrange(3))[0] == good


def test_the_command_says_what_it_did_and_mends_in_place(tmp_path: Path) -> None:
    folder = tmp_path / "exemplum"
    folder.mkdir()
    file = folder / "exemplum-arboreum.yaml"
    file.write_text(HEAD + "treatments:\n  - {name: a, steps: [{do: sow, need: required}], cite: a}\n"
                    "cites: {a: {basis: practice}}\n")  # fmt: skip
    file.chmod(0o640)
    result = CliRunner().invoke(app, ["check", "--fix", str(tmp_path)])
    assert result.exit_code == 0, result.output
    assert "left out 'need: required'" in result.stderr
    assert "wrote 'schema: 2'" in result.stderr
    assert "1 record checked: 0 errors" in result.stdout
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    assert os.listdir(folder) == [file.name]
    assert CliRunner().invoke(app, ["check", "--fix", str(tmp_path)]).stderr == ""


def test_a_write_that_fails_leaves_the_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "exemplum-arboreum.yaml"
    file.write_text(HEAD)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    for step in ("fsync", "replace"):
        with monkeypatch.context() as broken:
            broken.setattr(os, step, full)
            with pytest.raises(ColdspellError, match="No space left"):
                fix.fix_file(file, file.name)
        assert file.read_text() == HEAD
        assert os.listdir(tmp_path) == [file.name]


def test_a_link_stays_a_link(tmp_path: Path) -> None:
    real = tmp_path / "real.yaml"
    real.write_text(HEAD)
    link = tmp_path / "exemplum-arboreum.yaml"
    link.symlink_to(real)
    assert fix.fix_file(link, link.name)
    assert link.is_symlink()
    assert real.read_text() == "schema: 2\n" + HEAD
