"""Checks of single numbers against `coldspell.check.limits`, and of numbers that cross each other."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

from coldspell.check.base import Fault, KeyPath, RecordFile, Surroundings, ends, shown, steps
from coldspell.check.limits import FieldLimit, limits

_ACCEPT = "Check number and unit, or accept this with the reason."


def beyond_plausible(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A number beyond all that is known of seed: another unit, or a slip of a finger."""
    for path, value, limit in _limited(record.values):
        low, high = ends(value)
        if limit.most is not None and high > limit.most:
            what = f"{_key(path)} of {shown(value)} is more than {limit.most:g}"
        elif limit.least is not None and low < limit.least:
            what = f"{_key(path)} of {shown(value)} is less than {limit.least:g}"
        else:
            continue
        yield Fault(path, what, f"{limit.because} {_ACCEPT}")


def range_too_wide(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A range so wide that it tells nobody what to do: a slip, or several ways written as one."""
    for path, value, limit in _limited(record.values):
        low, high = ends(value)
        base = low or limit.from_zero
        if limit.wide is not None and base and base > 0 and high > limit.wide * base:
            why = f"the high end is more than {limit.wide:g} times the low one"
            why = why if low else "from nothing to very much"
        elif limit.span is not None and high - low > limit.span:
            why = f"the ends are more than {limit.span:g} apart"
        else:
            continue
        what = f"{_key(path)} of {shown(value)}: {why}"
        mend = "Check both ends; give what is usual, or two treatments; or accept this with the reason."
        yield Fault(path, what, mend)


def _key(path: KeyPath) -> str:
    """The key of a field as messages name it: that of the map above it where it says nothing by itself."""
    return str(path[-2] if path[-1] == "value" else path[-1])


def _limited(values: dict[str, Any]) -> Iterator[tuple[KeyPath, Any, FieldLimit]]:
    for path, value, field, do in _quantities(values):
        for limit in _by_field().get(field, ()):
            if not limit.do or do in limit.do:
                yield path, value, limit


@cache
def _by_field() -> dict[str, list[FieldLimit]]:
    found: dict[str, list[FieldLimit]] = {}
    for one in limits().fields:
        found.setdefault(one.field, []).append(one)
    return found


def _quantities(
    value: Any, path: KeyPath = (), field: str = "", do: str = ""
) -> Iterator[tuple[KeyPath, Any, str, str]]:
    """Every number and range: where it stands, the number, its field without places in lists, its step."""
    if isinstance(value, dict):
        word = value.get("do", "")
        for key, item in value.items():
            yield from _quantities(item, (*path, key), f"{field}.{key}" if field else key, word or do)
    elif isinstance(value, list) and value and isinstance(value[0], dict):
        for index, item in enumerate(value):
            yield from _quantities(item, (*path, index), field, do)
    elif field in _by_field():
        yield path, value, field, do


def limits_crossed(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Two numbers that cannot both be right: nights warmer than days, seed kept or treated where it dies."""
    values = record.values
    sowing, killed, storage = (values.get(key, {}) for key in ("sowing", "killed_by", "storage"))
    coolest, warmest = sowing.get("celsius_min"), sowing.get("celsius_max")
    if coolest is not None and warmest is not None and ends(coolest)[0] > ends(warmest)[1]:
        what = f"the coolest soil, {shown(coolest)} °C, is warmer than the warmest, {shown(warmest)} °C"
        yield Fault(("sowing", "celsius_min"), what, "Correct one of the two.")
    kept: list[tuple[KeyPath, Any]] = []
    if "celsius" in storage:
        kept.append((("storage", "celsius"), storage["celsius"]))
    for path, _, step in steps(values):
        night, day = step.get("celsius_night"), step.get("celsius")
        if night is not None and day is not None and ends(night)[0] >= ends(day)[1]:
            what = f"the nights, {shown(night)} °C, are no cooler than the days"
            yield Fault((*path, "celsius_night"), what, "Exchange the two, or leave the night out.")
        if "celsius" in step and not step.get("outdoors"):
            kept.append(((*path, "celsius"), step["celsius"]))
    yield from _killed(killed, kept, storage)


def _killed(killed: Any, kept: list[tuple[KeyPath, Any]], storage: Any) -> Iterator[Fault]:
    for path, celsius in kept:
        low, high = ends(celsius)
        if "chilling_celsius" in killed and high < ends(killed["chilling_celsius"])[0]:
            what = f"{shown(celsius)} °C, but {shown(killed['chilling_celsius'])} °C kills it (killed_by)"
            yield Fault(path, what, "Correct one of the two.")
        if "heat_celsius" in killed and low > ends(killed["heat_celsius"])[1]:
            what = f"{shown(celsius)} °C, but {shown(killed['heat_celsius'])} °C kills it (killed_by)"
            yield Fault(path, what, "Correct one of the two.")
    if "moisture_percent_below" in killed and "moisture_percent" in storage:
        least = killed["moisture_percent_below"]
        if ends(storage["moisture_percent"])[1] < ends(least)[0]:
            what = f"stored at {shown(storage['moisture_percent'])} %, but it dies below {shown(least)} %"
            yield Fault(("storage", "moisture_percent"), what, "Correct one of the two.")
