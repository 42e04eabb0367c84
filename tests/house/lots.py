"""Lots over all records and seventy states, drawn by a seed: for tests and benchmarks."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from typing import Any
from zlib import crc32

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


def part(names: Iterable[str], every: int, turn: int = 0) -> list[str]:
    """One name of so many, by the name alone: a record that is added moves no other into the part or out."""
    return [name for name in names if crc32(name.encode()) % every == turn]


def _turns(names: Sequence[str], count: int, seed: int) -> Iterator[tuple[str, random.Random]]:
    """All names in one order after another, each with chances of its own, whatever records are added."""
    for at in range(count):
        number, place = divmod(at, len(names))
        if place == 0:
            keys = {name: crc32(f"{seed}/{number}/{name}".encode()) for name in names}
            order = sorted(names, key=lambda name: (keys[name], name))
        yield order[place], random.Random(f"{seed}/{number}/{order[place]}")


def draw(names: Sequence[str], count: int = 3000, seed: int = 9) -> Iterator[dict[str, Any]]:
    """Lots over all records and states; each record is met in turn."""
    for name, rnd in _turns(names, count, seed):
        state = dict(rnd.choice(STATES))
        seeds = rnd.choice(SEEDS)
        if state.get("rooted") == "most":
            state["rooted"] = max(1, seeds * 3 // 4)
        if "kilograms" not in state:
            state["seeds"] = max(seeds, int(state.get("rooted", 0)))
        yield {"name": name, "today": rnd.choice(TODAY), "said": state}


AWKWARD: tuple[tuple[str, tuple[Any, ...]], ...] = (
    ("collected", (-3, -20, -45, -75, -130, -250, -420, 15)),
    ("sow", (10, 40, 75, 110, 150, 200, 320, 500, 800)),
    ("last_frost", (60, 140, 260)),
    ("sown", (-5, -60, -200, -400)),
    ("stored_years", (0.3, 1, 3, 7, 30)),
    ("days_dry", (0, 1, 7, 20, 60, 200)),
    ("gathered", ("green", "ripe", "ground_autumn", "ground_spring", "bought")),
    ("pulp", ("yes", "no")),
    ("shell", ("husk", "cracked", "kernel")),
    ("frozen", ("yes", "no")),
    ("heated", ("yes", "no")),
    ("swollen", ("yes", "no", "some")),
    ("rooted", ("one", "few", "most", "all")),
    ("root_mm", (3, 30, 70)),
    ("soft", ("yes",)),
    ("mould", ("shell", "kernel")),
    ("holes", ("yes",)),
    ("smell", ("earthy", "sour", "rotten", "almond")),
    ("cut", ("0/4", "0/12", "1/10", "6/10", "19/20", "2/60")),
    ("float", ("0/20", "12/20")),
    ("cold_days_done", (10, 45, 90, 200, 500)),
    ("warm_days_done", (20, 90, 200)),
    ("cold_break_days", (2, 10, 40)),
    ("refrigerator", ("own", "food", "none")),
    ("fridge_celsius", (-2, 2, 5, 8, 12)),
    ("winter", ("cold", "mild", "none")),
    ("grow_in", ("bed", "site")),
    ("children", (True,)),
    ("animals", (True,)),
    ("professional", (True,)),
    ("sure", (False,)),
    ("want", (3, 60, 4000)),
    ("units", ("us", "both")),
    ("medium", (["sand"], ["perlite"], ["sawdust"], ["sphagnum"], ["peat", "coir"], ["paper"])),
    ("container", ("400x300x150",)),
    ("fridge_litres", (2, 20)),
    ("origin", ("north", "south")),
    ("place", ("Ireland", "California, USA")),
)
"""Every fact of a lot with awkward values; numbers of dates are days from today."""
DATED = ("collected", "sow", "last_frost", "sown")


def awkward(names: Sequence[str], count: int, seed: int = 10) -> Iterator[dict[str, Any]]:
    """Lots over all records, every fact of a lot, every day of two years and many sizes, drawn by a seed.

    Each has up to four awkward facts at once. Pairs that no lot can have are drawn too; the program refuses
    them, and that is no fault.
    """
    start = date(2026, 1, 1)
    for name, rnd in _turns(names, count, seed):
        today = start + timedelta(days=rnd.randrange(730))
        said: dict[str, Any] = {"seeds": rnd.choice((*SEEDS, rnd.randrange(1, 300)))}
        moisture = rnd.choice(("fresh", "dried", None))
        said |= {"moisture": moisture} if moisture else {}
        said |= {"southern": True} if rnd.random() < 0.2 else {}
        for fact, values in rnd.sample(AWKWARD, rnd.randrange(5)):
            value = rnd.choice(values)
            if fact in DATED:
                value = (today + timedelta(days=value)).isoformat()
            if fact == "rooted":
                value = _rooted(value, said["seeds"])
            said[fact] = value
        yield {"name": name, "today": today.isoformat(), "said": said}


def _rooted(word: str, seeds: int) -> int:
    return {"one": 1, "few": max(1, seeds // 4), "most": max(1, seeds * 3 // 4), "all": seeds}[word]
