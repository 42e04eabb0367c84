"""Digits with units never stand in rule texts; everything else may."""

from __future__ import annotations

import pytest

from coldspell.errors import Place
from coldspell.rules.findings import Findings
from coldspell.rules.texts import check_text


def faults(text: str, *, reason: bool = False) -> list[str]:
    out = Findings()
    check_text(text, Place("f"), {"gap", "layer"}, out, reason=reason)
    return [f.check for f in out.all]


@pytest.mark.parametrize(
    "text",
    ["25 mm apart", "at 4 °C", "at 4°C",
     "25–50 mm thick", "1.5 l", "1,5 litres", "3-inch pots",
     "40 °F", "a 10 cm layer",
     "30 to 45 days", "12 h", "2/3 of 5 kg", "−3 °C", "10 %", "10% of it", "20 × 30 cm", "4 C", "8 oz",
     "6 weeks", "2 in deep"],
)  # fmt: skip
def test_measures_are_found(text: str) -> None:
    assert faults(text) == ["digits-with-unit"]


@pytest.mark.parametrize(
    "text",
    ["{gap} apart in {layer} of medium", "three months at least", "one volume to 3 of sand",
     "9 in 10 may be empty",
     "pH 5", "step 2 mostly", "in 2 layers", "10 common mistakes", "1:3 by volume", "type 2 chestnuts",
     "7 might do", "3 litters"],
)  # fmt: skip
def test_other_digits_pass(text: str) -> None:
    assert faults(text) == []


def test_a_reason_may_name_time_and_share_but_nothing_a_view_converts() -> None:
    assert faults("After 14 days half of it, 50 %, is lost.", reason=True) == []
    assert faults("Below 4 °C it rests.", reason=True) == ["digits-with-unit"]


@pytest.mark.parametrize("text", ["{gep}", "{}", "{ gap }", "{gap", "gap}", "{gap}}", "{{gap}}"])
def test_placeholders_must_be_declared_and_closed(text: str) -> None:
    assert "placeholder" in faults(text)
