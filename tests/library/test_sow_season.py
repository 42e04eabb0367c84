"""The season of sowing, held against lists of what others sow when.

* SUMMER: "June: it is time to start biennials" (bestplants.com/time-to-start-biennials), without mullein and
  pansy, which is sown in late winter as well; Country Garden UK, "What are biennials?" (daisy, forget-me-not,
  wallflower). Both read on 2026-11-30.
* NOT_SPRING_ALONE: Easton Walled Gardens on sweet peas; Serendipity Seeds on bluebonnets; both read that day.
"""

from __future__ import annotations

import pytest

from coldspell.api import shipped

SUMMER = (
    "Campanula medium, Digitalis purpurea, Alcea rosea, Myosotis sylvatica, Dianthus barbatus, "
    "Bellis perennis, Erysimum cheiri"
)
NOT_SPRING_ALONE = {"Lathyrus odoratus": "either", "Lupinus texensis": "autumn"}


def _season(name: str) -> str | None:
    steps = shipped().records.get(name).treatments[0].steps
    return next((step.season for step in steps if step.do == "sow"), None)


@pytest.mark.parametrize("name", SUMMER.split(", "))
def test_what_others_sow_in_early_summer(name: str) -> None:
    assert _season(name) == "summer"


@pytest.mark.parametrize(("name", "season"), NOT_SPRING_ALONE.items())
def test_what_others_sow_in_autumn(name: str, season: str) -> None:
    assert _season(name) == season
