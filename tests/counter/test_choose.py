"""What to choose, held against filters written again over the JSON of the recipes (brute force)."""

from __future__ import annotations

import csv
import io
import json
import random
import re
from datetime import date
from functools import cache
from typing import Any

import msgspec
import pytest

from coldspell.api import shipped
from coldspell.cli.main import main
from coldspell.counter.choose import Wishes, choose, marks
from coldspell.errors import ColdspellError
from coldspell.library.library import Library
from coldspell.plan.plan import Plan
from coldspell.typed import read_span

TODAY = date(2026, 11, 30)
SOME = random.Random(153).sample(sorted(shipped().records.names), 250)
_SHORT_LIVED = {
    *("Pongamia pinnata", "Populus tremuloides"),
    *("Salix bebbiana", "Salix exigua", "Salix nigra", "Salix scouleriana"),
}
CLOSED = ((date(2026, 12, 20), date(2027, 1, 6)),)


@cache
def recipe(name: str) -> dict[str, Any] | None:
    """The recipe as its JSON says it; ``None`` for a genus and for what is refused."""
    if shipped().records.get(name).rank == "genus":
        return None
    try:
        found = shipped().recipe(name, today=TODAY, seeds=100)
    except ColdspellError:
        return None
    told: dict[str, Any] = json.loads(msgspec.json.encode(found))
    return told if told["does"]["page"] == "plan" else None


@cache
def plan_of(name: str) -> Plan:
    return shipped().plan(name, today=TODAY, seeds=100)


def chosen(wishes: Wishes) -> set[str]:
    lib = shipped()
    part = _Part(lib.records)
    found = choose(part, plan_of, wishes, TODAY, lib.tables, southern=False)  # type: ignore[arg-type]
    return {one.name for one in found}


class _Part:
    """A library of the drawn names alone."""

    def __init__(self, whole: Library) -> None:
        self.whole, self.names = whole, SOME

    def get(self, name: str) -> Any:
        return self.whole.get(name)

    def genus(self, name: str) -> Any:
        return self.whole.genus(name)


def all_that(holds: Any) -> set[str]:
    return {name for name in SOME if (told := recipe(name)) is not None and holds(name, told)}


def test_everything_with_a_plan() -> None:
    assert chosen(Wishes(start=False)) == all_that(lambda name, told: True)


def test_nothing_with_a_hazard() -> None:
    lib = shipped().records

    def harmless(name: str, told: dict[str, Any]) -> bool:
        genus = lib.genus(name)
        return not lib.get(name).hazards and (genus is None or not genus.hazards)

    found = chosen(Wishes(start=False, harmless=True))
    assert found == all_that(harmless)
    assert 0 < len(found) < len(SOME)


def test_nothing_due_while_closed() -> None:
    def free(name: str, told: dict[str, Any]) -> bool:
        days = [step["start"] for step in told["steps"]] + list((told["checks"] or {}).get("dates") or ())
        spans = [(first.isoformat(), last.isoformat()) for first, last in CLOSED]
        return not any(first <= day <= last for day in days if day for first, last in spans)

    found = chosen(Wishes(start=False, closed=CLOSED))
    assert found < all_that(free)
    assert found != chosen(Wishes(start=False))


def test_no_sown_pot_stands_dry_while_closed() -> None:
    """What is sown indoors before or in two weeks without anybody dries out (common practice)."""

    def moist(name: str, told: dict[str, Any]) -> bool:
        sown = [s["start"] for s in told["steps"] if s["do"] in ("sow", "pot") and s["start"]]
        return told["does"]["sown"] == "outdoor_day" or not sown or sown[0] > "2027-01-06"

    found = chosen(Wishes(start=False, closed=CLOSED))
    assert found
    assert found <= all_that(moist)
    short = ((date(2026, 12, 24), date(2026, 12, 26)),)
    assert not chosen(Wishes(start=False, closed=short)) <= all_that(moist)


@pytest.mark.long
def test_seed_that_has_outlived_itself_is_not_offered() -> None:
    """Poplars live two to four weeks, willows of spring under two months: AH 727 pp 865, 1006."""
    lib = shipped()
    wishes = Wishes(plant="broadleaf tree")
    winter = {c.name for c in lib.choose(wishes, today=date(2027, 1, 19), moisture="dried")}
    june = {c.name for c in lib.choose(wishes, today=date(2027, 6, 1))}
    brief = {"Populus tremula", "Populus tremuloides", "Ulmus glabra"}
    assert not brief & winter
    assert brief <= june
    assert "Quercus robur" in {c.name for c in lib.choose(Wishes(start=False), today=date(2027, 1, 19))}


def test_ferns_come_up_no_sooner_than_their_record_says() -> None:
    """Common practice, as their own text says: fronds in three to twelve months."""
    plan = shipped().plan("Matteuccia struthiopteris", today=date(2027, 1, 19))
    assert plan.up is not None
    assert plan.up.up >= date(2027, 4, 19)


def test_what_begins_now() -> None:
    begins = {
        *("cold_moist", "cool_moist", "warm_moist", "alternate", "soak", "sow"),
        *("crack_shell", "scarify_mechanical", "scarify_hot_water", "scarify_acid", "heat_bath", "dry_heat"),
    }

    def starts(name: str, told: dict[str, Any]) -> bool:
        first = next((s["start"] for s in told["steps"] if s["start"] and s["do"] in begins), None)
        return first is not None and first <= "2026-12-14"

    assert all_that(starts) - chosen(Wishes()) <= _SHORT_LIVED
    assert chosen(Wishes()) <= all_that(starts)


