"""What answers tell the program: the fields of each decision, with the words that it understands."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Literal, TypeVar, cast

from msgspec import Struct

from coldspell.decide.names.asks import Ask
from coldspell.decide.names.closed import BreakCosts, Fits, Into, Material, Packs, YesNo

F = TypeVar("F", bound=Struct)


class RouteFields(Struct, frozen=True):
    """What a route does."""

    steps: Literal["none", "plain", "whole", "whole_if_dated"]
    sown: Literal["never", "later", "first_day", "outdoor_day", "target", "when_waited"]
    lies: Literal["no", "cold", "warm", "dry", "pot", "cold_pot", "outdoors", "as_it_lies"]
    page: Literal["plan", "test", "question", "trial", "refusal"]
    waits_from: Literal["none", "ready", "gathered"]
    date: Literal["used", "year", "ignored"]
    losses: Literal["as_said", "bed"]


class PreparationFields(Struct, frozen=True):
    """What a preparation does, and when."""

    do: Literal["test", "clean", "remove_pulp", "remove_husk", "remove_wings", "soak", "dry_back"]
    when: Literal["first", "judged", "before_treatment", "before_bag", "read"]
    under_way: Literal["again", "done"]
    takes: Literal["nothing", "moment", "day", "two_days", "soak"]


class MediumFields(Struct, frozen=True):
    """How a form of medium is filled, and when it is first looked at."""

    packs: Packs
    medium_per_seed: float
    first_look_days: float
    holder: Literal["bag", "tub", "jar", "pit", "tray"]
    after_layers: YesNo


class ResponseFields(Struct, frozen=True):
    """By which curve a temperature counts as cold."""

    curve: Literal["usual", "crab_apple", "horse_chestnut"]


class BulkFields(Struct, frozen=True):
    """What a litre of seed weighs, where no record says."""

    grams_per_litre: float


class MaterialFields(Struct, frozen=True):
    """What a material is to the sums of water."""

    same_as: Material


class LayoutFields(Struct, frozen=True):
    """How many layers may lie over one another."""

    layers: Literal["one", "many"]


class TreatmentFields(Struct, frozen=True):
    """How a treatment stands among the others."""

    rank: Literal["under_way", "use", "possible", "slower", "refused"]
    followed: YesNo
    adds_when: YesNo
    suits: YesNo


class StartFields(Struct, frozen=True):
    """When a treatment begins, and what becomes of the sowing day."""

    date: Literal["kept", "season", "dropped"]
    begins: Literal["in_time", "early", "at_once"]


class BareFields(Struct, frozen=True):
    """How long pots may stay bare."""

    waits: Literal["soil", "tests", "tests_season", "weeks", "quick", "usual", "slow"]


class SpanFields(Struct, frozen=True):
    """Which of a range of days without a usual value is planned with."""

    takes: Literal["long", "middle", "short"]


class SowingTimeFields(Struct, frozen=True):
    """When in the year it is sown."""

    time: Literal["early", "spring", "summer", "autumn", "either", "frost_free"]


class SeasonFields(Struct, frozen=True):
    """When dry seed is sown outdoors."""

    season: Literal["always", "late_autumn", "autumn"]


class EmergenceFields(Struct, frozen=True):
    """Which seasons must pass in the ground before it comes up."""

    rests: Literal["warm", "none", "next_spring", "winter", "summer_winter", "two_winters"]


class InGroundFields(Struct, frozen=True):
    """Which seasons must still pass from the day it is sown or potted."""

    left: Literal["as_it_rests", "warm", "none", "shoot"]


class OpeningFields(Struct, frozen=True):
    """Whether something stands before the answer."""

    opens: YesNo


class AfterSowingFields(Struct, frozen=True):
    """What is done for seed that is sown, and on which day."""

    do: Literal["hold", "test"]
    day: Literal["now", "up", "failed"]


class OutdoorsWaitFields(Struct, frozen=True):
    """Whether seed waits for the season outdoors."""

    waits: YesNo


class TimeFields(Struct, frozen=True):
    """Whether the treatment fits before the sowing day."""

    fits: Fits


class AliveFields(Struct, frozen=True):
    """Whether the seed is soaked and treated as fresh; whether it is said where only the genus is known."""

    revives: YesNo
    doubted: YesNo


class FinishFields(Struct, frozen=True):
    """Whether seed is covered, what it is sown into, and whether mesh goes over it."""

    covered: YesNo
    into: Into
    mesh: YesNo


class WaitFields(Struct, frozen=True):
    """Whose days it may wait."""

    days: Literal["record", "none"]


class WarmthFields(Struct, frozen=True):
    """Whether a warmest soil is named, and whether its sentence is printed."""

    limit: YesNo
    shown: YesNo


class FigureFields(Struct, frozen=True):
    """Whose sprouting figure is reckoned with, what age or drying took, how far lots lie apart."""

    sprouting: Literal["record", "practice", "withheld"]
    loss: Literal["none", "aged", "old", "dried", "left_out"]
    spread: Literal["usual", "wide"]


class WayOutFields(Struct, frozen=True):
    """Which day a way out names."""

    date: Literal["sow", "next", "spring", "none"]


class NoteFields(Struct, frozen=True):
    """Whether a sentence stands among the notes."""

    note: Literal["first", "last", "no"]


class PlaceFields(Struct, frozen=True):
    """Whether its sentence stands among the notes, and whether it takes up room in the cold."""

    note: Literal["first", "last", "no"]
    cold_room: YesNo


class FallbackFields(Struct, frozen=True):
    """Whether common practice stands in for a record."""

    practice: YesNo


class RipeningFields(Struct, frozen=True):
    """Whether what a record does as the seed ripens is told on the day of a step."""

    as_it_ripens: Literal["told", "left_out"]


class SoakHoursFields(Struct, frozen=True):
    """By which number of practice dry seed is soaked."""

    hours: Literal["recalcitrant", "conifer", "stone", "nut", "pip"]


class WaterKeptOutFields(Struct, frozen=True):
    """Whether a hard coat has kept water out."""

    shut: YesNo


class SouredFields(Struct, frozen=True):
    """Whether its smell tells that it has lain moist."""

    moist: YesNo


class StoredSinceFields(Struct, frozen=True):
    """How long it counts as stored."""

    age: Literal["as_said", "since_gathered"]


class SinceGatheredFields(Struct, frozen=True):
    """How it counts as gathered, and whether it has dried since."""

    gathered: Literal["as_said", "ripe"]
    moisture: Literal["as_said", "dried"]


class TakenDryFields(Struct, frozen=True):
    """Whether it counts as dried."""

    moisture: Literal["as_said", "dried"]


class ColdBrokenFields(Struct, frozen=True):
    """What a break in warmth costs of the cold before it, and how much is left, in percent."""

    costs: BreakCosts
    left_percent: float


class UntoldWinterFields(Struct, frozen=True):
    """Whether the days of a winter are taken for a lot of which nobody told it."""

    taken: Literal["winter", "nothing"]


class GrownInFields(Struct, frozen=True):
    """Where it is grown."""

    place: Literal["as_said", "container", "bed", "site"]


class IdentityFields(NoteFields, frozen=True):
    """Whether its sentence stands among the notes, and how soon the bag is looked at every week."""

    looks: Literal["usual", "early"]


class RelativesFields(Struct, frozen=True):
    """Whose practice stands in for a kind without a record."""

    follows: Literal["genus", "relatives", "nobody"]


class ArmFields(Struct, frozen=True):
    """One part of a trial, and its share of the seeds in percent."""

    arm: Literal["pot", "sequence", "cold", "warm", "warm_now", "damp", "dry"]
    share: float


class ArmStepFields(Struct, frozen=True):
    """When a step of a part of a trial is done."""

    takes: Literal["day", "none"]
    runs: Literal[
        "start", "begin", "wait", "warm", "cold", "whole", "weeks", "after_weeks", "half_year", "target",
        "another_winter", "next_winter", "springs",
    ]  # fmt: skip


class CautionFields(Struct, frozen=True):
    """In which step a caution stands, and what becomes of it where the plan has no such step."""

    joins: Literal[
        "none",
        "first",
        "cutting",
        "opening",
        "hot_water",
        "flesh",
        "husk",
        "cleaning",
        "packing",
        "mesh",
        "sowing",
    ]
    otherwise: Literal["all_along", "left_out"]


class ComingUpFields(Struct, frozen=True):
    """Whether the days of germination tests are printed."""

    shown: YesNo


class TroubleAskFields(Struct, frozen=True):
    """Which fact of the lot answers a question about a trouble."""

    tells: Literal[
        "name", "smell", "soft", "mould", "rooted", "root_mm", "cold_days_done", "days_dry", "frozen",
        "cold_break_days", "cut", "swollen", "sown", "holes",
    ]  # fmt: skip


class TroubleVerdictFields(Struct, frozen=True):
    """What is kept of a lot in trouble, and when it is looked at again."""

    keep: Literal["all", "firm", "test", "none"]
    again: Literal["today", "soon", "week", "fortnight", "month", "season", "plan", "never"]


class TroubleKindFields(Struct, frozen=True):
    """What troubles hang on, of a kind of seed: its handling, its size, what drying and cold do to it."""

    unit: Literal["nut", "stone", "seed"]
    size: Literal["fine", "small", "large"]
    keeps: Literal["moist", "dry"]
    coat: Literal["open", "hard"]
    grows: Literal["cold", "warm"]
    tree: Literal["nut tree", "fruit tree", "shrub", "conifer", "perennial"]


class CallerFields(Struct, frozen=True):
    """Which fact of the lot answers a question to a caller, and how often there is something to say."""

    tells: Literal[
        "moisture", "days_dry", "stored_years", "gathered", "pulp", "shell", "frozen", "heated", "swollen",
        "rooted", "soft", "mould", "holes", "smell", "cold_days_done", "winter",
    ]  # fmt: skip
    odds: Literal["often", "now_and_then", "seldom"]


class ChoiceFields(Struct, frozen=True):
    """What is true of a kind that may be offered."""

    mark: Literal["easy", "warm", "outlived"]


class PrintedFields(Struct, frozen=True):
    """Whether it stands on the one page."""

    on_page: YesNo


FIELDS: dict[str, type[Struct]] = {
    Ask.ROUTE: RouteFields,
    Ask.PREPARATION: PreparationFields,
    Ask.SORTING: PreparationFields,
    Ask.MEDIUM: MediumFields,
    Ask.BULK: BulkFields,
    Ask.RESPONSE: ResponseFields,
    Ask.MATERIAL: MaterialFields,
    Ask.LAYOUT: LayoutFields,
    Ask.TREATMENT: TreatmentFields,
    Ask.START: StartFields,
    Ask.SPAN: SpanFields,
    Ask.BARE: BareFields,
    Ask.SOWING_TIME: SowingTimeFields,
    Ask.SEASON: SeasonFields,
    Ask.EMERGENCE: EmergenceFields,
    Ask.IN_GROUND: InGroundFields,
    Ask.OPENING: OpeningFields,
    Ask.AFTER_SOWING: AfterSowingFields,
    Ask.OUTDOORS_WAIT: OutdoorsWaitFields,
    Ask.TIME: TimeFields,
    Ask.ALIVE: AliveFields,
    Ask.FINISH: FinishFields,
    Ask.WAIT: WaitFields,
    Ask.WARMTH: WarmthFields,
    Ask.WAYS_OUT: WayOutFields,
    Ask.IDENTITY: IdentityFields,
    Ask.RELATIVES: RelativesFields,
    Ask.ARMS: ArmFields,
    Ask.ARM_STEPS: ArmStepFields,
    Ask.PLACE: PlaceFields,
    Ask.FALLBACK: FallbackFields,
    Ask.FIGURE: FigureFields,
    Ask.RIPENING: RipeningFields,
    Ask.SOAK_HOURS: SoakHoursFields,
    Ask.WATER_KEPT_OUT: WaterKeptOutFields,
    Ask.SOURED: SouredFields,
    Ask.STORED_SINCE: StoredSinceFields,
    Ask.SINCE_GATHERED: SinceGatheredFields,
    Ask.TAKEN_DRY: TakenDryFields,
    Ask.COLD_BROKEN: ColdBrokenFields,
    Ask.UNTOLD_WINTER: UntoldWinterFields,
    Ask.GROWN_IN: GrownInFields,
    Ask.CALLER: CallerFields,
    Ask.CHOICE: ChoiceFields,
    Ask.COMING_UP: ComingUpFields,
    Ask.TROUBLE_ASK: TroubleAskFields,
    Ask.TROUBLE_KINDS: TroubleKindFields,
    Ask.TROUBLE_VERDICT: TroubleVerdictFields,
    Ask.CAUTIONS: CautionFields,
    Ask.LOOKS: PrintedFields,
    Ask.OFFSPRING: PrintedFields,
}


def as_fields(kind: type[F], words: Mapping[str, str] | None) -> F:
    """What an answer tells the program.

    Its words were held against their kinds where the rules were compiled: here nothing evaluates so many.
    """
    found = _KNOWN.get((kind, id(words)))
    if found is None or found[0] is not words:
        assert words is not None, f"no answer tells {kind.__name__}"
        if len(_KNOWN) >= 4096:  # memory stays flat over any number of rule books
            _KNOWN.clear()
        found = _KNOWN[kind, id(words)] = words, _fields(kind, tuple(words), tuple(words.values()))
    return cast(F, found[1])


_KNOWN: dict[tuple[type[Struct], int], tuple[Mapping[str, str], Struct]] = {}
"""Fields of answers by where their words are: those of a rule are the same words for every lot."""


@lru_cache(maxsize=4096)
def _fields(kind: type[Struct], names: tuple[str, ...], words: tuple[str, ...]) -> Struct:
    kinds, told = kind.__annotations__, zip(names, words, strict=True)
    return kind(**{k: float(word) if kinds.get(k) == "float" else word for k, word in told})
