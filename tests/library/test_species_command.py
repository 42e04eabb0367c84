"""``coldspell species …``: answers, exit codes, formats."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path
from xml.etree import ElementTree

import pytest
from typer.testing import CliRunner, Result

from coldspell.check.table import CHECKS
from coldspell.cli.main import main
from coldspell.cli.species import app
from coldspell.cli.species_new import BOTANICAL
from coldspell.cli.species_options import load
from coldspell.errors import ColdspellError
from coldspell.yaml import document

RECORDS = Path(__file__).parent.parent / "records"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, [str(one) for one in arguments])


def out(*arguments: str | Path, code: int = 0) -> str:
    if arguments[0] == "check":  # what is asked does not change with the years
        arguments = (*arguments, "--today", "2026-11-30")
    result = run(*arguments)
    assert result.exit_code == code, (result.output, result.exception)
    return result.stdout


def refused(*arguments: str | Path) -> ColdspellError:
    result = run(*arguments)
    assert isinstance(result.exception, ColdspellError), (result.output, result.exception)
    assert result.exception.exit_code == 2
    assert not result.stdout
    return result.exception


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A private library outside the repository: two records and a bibliography."""
    library = tmp_path / "own"
    shutil.copytree(RECORDS / "good" / "full", library / "exemplum")
    shutil.copytree(RECORDS / "good" / "hybrid", library / "mixed")
    shutil.copy(RECORDS / "bibliography.yaml", library)
    return library


# ------------------------------------------------------------------------------------------------------ check


def test_a_private_library_is_checked_and_used(own: Path) -> None:
    assert out("check", own) == "2 records checked: 0 errors, 0 warnings\n"
    assert out("check", "--library", own) == "2 records checked: 0 errors, 0 warnings\n"
    assert "example tree" in out("show", "Exemplum arboreum", "--library", own)
    assert "Exemplum arboreum" in out("find", "example tree", "--library", own)


def test_errors_have_exit_code_1_and_only_warnings_0(own: Path) -> None:
    file = own / "exemplum" / "exemplum-arboreum.yaml"
    file.write_text(file.read_text().replace("celsius: [1, 5], need", "celsius: [-2, 5], need"))
    assert "cold-outside-usual-range" in out("check", own)
    out("check", own, "--strict", code=1)
    file.write_text(file.read_text().replace("celsius: [-2, 5]", "celsius: [-20, 5]"))
    assert re.search(r"arboreum\.yaml:25:\d+: error: .*\[cold-outside-limits\]", out("check", own, code=1))


def test_one_file_is_checked_among_its_library(own: Path) -> None:
    (own / "mixed" / "exemplum-x-mixtum.yaml").write_text("nonsense: true\n")
    assert out("check", own / "exemplum") == "1 record checked: 0 errors, 0 warnings\n"
    assert out("check", own / "exemplum" / "exemplum-arboreum.yaml").startswith("1 record checked")
    out("check", own, code=1)


