"""A trouble with seed of which nobody said what plant it is (common practice, as ``troubles.yaml``)."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from coldspell.api import Library, shipped
from coldspell.cli.main import main
from coldspell.counter.trouble import WORDS, Trouble
from coldspell.errors import ColdspellError
from coldspell.views import trouble_page

TODAY = date(2027, 1, 20)


def kinds(what: str, **said: Any) -> dict[str, Trouble]:
    """The answers by the first word of their kind."""
    found = shipped().trouble_by_kind(what, today=TODAY, **said)
    return {one.name.split(",")[0].split(" ")[0]: one for one in found}


@pytest.mark.parametrize("what", WORDS)
def test_every_trouble_has_an_answer_for_several_kinds(what: str) -> None:
    found = shipped().trouble_by_kind(what, today=TODAY)
    page = trouble_page.by_kind(found, shipped().texts, 80)
    assert len(found) >= 3
    assert len({one.name for one in found}) == len(found)
    assert max(map(len, page.splitlines())) <= 80
    assert "Which plant is it?" in page
    flat = " ".join(page.split()).lower()
    assert all(one.name.lower() in flat for one in found)
    assert "{" not in page


def test_a_mouldy_kernel_takes_its_neighbours_only_among_moist_nuts() -> None:
    found = kinds("mould", mould="kernel")
    assert "neighbours" in found["acorns"].verdict
    assert "neighbours" not in found["pips"].verdict


def test_frost_is_told_apart_by_what_the_seed_is() -> None:
    found = kinds("temperature", frozen="yes")
    assert "die of a few degrees" in found["acorns"].verdict
    assert "stands a few degrees" in found["walnuts"].verdict
    assert "does not stand frost" in found["seed"].verdict or "does not stand frost" in str(found)


def test_dried_out_seed_is_told_apart_by_what_drying_does() -> None:
    """Conifers may be dried again: Danielson and Tanaka 1978, as in ``troubles.yaml``."""
    found = kinds("dry", days_dry=40, cold_days_done=30)
    assert found["acorns"].keep == "test"
    assert "from the beginning" in found["walnuts"].verdict
    assert "air-dried" in found["pines"].verdict.lower()


def test_nothing_behind_a_hard_coat_is_no_failure() -> None:
    assert "no day has counted" in kinds("nothing", cold_days_done=60)["peas"].verdict


def test_seed_of_warm_countries_is_never_kept_cool() -> None:
    for what in WORDS:
        found = [one for one in shipped().trouble_by_kind(what, today=TODAY) if "mango" in one.name]
        assert len(found) == 1
        assert "keep them cool" not in found[0].verdict


def test_the_command_needs_no_plant_and_no_quotation_marks(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trouble", "--what", "mould", "--today", "2027-01-20"]) == 0
    assert "which plant is it?" in capsys.readouterr().out
    assert main(["trouble", "northern", "red", "oak", "--what", "mould", "--today", "2027-01-20"]) == 0
    assert "Quercus rubra" in capsys.readouterr().out
    assert main(["trouble", "--what", "mould", "--today", "2027-01-20", "--format", "json"]) == 0
    assert capsys.readouterr().out.startswith("[")


def test_another_word_is_refused() -> None:
    with pytest.raises(ColdspellError, match="no trouble is called 'fungus'"):
        Library().trouble_by_kind("fungus")


def test_a_kind_to_choose_from_is_typed_as_it_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    words = ["choose", "Nut", "trees", "--gather", "--today", "2026-10-10", "--limit", "50"]
    assert main(words) == 0
    assert "walnut" in capsys.readouterr().out
    assert main(["choose", "oaks"]) == 2
    assert "no kind of plant" in capsys.readouterr().err
