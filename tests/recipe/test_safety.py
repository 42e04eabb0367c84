"""What can hurt is said once on a page, in the step that needs it, and nowhere else; over all records.

What a page needs is judged here from its steps and its record, not from the rules. All of it is common
practice of workshops (pruners and clamps, dust masks, gloves). ``COLDSPELL_FULL=1`` meets every record in
every state.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from datetime import date
from typing import Any

import lots
import pytest
from meeting import Met, meet

from coldspell.decide.tables import Tables
from coldspell.library.load import Library

FULL = os.environ.get("COLDSPELL_FULL") == "1"
DAY = date(2026, 11, 25)
LOTS: dict[str, dict[str, Any]] = {
    "fresh, a class": {"moisture": "fresh", "children": True, "pulp": "yes"},
    "dried and old": {"moisture": "dried", "stored_years": 6},
    "outdoors": {"moisture": "fresh", "refrigerator": "none", "winter": "cold"},
    "dried and mouldy": {"moisture": "dried", "mould": "shell", "soft": "yes"},
    "perlite": {"moisture": "dried", "medium": ["perlite"], "grow_in": "bed"},
}
HARD = ("nut", "acorn", "stone")
NO_CHAFF = ("nut", "acorn", "stone", "pip", "seed", "nutlet", "berry", "fruit")
FRUIT_OF_KITCHENS = ("fruit tree", "nut tree", "annual")


def _does(met: Met, *does: str) -> bool:
    return any(step.do in does for step in met.recipe.steps)


def _hazards(met: Met, kind: str) -> bool:
    return any(hazard.kind == kind for hazard, _ in met.knowledge.hazards())


def _cuts(met: Met) -> bool:
    return any(
        re.search(r"\b[Cc]ut (?:one|two|three|four|five|six|seven|eight|nine|ten|off|more|\d)", s.text)
        for s in met.recipe.steps
    )


def _hard(met: Met) -> bool:
    dormancy = met.knowledge.value("dormancy")
    return met.knowledge.record.unit in HARD or (
        dormancy is not None and dormancy.class_ in ("physical", "combinational")
    )


def _pulp(met: Met) -> bool:
    edible = met.knowledge.record.plant in FRUIT_OF_KITCHENS and not _hazards(met, "skin")
    return _does(met, "remove_pulp", "ferment") and not edible


def _meshed(met: Met) -> bool:
    record = met.knowledge.record
    chaff = record.unit not in NO_CHAFF or record.unit == "nutlet" or record.plant in ("grass", "annual")
    return not chaff and any("under mesh of" in s.text or "mesh of 6" in s.text for s in met.recipe.steps)


def _dusty(met: Met) -> bool:
    medium = met.recipe.medium
    return medium is not None and re.search("vermiculite|perlite", medium.material_says) is not None


def _class(met: Met) -> bool:
    return bool(met.said.get("children")) and (
        met.knowledge.record.plant == "nut tree" or _hazards(met, "allergy")
    )


def _small(met: Met) -> bool:
    small = met.knowledge.value("size") != "fine" and met.knowledge.record.unit in NO_CHAFF
    return bool(met.said.get("children")) and small


Needed = Callable[[Met], bool]
SAID: dict[str, tuple[str, Needed, str]] = {
    "pruners": ("Cut with pruners", lambda m: _cuts(m) and _hard(m), r"\b[Cc]ut (?!with)"),
    "clamp": (
        "in pliers or a clamp",
        lambda m: _does(m, "scarify_mechanical", "crack_shell") and m.knowledge.value("size") != "fine",
        r"Nick|Crack|Rub|coat|shell",
    ),
    "scalds": (
        "Hot water scalds",
        lambda m: _does(m, "scarify_hot_water", "heat_bath"),
        r"[Pp]our hot water|in hot water|water bath",
    ),
    "dust": ("wear a dust mask", _dusty, r"[Mm]oist"),
    "class": ("Before a class or group", _class, ""),
    "toddlers": ("from toddlers", _small, ""),
    "wire": ("Stiff wire", _meshed, r"mesh of 6.*Stiff wire"),
    "mouldy bag": (
        "Open mouldy bags outdoors",
        lambda m: m.said.get("mould") in ("shell", "kernel") and m.recipe.does.page != "question",
        r"off mould|Throw out",
    ),
}
"""For each: its words, whether this page needs it, and how its step reads (any, where empty)."""


@pytest.mark.parametrize("state", LOTS)
def test_what_can_hurt_is_said_once_and_where_it_is_needed(
    state: str, library: Library, tables: Tables
) -> None:
    faults = []
    every = 1 if FULL else 48
    for name in lots.part(library.names, every, list(LOTS).index(state) * 5 % every):
        met = meet(name, {"seeds": 60, **LOTS[state]}, DAY, library, tables)
        if met.recipe.does.page == "question":
            continue
        for what, (words, needed, step) in SAID.items():
            said, need = met.page.count(words), needed(met)
            if said != need:
                faults.append(f"{name}: {what} said {said} times, needed: {need}")
            holding = [s.text for s in met.recipe.steps if words in s.text]
            if step and holding and not re.search(step, holding[0]):
                faults.append(f"{name}: {what} stands in “{holding[0][:80]}”")
            if said and met.recipe.steps and not holding and what not in ("dust", "mouldy bag"):
                faults.append(f"{name}: {what} is said, and in no step")
        gloves = [
            s.text for s in met.recipe.steps if s.do in ("remove_pulp", "ferment") and "gloves" in s.text
        ]
        if bool(gloves) != _pulp(met):
            faults.append(f"{name}: gloves for pulp: {gloves}, needed: {_pulp(met)}")
    assert not faults, f"{len(faults)}: " + "; ".join(faults[:10])


def test_birch_and_grass_need_none_of_it(library: Library, tables: Tables) -> None:
    """What hangs on the kind is said of no birch and no grass; a dust mask hangs on the medium."""
    seen = 0
    for name in library.names:
        record = library.get(name)
        if record.family != "Poaceae" and not name.startswith("Betula"):
            continue
        met = meet(name, {"seeds": 60, **LOTS["outdoors"]}, DAY, library, tables)
        hurts = [w for what, (w, *_) in SAID.items() if what not in ("dust", "clamp") and w in met.page]
        assert not hurts, (name, hurts)
        assert "gloves" not in met.page or record.hazards, name
        seen += 1
    assert seen > 40