def test_json_github_and_sarif_say_the_same(own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(own)
    file = own / "exemplum" / "exemplum-arboreum.yaml"
    file.write_text(file.read_text().replace("size: small", "size: smal").replace("t5, basis", "t5"))
    plain = json.loads(out("check", own, "--format", "json", code=1))
    assert plain["errors"] == len(plain["findings"]) == 1
    found = plain["findings"][0]
    assert (found["file"], found["line"], found["column"]) == ("exemplum/exemplum-arboreum.yaml", 12, 7)
    annotation = out("check", own, "--format", "github", code=1).splitlines()[0]
    assert annotation.startswith("::error file=exemplum/exemplum-arboreum.yaml,line=12,col=7,title=schema::")
    log = json.loads(out("check", own, "--format", "sarif", code=1))
    assert log["version"] == "2.1.0"
    (result,) = log["runs"][0]["results"]
    rules = log["runs"][0]["tool"]["driver"]["rules"]
    assert rules[result["ruleIndex"]]["id"] == result["ruleId"] == "schema"
    location = result["locations"][0]["physicalLocation"]
    assert location["artifactLocation"]["uri"] == "exemplum/exemplum-arboreum.yaml"
    assert location["region"] == {"startLine": 12, "startColumn": 7}
    assert {rule["id"] for rule in rules} == {check.id for check in CHECKS}


def test_junit_says_the_same(own: Path) -> None:
    """A failure for each error; read as JUnit readers do, by the standard library's XML parser."""
    file = own / "exemplum" / "exemplum-arboreum.yaml"
    file.write_text(file.read_text().replace("size: small", "size: smal"))
    suite = ElementTree.fromstring(out("check", own, "--format", "junit", code=1))[0]
    failures = suite.findall("testcase/failure")
    assert (suite.get("failures"), len(failures)) == ("1", 1)
    assert int(suite.get("tests", "")) == len(suite.findall("testcase")) >= len(CHECKS)
    assert failures[0].get("type") == "schema"
    assert "exemplum-arboreum.yaml:12:7" in (failures[0].text or "")


@pytest.mark.parametrize("form", ["text", "github", "junit", "sarif", "json"])
def test_a_record_begins_no_line_of_its_own(tmp_path: Path, form: str) -> None:
    """A job log obeys a line that begins with ``::error``, whoever wrote it."""
    (tmp_path / "x.yaml").write_text('name: "A\\n::error file=README.md,line=1::PWNED \\u001b[31m"\n')
    said = out("check", tmp_path, "--format", form, code=1)
    assert not any(line.startswith("::error file=README") for line in said.splitlines())
    assert "\x1b" not in said
    if form == "junit":
        ElementTree.fromstring(said)


def test_explain() -> None:
    for check in CHECKS:
        assert check.severity in out("check", "--explain", check.id)
    assert "accept" in out("check", "--explain", "thin-sourcing")
    assert "thin-sourcing" in refused("check", "--explain", "thin-sourcng").mend


def test_annotations_escape_what_the_workflow_keeps_for_itself(tmp_path: Path) -> None:
    """docs.github.com, workflow commands: %, CR and LF, and in properties , and : are escaped."""
    folder = tmp_path / "a,b:c"
    folder.mkdir()
    (folder / "x.yaml").write_text("a: 50%\n")
    line = out("check", folder, "--format", "github", code=1).splitlines()[0]
    assert "a%2Cb%3Ac/x.yaml" in line.split("::")[1]


def test_only_what_git_says_is_changed(own: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def git(*arguments: str) -> None:
        identity = ("-c", "user.name=x", "-c", "user.email=x@example.org")
        subprocess.run(["git", "-C", str(own), *identity, *arguments], check=True, capture_output=True)

    git("init", "-q")
    git("add", ".")
    git("commit", "-q", "-m", "first")
    assert out("check", own, "--changed") == "0 records checked: 0 errors, 0 warnings\n"
    new = own / "exemplum" / "exemplum-novum.yaml"
    new.write_text("name: Exemplum novum\n")
    assert "1 record checked: 4 errors" in out("check", own, "--changed", code=1)
    git("add", ".")
    git("commit", "-q", "-m", "second")
    assert out("check", own, "--changed").startswith("0 records")
    assert "1 record checked" in out("check", own, "--changed", "--base", "HEAD~1", code=1)
    book = own / "bibliography.yaml"
    book.write_text(book.read_text().replace("- id: ", "- id: another-", 1))
    assert not out("check", own, "--changed", code=1).startswith(("0 records", "1 record"))
    assert "git says" in refused("check", own, "--changed", "--base", "no-such-branch").what
    assert "not a git revision" in refused("check", own, "--changed", "--base=--output=x").what


def test_wrong_paths_are_one_clear_error(own: Path) -> None:
    assert "no such file" in refused("check", own / "absent").what
    assert "no such library" in refused("find", "x", "--library", own / "absent").what


# -------------------------------------------------------------------------------------- find and show


def test_find_ranks_and_forgives() -> None:
    first = out("find", "quercs", "rubra", "--limit", "1")
    assert first.startswith("Quercus rubra")
    hits = json.loads(out("find", "oak", "--format", "json", "--limit", "500"))["hits"]
    assert hits[0]["name"] == "Quercus"
    assert [hit["score"] for hit in hits] == sorted((hit["score"] for hit in hits), reverse=True)


def test_find_by_what_a_plant_is() -> None:
    hits = json.loads(
        out("find", "--family", "fagaceae", "--month", "10", "--format", "json", "--limit", "99")
    )
    assert hits["hits"]
    assert {hit["family"] for hit in hits["hits"]} == {"Fagaceae"}
    wrapped = json.loads(out("find", "--month", "1", "--format", "json", "--limit", "999"))["hits"]
    for hit in wrapped:
        first, last = hit["harvest_months"]
        assert first == 1 or last < first
    assert "nothing found" in out("find", "--genus", "Quercus", "--dormancy", "physical")
    assert "Known:" in refused("find", "--plant", "tree").mend
    assert "nothing to look for" in refused("find").what


def test_show_says_where_values_come_from() -> None:
    text = out("show", "white oak")
    assert "Quercus alba" in text
    assert "The Woody Plant Seed Manual" in text
    assert "(from the genus record" in out("show", "Acer griseum")
    values = json.loads(out("show", "Quercus alba", "--format", "json"))
    assert values["record"]["name"] == "Quercus alba"
    assert any(source["id"] == "bonner-karrfalt-2008" for source in values["sources"])


def test_show_never_guesses() -> None:
    assert "several plants" in refused("show", "cedar").what
    assert "Quercus alba" in refused("show", "Quercus albo").mend


# ------------------------------------------------------------------------------------------------------ new


def test_new_says_what_is_missing_then_passes(tmp_path: Path) -> None:
    known = (
        "new",
        "Novum testum",
        "--family",
        "Fagaceae",
        "--plant",
        "shrub",
        "--unit",
        "seed",
        "--into",
        tmp_path,
    )
    first = out(*known)
    assert re.search(r"novum-testum\.yaml:2:1: still to do: there is no treatment", first)
    assert "is in the library" in refused(*known).what
    (tmp_path / "novum" / "novum-testum.yaml").unlink()
    cited = ("--cold-days", "60-90", "--source", "bonner-1976", "--basis", "read")
    assert out(*known, *cited).endswith("1 record checked: 0 errors, 0 warnings\n")
    text = (tmp_path / "novum" / "novum-testum.yaml").read_text()
    assert text.startswith("# Only what a source says")  # an editor finds no schema beside this library
    assert "{do: cold_moist, days: [60, 90]}" in text


def test_the_examples_in_a_new_record_are_valid(tmp_path: Path) -> None:
    """Every commented example, uncommented, fits the record format."""
    out(
        "new",
        "Novum testum",
        "--family",
        "Fagaceae",
        "--plant",
        "shrub",
        "--unit",
        "seed",
        "--into",
        tmp_path,
    )
    text = (tmp_path / "novum" / "novum-testum.yaml").read_text()
    examples = re.sub(r"(?m)^# (?=[a-z_]+:|  - )", "", text).replace("cite: first", "cite: note")
    examples = re.sub(r"(?m)^cites:.*$", "cites: {note: {basis: practice}}", examples)
    (tmp_path / "novum" / "novum-testum.yaml").write_text(examples)
    assert "schema" not in out("check", tmp_path), examples
    keys = set(document.plain(document.parse(examples, "f")))
    assert {"synonyms", "storage", "dormancy", "treatments", "not_used", "germination", "law"} <= keys
    assert {"schema", "bulk", "live_seed", "emergence", "killed_by"} <= keys


def test_new_starts_from_the_genus(tmp_path: Path) -> None:
    out("new", "Quercus imaginaria", "--into", tmp_path)
    text = (tmp_path / "quercus" / "quercus-imaginaria.yaml").read_text()
    assert "family: Fagaceae" in text
    assert "unit: acorn" in text
    assert "genus record Quercus" in text


def test_new_asks(tmp_path: Path) -> None:
    answers = "\n".join(["", "90", "", "Fagaceae", "shrub", "seed", "L.", "small", ""]) + "\n"
    result = CliRunner().invoke(
        app, ["new", "Novum testum", "--guided", "--into", str(tmp_path)], input=answers
    )
    assert result.exit_code == 0, (result.output, result.exception)
    text = (tmp_path / "novum" / "novum-testum.yaml").read_text()
    assert "days: 90" in text
    assert "size: small" in text


def test_new_refuses(tmp_path: Path) -> None:
    into = tmp_path / "own"  # there is none yet: nothing is to be merged each time
    assert "is in the library" in refused("new", "Quercus alba", "--into", into).what
    assert "--family" in refused("new", "Novum testum", "--into", into).mend
    words = ("--family", "Fagaceae", "--unit", "seed", "--into", into)
    assert "'grass'" in refused("new", "Novum testum", "--plant", "gras", *words).mend
    assert (
        "not days" in refused("new", "Novum testum", "--plant", "grass", *words, "--cold-days", "long").what
    )
    given = ("Novum testum", "--plant", "grass", *words)
    assert "outside 0 to 1500" in refused("new", *given, "--cold-days", "2000").what
    assert "not in the bibliography" in refused("new", *given, "--cold-days", "60", "--source", "no").what
    assert "right form" in refused("new", *given, "--source", "Bonner 2008", "--cold-days", "60").what
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "name",
    [
        "", " ", "×", "A", "/etc/passwd x", "-x y", "Фоо бар", ".. ..", "Foo: bar", "Quercus $(touch x)",
        "Quercus ../../evil", "quercus alba", "Quercus alba L.", "Malus domestica 'Rot'",
    ],
)  # fmt: skip
def test_new_refuses_what_is_no_botanical_name(tmp_path: Path, name: str) -> None:
    """What the code for algae, fungi and plants (ICN 2018, art. 20, 23, H) does not let a name be."""
    words = ("--family", "Fagaceae", "--unit", "seed", "--plant", "grass", "--into", tmp_path)
    assert "no botanical name" in refused("new", *words, "--", name).what
    assert not list(tmp_path.iterdir())


def test_every_name_of_the_library_is_one() -> None:
    assert [name for name in load(None).names if not BOTANICAL.fullmatch(name)] == []


def test_a_record_of_ones_own_begins_as_a_copy_of_the_one_that_it_replaces(tmp_path: Path) -> None:
    mend = refused("new", "Quercus rubra", "--into", tmp_path).mend
    assert mend.endswith(f'type: coldspell species new "Quercus rubra" --replace --into {tmp_path}')
    said = out("new", "red", "oak", "--replace", "--into", tmp_path)
    path = tmp_path / "quercus" / "quercus-rubra.yaml"
    assert said.startswith(f"{path}\n1 record checked: 0 errors")
    assert f"--library {tmp_path}" in said
    text = path.read_text("utf-8")
    shipped = load(None).file("Quercus rubra").read_text("utf-8")
    assert shipped.endswith(text)
    assert "yaml-language-server" not in text
    assert "0 errors" in out("check", tmp_path)
    path.write_text(text.replace("days: [30, 45]", "days: [31, 46]"), "utf-8")
    assert "31 to 46" in out("show", "Quercus rubra", "--library", tmp_path)
    assert "exists already" in refused("new", "Quercus rubra", "--replace", "--into", tmp_path).what


def test_what_a_copy_cannot_be(tmp_path: Path) -> None:
    assert "--into DIR" in refused("new", "Quercus rubra", "--replace").mend
    assert "--replace --into" in refused("new", "Quercus rubraa", "--replace", "--into", tmp_path).mend
    both = ("new", "Quercus rubra", "--replace", "--into", tmp_path, "--cold-days", "40")
    assert "begins as a copy" in refused(*both).what
    assert not list(tmp_path.iterdir())


def test_new_does_not_write_into_an_installed_program(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("coldspell.shipped.is_installed", lambda kind: True)
    assert "--into" in refused("new", "Quercus imaginaria").mend


# ---------------------------------------------------------------------------------------- sources, gaps, diff


def test_sources_as_csl_and_bibtex() -> None:
    items = json.loads(out("sources", "--format", "csl"))
    assert [item["id"] for item in items] == sorted(item["id"] for item in items)
    entries = out("sources", "--format", "bibtex")
    assert entries.count("\n@") + 1 == len(items)
    assert entries.count("{") == entries.count("}")
    one = out("sources", "bonner-1976", "--format", "bibtex")
    assert one.startswith("@article{bonner-1976,\n  author = {Bonner, F. T.},")
    assert "Did you mean 'bonner-1976'" in refused("sources", "bonner-19766").mend


def test_sources_says_who_cites_what() -> None:
    text = out("sources", "bonner-1976")
    assert "Carya illinoinensis" in text
    values = json.loads(out("sources", "bonner-1976", "--format", "json"))
    assert {one["record"] for one in values["sources"][0]["citations"]} >= {
        "Carya illinoinensis",
        "Carya ovata",
    }


def test_a_source_that_is_cited_is_not_listed_as_unused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["species", "sources", "bonner-1976", "--unused"]) == 2
    assert "coldspell species sources bonner-1976" in capsys.readouterr().err


def test_gaps_come_worst_first() -> None:
    values = json.loads(out("gaps", "--format", "json", "--limit", "1000"))
    weights = [one["weight"] for one in values["records"]]
    assert weights == sorted(weights, reverse=True)
    assert set(values["shares"]) == {"read", "recalled", "practice"}
    assert "best basis" in out("gaps", "--limit", "3")


def test_diff_names_records_and_topics(own: Path, tmp_path: Path) -> None:
    newer = Path(shutil.copytree(own, tmp_path / "newer"))
    file = newer / "exemplum" / "exemplum-arboreum.yaml"
    file.write_text(file.read_text().replace("days: [90, 120]", "days: [100, 120]"))
    (newer / "mixed" / "exemplum-x-mixtum.yaml").unlink()
    text = out("diff", own, newer)
    assert "removed  Exemplum × mixtum" in text
    assert "changed  Exemplum arboreum\n  treatments\n" in text
    assert "recipe   Exemplum arboreum, fresh\n" in text
    assert re.search(r"    \+ .*Moist and cold at 1–5 °C, for 100–120 days\.", text)
    assert ", 1 removed, 1 changed, " in text
    assert "0 added, 0 removed, 0 changed, 0 recipes change\n" in out("diff", own, own)
    values = json.loads(out("diff", own, newer, "--format", "json"))
    assert values["changes"][0]["topic"] == "treatments"


def test_a_bibliography_is_not_counted_as_a_record(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The hook of pre-commit names both files."""
    record = Path(__file__).parents[1] / "records" / "good" / "full" / "exemplum-arboreum.yaml"
    (tmp_path / record.name).write_text(record.read_text("utf-8"), "utf-8")
    (tmp_path / "bibliography.yaml").write_text("[]\n", "utf-8")
    main(["species", "check", str(tmp_path / record.name), str(tmp_path / "bibliography.yaml")])
    assert "1 record checked" in capsys.readouterr().out
