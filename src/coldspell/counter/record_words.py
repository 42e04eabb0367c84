"""Say what stands in a record, in words and lines, as the species commands and the web page show it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from coldspell.records.model import Quantity, Step, Treatment, WhenValue

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_UNITS = {
    "days": "days", "hours": "h", "minutes": "min", "celsius": "°C", "celsius_max": "°C", "celsius_min": "°C",
    "percent": "%",
    "years": "years", "moisture_percent": "% moisture", "depth_mm": "mm", "length": "mm", "width": "mm",
    "thickness": "mm", "mg_per_l": "mg/l", "hours_light": "h light a day", "frost_celsius": "°C",
    "chilling_celsius": "°C", "heat_celsius": "°C", "moisture_percent_below": "% moisture",
    "graft_years": "years", "graft_mm": "mm", "test_days": "days", "days_dry": "days",
    "grams_per_litre": "g/l",
}  # fmt: skip
_LABELS = {
    "celsius_max": "at most", "celsius_min": "at least", "moisture_percent_below": "dried below",
    "frost_celsius": "frost of",
    "chilling_celsius": "chilling below", "heat_celsius": "heat over", "graft_years": "grafted after",
    "graft_mm": "grafted at a thickness of", "depth_mm": "depth", "true_to_type": "true to type",
    "root_first": "root first", "test_days": "length of the test", "days_dry": "half dead when dry for",
    "grams_per_litre": "weighs", "cut": "cut open:", "cannot_be_cut": "too fine to cut:",
    "class_": "class", "percent": "germination",
}  # fmt: skip
_PLAIN = frozenset({"days", "hours", "minutes", "celsius", "years", "moisture_percent", "value", "behaviour"})


def quantity(value: Quantity) -> str:
    """Return a quantity without its unit: ``90 to 120 (usually 100)``."""
    low, high = _number(value.low), _number(value.high)
    if low == high:
        return low
    usual = f" (usually {_number(value.usual)})" if value.usual is not None else ""
    return f"{low} to {high}{usual}"


def _number(value: float) -> str:
    text = f"{value:,.4f}".rstrip("0").rstrip(".")
    return text.replace(",", " ") if abs(value) >= 10_000 else text.replace(",", "")


def step(one: Step) -> str:
    """Return a step in a few words: ``cold moist 90 to 120 days at 1 to 5 °C``."""
    parts = [one.do.replace("_", " ")]
    if one.substance:
        parts.append(one.substance)
    for key in ("days", "hours", "minutes", "mg_per_l", "hours_light"):
        value = getattr(one, key)
        if value is not None:
            parts.append(f"{quantity(value)} {_UNITS[key]}")
    if one.celsius is not None:
        parts.append(f"at {quantity(one.celsius)} °C")
    if one.outdoors:
        parts.append("outdoors")
    if one.until != "ready":
        parts.append(f"until {one.until}")
    if one.need == "optional":
        parts.append("(optional)")
    if one.note:
        parts.append(f"[{one.note}]")
    return " ".join(parts)


def condition(when: Mapping[str, WhenValue]) -> str:
    """Return for which lots a treatment is: ``moisture fresh; shell intact or cracked``."""
    parts = []
    for fact, wanted in when.items():
        choices = wanted if isinstance(wanted, list) else [wanted]
        words = " or ".join(f"{one:g}" if isinstance(one, float) else str(one) for one in choices)
        parts.append(f"{fact.replace('_', ' ')} {words.replace('_', ' ')}")
    return "; ".join(parts)


def treatment(one: Treatment) -> str:
    """Return the steps of a treatment, one after the other, and for which lots."""
    steps = ", then ".join(step(each) for each in one.steps) or "nothing"
    lots = f" ({condition(one.when)})" if one.when else ""
    return f"{one.name}{lots}: {steps}"


def topic(value: Any) -> str:
    """Return any other topic of a record as one line."""
    if isinstance(value, Quantity):
        return quantity(value)
    if isinstance(value, Treatment):
        return treatment(value)
    if isinstance(value, tuple):
        return "; ".join(topic(item) for item in value)
    if isinstance(value, Mapping):
        return "; ".join(f"{key}: {topic(item)}" for key, item in value.items())
    if isinstance(value, Struct):
        names = (name for name in value.__struct_fields__ if name != "cite")
        parts = [_part(name, getattr(value, name)) for name in names]
        return ", ".join(part for part in parts if part)
    return "nothing" if value is None else str(value)


def _part(name: str, value: Any) -> str:
    if value is None or value is False or value == ():
        return ""
    label = _LABELS.get(name, name.replace("_", " "))
    if name == "months":
        return " to ".join(dict.fromkeys(MONTHS[month - 1] for month in value))
    if isinstance(value, Quantity):
        text = f"{quantity(value)} {_UNITS.get(name, '')}".strip()
        return text if name in _PLAIN else f"{label} {text}"
    if value is True:
        return label
    if name in ("behaviour", "says", "kind", "signs", "question"):
        return str(value)
    if isinstance(value, tuple):
        return f"{label}: {', '.join(topic(item) for item in value)}"
    return f"{label} {topic(value)}"
