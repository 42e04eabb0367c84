"""What settings say of a lot, where nobody said otherwise."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldspell.settings.keys import SETTINGS


def facts_of(settings: Mapping[str, Any], said: Mapping[str, Any]) -> dict[str, Any]:
    """The facts of a lot that settings add to what was said, by the names of lot files.

    A setting says nothing that was said of the lot, or that what was said rules out: no refrigerator has no
    temperature, and a last frost belongs to its hemisphere.
    """
    found: dict[str, Any] = {}
    for key, value in settings.items():
        fact = SETTINGS[key].fact
        if fact is None or said.get(fact) is not None:
            continue
        found[fact] = value == "south" if key == "hemisphere" else value
    if "none" in (str(said.get("refrigerator")), found.get("refrigerator")):
        found.pop("fridge_celsius", None)  # what is not there has no temperature
    if found.get("refrigerator") == "none" and said.get("fridge_celsius") is not None:
        del found["refrigerator"]  # who measures a refrigerator has one
    south = str(said.get("southern")).lower() in ("true", "yes")
    if said.get("southern") is not None and south != (settings.get("hemisphere") == "south"):
        found.pop("usual_frost", None)
    return found
