"""Numbers of practice that cannot be: below nothing, above the whole, falling, or of another unit."""

from __future__ import annotations

from collections.abc import Iterable

from coldspell.rules.findings import Findings
from coldspell.rules.model import Number

_UNIT = {
    "days": "days",
    "hours": "hours",
    "years": "years",
    "mm": "mm",
    "litres": "litres",
    "celsius": "°C",
    "percent": "percent",
}
"""The unit that the last word of a name promises."""
_RISING = frozenset(_UNIT.values())
_CELSIUS = (-40.0, 150.0)


def hold_numbers(numbers: Iterable[Number], out: Findings) -> None:
    """Note every number that no lot can be reckoned with."""
    for number in numbers:
        for what, mend in _faults(number):
            out.error(number.place, "practice", f"{number.name}: {what}", mend)


def _faults(number: Number) -> Iterable[tuple[str, str]]:
    unit = _UNIT.get(number.name.rpartition("_")[2])
    if unit is not None and number.unit != unit:
        yield f"the unit must be {unit}, not {number.unit}", "Turn the value into that unit."
        return
    low, high = min(number.value), max(number.value)
    if number.unit == "°C":
        if not _CELSIUS[0] <= low <= high <= _CELSIUS[1]:
            yield f"no seed is kept or sown at {low:g} to {high:g} °C", "Write degrees Celsius."
    elif not 0 <= low <= high < float("inf") or not high:
        yield f"{low:g} {number.unit} cannot be", "Write a number above 0."
    if number.unit == "percent" and high > 100:
        yield f"{high:g} percent is more than all", "Write 0 to 100."
    if number.unit in _RISING and len(number.value) == 2 and number.value[0] > number.value[1]:
        yield f"{number.value[0]:g} to {number.value[1]:g} runs backward", "Write the lower number first."
