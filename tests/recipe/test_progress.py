"""What is left of a treatment: spells are credited in their order."""

from __future__ import annotations

import pytest

from coldspell.decide.progress import steps_left
from coldspell.records.model import Quantity, Step

SOAK = Step("soak", hours=Quantity(24, 24))
COLD = Step("cold_moist", days=Quantity(90, 120))
WARM = Step("warm_moist", days=Quantity(60, 60))
HELPS = Step("warm_moist", days=Quantity(60, 60), need="optional")
OPEN = Step("scarify_mechanical")


@pytest.mark.parametrize(
    ("steps", "cold", "warm", "left"),
    [
        ((SOAK, COLD), 0, 0, ["soak", "cold_moist 90-120"]),
        ((SOAK, COLD), 30, 0, ["cold_moist 60-90"]),
        ((SOAK, COLD), 90, 0, []),
        ((SOAK, COLD), 0, 30, ["cold_moist 90-120"]),  # warmth is no part of it, but it lay moist
        ((WARM, COLD), 60, 0, ["warm_moist 60-60", "cold_moist 90-120"]),  # cold before its warmth is lost
        ((WARM, COLD), 30, 60, ["cold_moist 60-90"]),
        ((WARM, COLD), 30, 20, ["warm_moist 40-40", "cold_moist 90-120"]),
        ((HELPS, COLD), 30, 0, ["cold_moist 60-90"]),  # they went without the warmth that only helps
        ((COLD, WARM, COLD), 90, 0, ["warm_moist 60-60", "cold_moist 90-120"]),
        ((COLD, WARM, COLD), 150, 60, ["cold_moist 60-90"]),
        ((OPEN, COLD), 30, 0, ["cold_moist 60-90"]),
        ((COLD, OPEN), 100, 0, ["scarify_mechanical"]),
    ],
)
def test_steps_left(steps: tuple[Step, ...], cold: float, warm: float, left: list[str]) -> None:
    found = steps_left(steps, cold, warm)
    assert [f"{s.do} {s.days.low:g}-{s.days.high:g}" if s.days else s.do for s in found] == left
