"""Digests of page and JSON for 3,000 seeded lots, so that a rebuilding of the house changes no advice.

``python tests/house/digests.py`` compares, ``python tests/house/digests.py write`` makes them anew. The lots
are drawn once and kept with their digests in ``tests/data/digests.jsonl``. Of the JSON the keys of recipe
schema 1 count, without versions, digests of the files and the trace (which names rules, not advice).
"""

from __future__ import annotations

import hashlib
import json
import random
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))
import asking

KEPT = Path(__file__).parent.parent / "data" / "digests.jsonl"
SCHEMA = Path(__file__).parent.parent / "data" / "recipe-schema-1.json"
LEFT_OUT = ("tool", "library", "rules", "trace")
TODAY = ("2026-11-30", "2027-01-28", "2027-06-15", "2026-08-20", "2026-10-12")
SEEDS = (1, 5, 12, 40, 99, 104, 600, 20_000)
STATES: tuple[dict[str, Any], ...] = (
    {},
    {"moisture": "fresh", "collected": "2026-10-12", "sow": "2027-04-15"},
    {"moisture": "dried"},
    {"moisture": "dried", "sow": "2027-04-15"},
    {"moisture": "dried", "cut": "3/10"},
    {"moisture": "dried", "cut": "0/8"},
    {"cut": "0/30"},
    {"moisture": "dried", "cut": "8/10", "sow": "2027-05-01"},
    {"moisture": "fresh", "rooted": 1},
    {"moisture": "fresh", "rooted": "most"},
    {"rooted": "most", "root_mm": 90},
    {"moisture": "dried", "cold_days_done": 45},
    {"cold_days_done": 30, "sow": "2027-04-15"},
    {"warm_days_done": 60, "sow": "2028-04-15"},
    {"cold_days_done": 400},
    {"southern": True, "sow": "2027-10-01"},
    {"southern": True},
    {"moisture": "dried", "refrigerator": "none"},
    {"refrigerator": "none", "winter": "cold", "sow": "2028-04-15"},
    {"refrigerator": "none", "winter": "mild"},
    {"refrigerator": "own", "fridge_litres": 3},
    {"sow": "2026-12-20"},
    {"last_frost": "2027-05-10"},
    {"last_frost": "2027-05-10", "grow_in": "bed"},
    {"moisture": "dried", "stored_years": 1},
    {"moisture": "dried", "stored_years": 6},
    {"stored_years": 30},
    {"fridge_celsius": 9},
    {"fridge_celsius": 12},
    {"fridge_celsius": -2},
    {"shell": "cracked"},
    {"shell": "kernel", "sow": "2027-04-20"},
    {"shell": "husk"},
    {"professional": True, "sow": "2027-04-20"},
    {"professional": True, "moisture": "dried", "stored_years": 3},
    {"want": 20},
    {"want": 500, "grow_in": "site"},
    {"units": "us", "moisture": "dried", "sow": "2027-04-15"},
    {"units": "both"},
    {"frozen": True},
    {"heated": True},
    {"gathered": "green"},
    {"gathered": "ground_spring", "sow": "2027-04-15"},
    {"gathered": "bought"},
    {"pulp": True},
    {"swollen": "yes"},
    {"swollen": "some", "sow": "2027-04-15"},
    {"soft": True, "mould": "shell"},
    {"mould": "kernel", "holes": True},
    {"smell": "sour"},
    {"smell": "rotten"},
    {"smell": "almond"},
    {"float": "3/5"},
    {"float": "0/5"},
    {"sure": False},
    {"children": True, "animals": True},
    {"medium": ["sand"]},
    {"medium": ["perlite", "peat"]},
    {"medium": ["paper"]},
    {"container": "400x300x150"},
    {"bag": "180x200"},
    {"days_dry": 10},
    {"days_dry": 45},
    {"days_dry": 100},
    {"origin": "north", "sow": "2027-04-15"},
    {"origin": "south", "winter": "cold"},
    {"place": "Ireland"},
    {"collected": "2027-02-01"},
    {"collected": "2025-10-12"},
    {"kilograms": 0.5},
    {"sow": "2028-04-15"},
    {"sow": "2029-10-01", "moisture": "fresh"},
)


def draw(names: list[str], count: int = 3000, seed: int = 9) -> Iterator[dict[str, Any]]:
    """Lots over all records and states; each record is met three times."""
    rnd = random.Random(seed)
    turn: list[str] = []
    for _ in range(count):
        if not turn:
            turn = rnd.sample(names, len(names))
        state = dict(rnd.choice(STATES))
        seeds = rnd.choice(SEEDS)
        if state.get("rooted") == "most":
            state["rooted"] = max(1, seeds * 3 // 4)
        if "kilograms" not in state:
            state["seeds"] = max(seeds, int(state.get("rooted", 0)))
        yield {"name": turn.pop(), "today": rnd.choice(TODAY), "said": state}


def short(text: str) -> str:
    """A short digest of a text."""
    return hashlib.blake2b(text.encode(), digest_size=6).hexdigest()


def of(lot: dict[str, Any], schema: dict[str, Any]) -> tuple[str, str]:
    """Digests of the page and of the JSON of one lot."""
    page, recipe = asking.ask(lot["name"], lot["said"], date.fromisoformat(lot["today"]))
    if recipe is None:
        return short(page), short(page)
    kept = pruned(recipe, schema["$defs"]["Recipe"], schema["$defs"])
    for key in LEFT_OUT:
        kept.pop(key, None)
    return short(page), short(json.dumps(kept, sort_keys=True))


def pruned(value: Any, schema: dict[str, Any], defs: dict[str, Any]) -> Any:
    """The value with the keys that the schema names only."""
    for one in schema.get("anyOf", [schema]):
        if "$ref" in one and isinstance(value, dict):
            return pruned(value, defs[one["$ref"].rsplit("/", 1)[1]], defs)
        if "items" in one and isinstance(one["items"], dict) and isinstance(value, list):
            return [pruned(item, one["items"], defs) for item in value]
        if "properties" in one and isinstance(value, dict):
            return {k: pruned(value[k], part, defs) for k, part in one["properties"].items() if k in value}
    return value


def changed(kept: list[dict[str, Any]]) -> list[tuple[dict[str, Any], str]]:
    """The lots whose page or JSON differs from what was kept."""
    schema = json.loads(SCHEMA.read_text("utf-8"))
    found = []
    for lot in kept:
        page, recipe = of(lot, schema)
        what = "page" * (page != lot["page"]) + " json" * (recipe != lot["json"])
        if what:
            found.append((lot, what))
    return found


def main() -> int:
    """Write the digests, or list the lots that changed."""
    if sys.argv[1:] == ["write"]:
        schema = json.loads(SCHEMA.read_text("utf-8"))
        lots = []
        for lot in draw(asking.names()):
            page, recipe = of(lot, schema)
            lots.append({**lot, "page": page, "json": recipe})
        KEPT.write_text("".join(json.dumps(lot, ensure_ascii=False) + "\n" for lot in lots), "utf-8")
        return 0
    found = changed([json.loads(line) for line in KEPT.read_text("utf-8").splitlines()])
    for lot, what in found[:40]:
        print(what, json.dumps(lot, ensure_ascii=False))
    print(f"{len(found)} changed")
    return bool(found)


if __name__ == "__main__":
    sys.exit(main())
