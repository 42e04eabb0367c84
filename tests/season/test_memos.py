"""What is kept between lots changes nothing: each plan is that of a planner which has met no lot before."""

from __future__ import annotations

import gc
import random
from collections.abc import Callable
from functools import _lru_cache_wrapper
from pathlib import Path
from typing import Any

import lots as drawn
import pytest
from seasons import DAY, written

from coldspell.decide.tables import Tables
from coldspell.records.do import MOIST
from coldspell.rules import Session
from coldspell.rules.engine import ColumnEngine
from coldspell.season.planning import Planner, Setting
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Refused

pytestmark = pytest.mark.long

KEPT = ("coldspell.arithmetic.", "coldspell.decide.", "coldspell.plan.")


def forget() -> list[Callable[[], None]]:
    """What empties every cache of a function that lots share."""
    found = (each for each in gc.get_objects() if isinstance(each, _lru_cache_wrapper))
    return [each.cache_clear for each in found if (each.__module__ or "").startswith(KEPT)]


def awkward_kinds(planner: Planner, draw: random.Random) -> list[str]:
    """Names of kinds of which the same lot is measured in several ways."""
    found: dict[str, list[str]] = {}
    for name in draw.sample(sorted(planner.records.names), 600):
        record = planner.records.get(name)
        if record is None or record.rank == "genus":
            continue
        steps = [step for treatment in record.treatments for step in treatment.steps]
        hard = record.dormancy is not None and record.dormancy.class_ in ("physical", "combinational")
        kinds = {
            "hard": hard and any(step.do in MOIST for step in steps),
            "roots first": record.dormancy is not None and record.dormancy.epicotyl,
            "dry rest": any(step.do == "after_ripen" for step in steps),
            "helped": any(step.do in MOIST and step.need == "optional" for step in steps),
            "asks": any("rooted" in t.when or "moisture" in t.when for t in record.treatments),
            "cold": any(step.do == "cold_moist" and step.need == "required" for step in steps),
        }
        for kind in (kind for kind, holds in kinds.items() if holds):
            found.setdefault(kind, []).append(name)
    assert len(found) == 6
    return [name for names in found.values() for name in names[:2]]


def shared_kinds(planner: Planner, draw: random.Random) -> list[dict[str, Any]]:
    """A few kinds in states of which two are told at once: as much is shared as can be."""
    found = []
    for name in awkward_kinds(planner, draw):
        for _ in range(40):
            one, other = draw.choice(drawn.STATES), draw.choice(drawn.STATES)
            found.append({"lot": f"L{len(found)}", "name": name, **one, **other})
    draw.shuffle(found)
    return found


@pytest.mark.parametrize("seed", range(4))
def test_a_plan_is_the_same_whatever_was_planned_before(tmp_path: Path, seed: int) -> None:
    planner, alone = Planner(Setting(DAY)), Planner(Setting(DAY))
    tables = alone.tables
    session = Session(tables.book, ColumnEngine(), memo=False, traced=False)
    alone.tables = Tables(session, tables.practice, tables.asked)
    path = written(tmp_path / "lots.csv", shared_kinds(planner, random.Random(seed)))
    with open_lots(str(path)) as table:
        rows = [row for row in table if not isinstance(row, Refused)]
    together = [planner.plan(row) for row in rows]
    caches = forget()
    assert len(caches) > 5
    for row, found in zip(rows, together, strict=True):
        alone._known.clear()
        for clear in caches:
            clear()
        assert alone.plan(row) == found, row.said
