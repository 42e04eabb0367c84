"""The decisions of the rules for which the program asks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import cast

from coldspell.rules.model import FactValue


class Ask:
    """The decisions that the program asks for by name."""

    AFTER_SOWING = "after_sowing"
    AGE = "age"
    ALIVE = "alive"
    ARM_STEPS = "arm_steps"
    ARMS = "arms"
    BARE = "bare"
    BULK = "bulk"
    CALLER = "caller"
    CAUTIONS = "cautions"
    CHOICE = "choice"
    CLOSURE = "closure"
    COLD_BROKEN = "cold_broken"
    COMING_UP = "coming_up"
    CUT_TEST = "cut_test"
    EMERGENCE = "emergence"
    FALLBACK = "fallback"
    FIGURE = "figure"
    FINISH = "finish"
    GROWN_IN = "grown_in"
    HARM = "harm"
    HAZARD = "hazard"
    IDENTITY = "identity"
    IN_GROUND = "in_ground"
    INSTEAD = "instead"
    LAYOUT = "layout"
    LOOKS = "looks"
    MATERIAL = "material"
    MEANWHILE = "meanwhile"
    MEDIUM = "medium"
    NEEDS = "needs"
    NOTES = "notes"
    OFFSPRING = "offspring"
    OUTCOMES = "outcomes"
    ON_MOULD = "on_mould"
    ON_SPROUTS = "on_sprouts"
    OUTDOORS_WAIT = "outdoors_wait"
    OPENING = "opening"
    PLACE = "place"
    PREPARATION = "preparation"
    RELATIVES = "relatives"
    RESPONSE = "response"
    RIPENING = "ripening"
    ROUTE = "route"
    SEASON = "season"
    SINCE_GATHERED = "since_gathered"
    SOAK_HOURS = "soak_hours"
    SORTING = "sorting"
    SOURED = "soured"
    SOWING_TIME = "sowing_time"
    SPAN = "span"
    START = "start"
    STEP = "step"
    STORED_SINCE = "stored_since"
    TAKEN_DRY = "taken_dry"
    TEST = "test"
    TEST_RESULTS = "test_results"
    TIME = "time"
    TREATMENT = "treatment"
    TRIAL_SIZE = "trial_size"
    TROUBLE_ASK = "trouble_ask"
    TROUBLE_KINDS = "trouble_kinds"
    TROUBLE_TEST = "trouble_test"
    TROUBLE_VERDICT = "trouble_verdict"
    UNTOLD_WINTER = "untold_winter"
    VERDICT = "verdict"
    VERDICT_INDOORS = "verdict_indoors"
    VERDICT_OUTDOORS = "verdict_outdoors"
    VERDICT_SOWN = "verdict_sown"
    WAIT = "wait"
    WARMTH = "warmth"
    WATER_KEPT_OUT = "water_kept_out"
    WAYS_OUT = "ways_out"
    WETNESS = "wetness"
    WHAT_IF = "what_if"
    WRITE_DOWN = "write_down"


VERDICTS = (Ask.VERDICT, Ask.VERDICT_OUTDOORS, Ask.VERDICT_INDOORS, Ask.VERDICT_SOWN)
"""Exactly one of them is asked for a lot, by its route."""
PER_TREATMENT = (Ask.TREATMENT, Ask.START, Ask.SEASON, Ask.SPAN, Ask.SOWING_TIME)
OF_TRIALS = (Ask.ARMS, Ask.ARM_STEPS, Ask.OUTCOMES, Ask.HARM, Ask.TRIAL_SIZE, Ask.WRITE_DOWN)
"""Decisions on how to learn what a kind wants: asked where nothing is known of it, or a trial is wanted."""
ON_TROUBLE = (Ask.TROUBLE_ASK, Ask.TROUBLE_TEST, Ask.TROUBLE_VERDICT)
"""Decisions that are asked where somebody tells of a trouble."""
AT_THE_COUNTER = (*ON_TROUBLE, Ask.TROUBLE_KINDS, Ask.CALLER, Ask.CHOICE)
"""Decisions that no recipe asks for."""
OF_THE_LOT = (
    *(Ask.STORED_SINCE, Ask.SINCE_GATHERED, Ask.TAKEN_DRY, Ask.UNTOLD_WINTER, Ask.COLD_BROKEN),
    *(Ask.GROWN_IN, Ask.WATER_KEPT_OUT, Ask.SOURED),
)
"""Decisions on the lot as it was told, before all others."""
ASKED_APART = frozenset(
    (
        *(*PER_TREATMENT, *OF_TRIALS, *AT_THE_COUNTER),
        *(Ask.STEP, Ask.HAZARD, Ask.NOTES, Ask.RELATIVES, Ask.FALLBACK, Ask.EMERGENCE, Ask.IN_GROUND),
        *(Ask.OPENING, Ask.RIPENING, *OF_THE_LOT),
    )
)
"""Decisions that are not part of the one run over all: asked for each treatment, step or hazard, or later."""


def values_of(facts: Mapping[str, object]) -> dict[str, FactValue]:
    """Facts of the typed tables above as what rules are asked with."""
    return cast("dict[str, FactValue]", facts)
