"""The one temperature of a home refrigerator: how much of a day counts there, and how long the cold lasts."""

from __future__ import annotations

import math
from collections.abc import Mapping

from msgspec.structs import replace

from coldspell.arithmetic.lengths import StepDays
from coldspell.arithmetic.responses import response
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import ResponseFields, as_fields
from coldspell.decide.practice import Practice
from coldspell.decide.tables import Tables
from coldspell.decide.treatment import Candidate
from coldspell.lot.lot import Lot
from coldspell.records.model import Quantity, Step
from coldspell.rules.model import FactValue

_ROUNDING = 1e-6
"""So that 30 days at two thirds are 45, not 46."""


def cold_share(lot: Lot, base: Mapping[str, FactValue], tables: Tables) -> float | None:
    """How much of a day counts in the grower's refrigerator [percent], by the response of the kind."""
    if lot.fridge_celsius is None:
        return None
    told = tables.session.decide(Ask.RESPONSE, base)
    curve = as_fields(ResponseFields, told.fields).curve
    return 100 * response(curve).weight(lot.fridge_celsius)


def times_longer(share: float | None, practice: Practice) -> float:
    """How many times as long a cold lasts where only a share of each day counts [percent].

    A refrigerator where less than `counts_share` counts does not serve, so it makes nothing longer: the page
    asks for a colder one. Nor does one below freezing.
    """
    return 1.0 if share is None or not practice.counts_share <= share < 100 else 100 / share


def made_longer(candidate: Candidate, times: float) -> Candidate:
    """A treatment whose spells of moist cold last so many times as long."""
    timed = tuple(_longer(step, times) for step in candidate.timed)
    more = sum(_planned(new) - _planned(old) for new, old in zip(timed, candidate.timed, strict=True))
    days = None if candidate.moist_days is None else candidate.moist_days + more
    cold = None if candidate.cold_days is None else candidate.cold_days + more
    return replace(candidate, timed=timed, moist_days=days, cold_days=cold, times=times)


def _longer(step: StepDays, times: float) -> StepDays:
    if step.name != "cold_moist" or step.until != "ready":
        return step
    low, high, usual = (
        float(math.ceil(days * times - _ROUNDING)) for days in (step.low_days, step.high_days, _planned(step))
    )
    return replace(step, low_days=low, high_days=high, usual_days=usual)


def _planned(step: StepDays) -> float:
    return step.high_days if step.usual_days is None else step.usual_days


def days_at_home(step: Step, times: float) -> Quantity | None:
    """Days of a step of the record, in the refrigerator of the grower."""
    if step.days is None or times == 1 or step.do != "cold_moist" or step.until != "ready":
        return step.days
    days, usual = step.days, step.days.usual
    low, high = math.ceil(days.low * times - _ROUNDING), math.ceil(days.high * times - _ROUNDING)
    return Quantity(low, high, None if usual is None else math.ceil(usual * times - _ROUNDING))