def test_easy_ones_have_one_stage() -> None:
    found = chosen(Wishes(start=False, easy=True))
    for name in found:
        told = recipe(name)
        assert told is not None
        assert sum(step["do"].endswith("_moist") for step in told["steps"]) <= 1
        assert not any(step["do"].startswith("scarify") for step in told["steps"])


def test_up_by_a_day() -> None:
    by = date(2027, 6, 1)
    early, late = chosen(Wishes(start=False, plants_by=by)), chosen(Wishes(start=False))
    assert early < late
    for name in early:
        plan = plan_of(name)
        assert plan.up is not None
        assert plan.up.up <= by


def test_gathering_list_turns_with_the_hemisphere() -> None:
    lib = shipped()
    north = {c.name for c in lib.choose(Wishes(gather=True, plant="nut tree"), today=date(2026, 10, 10))}
    south = lib.choose(Wishes(gather=True, plant="nut tree"), today=date(2027, 4, 10), southern="yes")
    assert "Juglans regia" in north
    assert "Juglans regia" in {c.name for c in south}
    assert all(lib.record(name).harvest.months is not None for name in north)  # type: ignore[union-attr]


def test_the_likeliest_come_first() -> None:
    found = shipped().choose(Wishes(gather=True, plant="shrub"), today=date(2026, 10, 10))
    for warm in (False, True):
        plants = [one.plants or 0 for one in found if one.warm == warm]
        assert plants == sorted(plants, reverse=True)
    assert [one.warm for one in found] == sorted(one.warm for one in found)


@pytest.mark.parametrize(
    ("typed", "says"), [("2026-12-20", "not like FROM..TO"), ("2027-01-06..2026-12-20", "ends before")]
)
def test_spans_that_cannot_be(typed: str, says: str) -> None:
    with pytest.raises(ColdspellError, match=says):
        read_span("--closed", typed)


UNION_LIST = {"Acacia saligna", "Ailanthus altissima"}
"""Two trees that Commission Implementing Regulation (EU) 2019/1262 added to the list of Union concern."""


@cache
def of_place(place: str) -> dict[str, tuple[str, ...]]:
    """What is noted on the law with each kind that has a plan."""
    said = {"place": place} if place else {}
    found = shipped().choose(Wishes(start=False, plant="broadleaf tree"), today=TODAY, **said)  # type: ignore[arg-type]
    return {one.name: one.law for one in found}


def test_kinds_on_a_list_of_the_place_that_was_said_are_marked() -> None:
    here = of_place("Bavaria, Germany")
    assert here.keys() >= UNION_LIST
    for name in UNION_LIST:
        assert "European Union" in here[name][0], name
        assert "Union concern" in here[name][0], name
    for other in ("Norway", ""):  # no member; and where no place is said nothing is claimed
        there = of_place(other)
        assert there.keys() == here.keys()
        assert not any("European Union" in note for notes in there.values() for note in notes), other
    assert not any(of_place("").values())


@pytest.mark.parametrize(
    ("place", "region"),
    [("Ireland", "European Union"), ("Boston, Massachusetts, USA", "Massachusetts, USA")],
)
def test_marked_is_what_a_record_or_its_genus_notes_on_growing_there(place: str, region: str) -> None:
    """Against the records read anew; notes on moving, collecting and borders alone mark nothing."""
    lib, met = shipped().records, 0
    for name, marked in of_place(place).items():
        genus = lib.genus(name)
        notes = [*lib.get(name).law, *(genus.law if genus else ())]
        notes = [note for note in notes if note.place == region and note.about == "growing"]
        noted = {note.says.split(";")[0].rstrip(".") for note in notes}
        assert all(any(says in note for note in marked) for says in noted), name
        assert all(note.startswith(f"{region}: ") for note in marked), name
        assert len(marked) == len(noted), name
        met += bool(noted)
    assert met


def test_the_law_stands_with_its_kind_in_text_and_table(capsys: pytest.CaptureFixture[str]) -> None:
    ask = ["choose", "broadleaf", "tree", "--any-start", "--limit", "900", "--today", "2026-11-30"]
    assert main([*ask, "--place", "Germany"]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert re.search(r"tree of heaven [^•]*• Law: European Union: On the list of invasive alien", shown)
    assert "No note is no permission" in shown
    assert main([*ask, "--place", "Germany", "--format", "csv"]) == 0
    rows = {row["name"]: row["law"] for row in csv.DictReader(io.StringIO(capsys.readouterr().out))}
    assert rows["Ailanthus altissima"].startswith("European Union: ")
    assert rows["Fagus sylvatica"] == ""
    assert main(ask) == 0
    assert "Law" not in capsys.readouterr().out


def test_every_rule_of_the_table_is_met() -> None:
    """Willows live for weeks (AH 727 p 1006); cold injures mango; oak and spruce are hardy (practice)."""
    lib = shipped()
    marked = {}
    hardy = ("Betula pendula", "Quercus alba", "Picea abies")
    for name in ("Salix nigra", "Mangifera indica", "Tectona grandis", *hardy):
        plan = lib.plan(name, today=TODAY, seeds=100, moisture="fresh")
        marked[name] = marks(plan, TODAY, lib.tables)
    assert "outlived" in marked["Salix nigra"]
    assert "warm" in marked["Mangifera indica"] & marked["Tectona grandis"]
    assert "outlived" not in marked["Mangifera indica"]
    assert marked["Betula pendula"] == marked["Picea abies"] == {"easy"}
    assert not marked["Quercus alba"]  # its shoot waits for another season than its root
