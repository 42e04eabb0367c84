"""The static site: no dates, months as in a southern recipe, whole or absent, alike with more processes."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from datetime import date
from html import unescape
from pathlib import Path

import pytest

pytest.importorskip("jinja2", reason="type: uv run --all-groups pytest (the group surfaces)")

from coldspell.api import Library, shipped
from coldspell.cli.main import main
from coldspell.errors import ColdspellError
from coldspell.views.short import short_page
from coldspell.views.undated import undated
from coldspell.web.export import site as writing
from coldspell.web.export.folder import MARK, whole_folder
from coldspell.web.export.index import plant
from coldspell.web.export.states import STATES
from coldspell.write.units import MONTHS

ONLY = (
    "Malus × domestica",
    "Quercus rubra",
    "Crataegus monogyna",
    "Acer",
    "Robinia pseudoacacia",
    "Amelanchier canadensis",
)
NORTH, SOUTH = date(2025, 10, 1), date(2026, 4, 1)


def _once(*_folders: Path, **_more: object) -> Library:
    """The library that is shipped, whatever folders are asked for; other processes take it by name."""
    return shipped()


@pytest.fixture(autouse=True, scope="module")
def read_once() -> Iterator[None]:
    """The shipped library is read once for all tests here."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(writing, "Library", _once)
        yield


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("export") / "site"
    writing.export(folder, [], ONLY)
    return folder


def test_no_page_names_a_day(made: Path) -> None:
    """Days stand only where somebody looked a law or a page up, and in the titles of works."""
    months = "|".join([*MONTHS, *(month[:3] for month in MONTHS)])
    for page in (made / "plants").glob("*.html"):
        text = unescape(re.sub(r"<[^>]+>", " ", page.read_text("utf-8").split('id="record"')[0]))
        text = re.sub(r"\[1\] .*", "", text)  # the works
        assert not re.findall(rf"\b\d{{1,2}} (?:{months})\b|\b20[23]\d\b|week -", text), page.name


def test_the_months_of_the_south_are_those_of_a_southern_recipe() -> None:
    """What is shifted by six months on the page, against the calendar of the program in the south."""
    library, seen = shipped(), 0
    for name in random.Random(14).sample(sorted(library.records.names), 10):
        for facts in STATES.values():
            north = library.recipe(name, today=NORTH, seeds=50, **facts)
            south = library.recipe(name, today=SOUTH, southern=True, seeds=50, **facts)
            told = undated(north, short_page(north, library.texts), library.texts, 6).weeks
            months = [MONTHS[int(step.start[5:7]) - 1] if step.start else "" for step in south.steps]
            assert [_near(week.south, month) for week, month in zip(told, months, strict=True)] == [
                True
            ] * len(months), (name, facts, told, months)
            seen += len(months)
    assert seen > 60


def _near(one: str, two: str) -> bool:
    """The same month, or the one beside it: half-years are not equally long (184 and 181 days)."""
    if not one or not two:
        return one == two
    return (MONTHS.index(one) - MONTHS.index(two)) % 12 in (0, 1, 11)


def test_weeks_are_those_between_the_dates() -> None:
    library = shipped()
    recipe = library.recipe("apple", today=NORTH, seeds=50, moisture="fresh")
    cold = next(step for step in recipe.steps if step.do == "cold_moist")
    first = next(step for step in recipe.steps if step.do == "soak")  # the rest before it is dry
    assert cold.start is not None
    assert cold.end is not None
    assert first.start is not None
    weeks = [
        (date.fromisoformat(day) - date.fromisoformat(first.start)).days // 7
        for day in (cold.start, cold.end)
    ]
    told = undated(recipe, short_page(recipe, library.texts), library.texts, 6)
    assert f"Weeks {weeks[0]}–{weeks[1]}" in [week.weeks for week in told.weeks]
    assert f"sow in week {weeks[1]}" in told.short.sentence


def test_every_link_and_picture_is_there_and_nothing_from_outside(made: Path) -> None:
    for page in made.rglob("*.html"):
        text = page.read_text("utf-8")
        for found in re.findall(r'(?:href|src)="([^"]*)"', text):
            path, _, anchor = found.partition("#")
            assert not re.match(r"[a-z]+:|/", found), found
            target = (page.parent / path).resolve() if path else page
            assert target.is_file(), (page.name, found)
            assert not anchor or f'id="{anchor}"' in target.read_text("utf-8"), (page.name, found)
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=|<script(?! src=)", text)
    drawn = {path.name for path in (made / "drawings").iterdir()}
    named = {
        name for page in made.rglob("*.html") for name in re.findall(r"drawings/(\S+?)\"", page.read_text())
    }
    assert drawn == named


def test_more_processes_write_the_same(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(writing, "_AT_ONCE", 2)
    writing.export(tmp_path / "again", [], ONLY, jobs=2)
    one, two = (
        {path.relative_to(folder): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
        for folder in (made, tmp_path / "again")
    )
    assert one == two


def test_it_is_whole_or_absent(tmp_path: Path) -> None:
    folder = tmp_path / "site"

    def stop(done: int, of: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        writing.export(folder, [], ["Acer"], told=stop)
    assert list(tmp_path.iterdir()) == []
    writing.export(folder, [], ["Acer"])
    before = (folder / "list.html").read_bytes()
    with pytest.raises(KeyboardInterrupt):
        writing.export(folder, [], ["Malus × domestica"], told=stop)
    assert (folder / "list.html").read_bytes() == before
    writing.export(folder, [], ["Malus × domestica"])
    assert not (folder / "plants" / "acer.html").exists()
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_what_was_not_made_here_is_never_replaced(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "mine.txt").write_text("mine")
    assert main(["page", "export", str(tmp_path), "--only", "Acer"]) == 2
    assert "other files" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["mine.txt"]
    assert main(["page", "export", str(tmp_path / "mine.txt")]) == 2
    (tmp_path / "linked").symlink_to(tmp_path, target_is_directory=True)
    with pytest.raises(ColdspellError), whole_folder(tmp_path / "linked"):
        pass


def test_the_command_says_what_is_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["page", "export", str(tmp_path / "site"), "--only", "white oak"]) == 0
    assert capsys.readouterr().out.startswith(f"1 plant in {tmp_path / 'site'} (")
    assert (tmp_path / "site" / MARK).is_file()
    assert main(["page", "export", str(tmp_path / "none"), "--only", "zzqx"]) == 2
    assert not (tmp_path / "none").exists()


def test_the_index_has_every_name() -> None:
    record = shipped().record("Quercus robur")
    names = plant(record).names
    assert {"quercus robur", "english oak"} <= {*names}
    assert any("eiche" in name for name in names)
