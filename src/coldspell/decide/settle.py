"""A lot as it is understood: what the grower did not say is measured, or taken as the rules say."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal, TypeVar

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.seasons import season_day, season_month
from coldspell.decide.facts import UNKNOWN, lot_facts, yes
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.asks import Ask, values_of
from coldspell.decide.names.fields import (
    ColdBrokenFields,
    GrownInFields,
    SinceGatheredFields,
    SouredFields,
    StoredSinceFields,
    TakenDryFields,
    UntoldWinterFields,
    WaterKeptOutFields,
    as_fields,
)
from coldspell.decide.practice import Practice
from coldspell.decide.record_facts import record_facts
from coldspell.decide.state import DAYS_PER_MONTH, DAYS_PER_YEAR, months_kept, months_to_ripen, opened_first
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD
from coldspell.rules import Decided
from coldspell.rules.model import FactValue

if TYPE_CHECKING:
    from coldspell.decide.names.closed import BreakCosts, YesNoUnknown
    from coldspell.decide.names.facts import UntoldFacts

F = TypeVar("F", bound=Struct)
_MOST_SEEDS = 1_000_000_000


class Settled(Struct, frozen=True):
    """A lot as it is understood, and what the rules took for granted of it."""

    lot: Lot
    winter_taken: bool
    """Whether days of moist cold are taken for it that nobody told."""
    broken: BreakCosts
    """What a break of its cold costs."""
    shut: bool
    """Whether a hard coat has kept water out."""
    soured: bool
    """Whether its smell tells that it has lain moist."""
    decided: tuple[Decided, ...]


def settled(lot: Lot, knowledge: Knowledge, today: date, tables: Tables) -> Settled:
    """The lot as the rules take it: its age, how ripe and how dry it is, its cold, where it is grown.

    Seeds are counted from kilograms. Where a length of root was said one seed at least has rooted. Moist cold
    that was broken by warmth counts for as much as is left of it.

    Raises
    ------
    ColdspellError
        A weight was given, and no record says how many seeds make a kilogram.
    """
    practice, decided = tables.practice, list[Decided]()
    told = _told(lot, knowledge, today, tables)

    def ask(decision: str, kind: type[F]) -> F:
        """What the rules say of the lot as it is understood by now."""
        opened = yes(opened_first(lot, knowledge))  # of dried seed where it is taken as dried
        facts = values_of({**told, **lot_facts(lot, shut=False, sour=False), "opened_first": opened})
        decided.append(tables.session.decide(decision, facts))
        return as_fields(kind, decided[-1].fields)

    if ask(Ask.STORED_SINCE, StoredSinceFields).age == "since_gathered" and lot.collected is not None:
        lot = replace(lot, stored_years=round((today - lot.collected).days / DAYS_PER_YEAR, 1))
    since = ask(Ask.SINCE_GATHERED, SinceGatheredFields)
    lot = lot if since.gathered == "as_said" else replace(lot, gathered=since.gathered)
    lot = lot if since.moisture == "as_said" else replace(lot, moisture=since.moisture)
    if ask(Ask.TAKEN_DRY, TakenDryFields).moisture == "dried":
        lot = replace(lot, moisture="dried")
    taken = ask(Ask.UNTOLD_WINTER, UntoldWinterFields).taken == "winter"
    if taken:
        lot = replace(lot, cold_days_done=practice.winter_taken_days)
    broken = ask(Ask.COLD_BROKEN, ColdBrokenFields)
    if lot.cold_break_days and lot.cold_days_done:
        left = round(lot.cold_days_done * broken.left_percent / 100)
        warm = 0 if left else lot.cold_break_days  # what lost its cold has lain moist and warm since
        lot = replace(lot, cold_days_done=left, warm_days_done=lot.warm_days_done + warm)
    grown = ask(Ask.GROWN_IN, GrownInFields).place
    if grown != "as_said":
        lot = replace(lot, grow_in=grown)
    if lot.root_mm and not lot.rooted:  # a root that was measured is a root; how many there are nobody said
        lot = replace(lot, rooted=1, assumed=(*lot.assumed, "rooted"))
    shut = ask(Ask.WATER_KEPT_OUT, WaterKeptOutFields).shut == "yes"
    sour = ask(Ask.SOURED, SouredFields).moist == "yes"
    return Settled(_counted(lot, knowledge), taken, broken.costs, shut, sour, tuple(decided))


def _counted(lot: Lot, knowledge: Knowledge) -> Lot:
    if lot.kilograms is None:
        return lot
    per_kg = knowledge.value("seeds_per_kg")
    if per_kg is None:
        raise ColdspellError(
            f"nobody says how many seeds of {knowledge.record.name} make a kilogram",
            mend="weigh and count a handful, and give --seeds",
        )
    return replace(lot, seeds=max(1, min(round(lot.kilograms * per_kg.value.middle), _MOST_SEEDS)))


def _told(lot: Lot, knowledge: Knowledge, today: date, tables: Tables) -> dict[str, FactValue]:
    """What was told of the lot and stands in its records, and what the calendar makes of both."""
    practice, months = tables.practice, months_kept(lot, knowledge, today)
    told: UntoldFacts = {
        "sown": yes(lot.sown),
        "days_told": yes(lot.cold_days_done or lot.warm_days_done),
        "days_since": (today - lot.collected).days if lot.collected else None,
        "month_now": season_month(today.month, lot.southern),
        "months_to_ripen": months_to_ripen(knowledge, today, southern=lot.southern),
        "kept_months": months,
        "break_days": lot.cold_break_days,
        "opened_first": yes(opened_first(lot, knowledge)),
        "pulp_said": yes(lot.pulp != UNKNOWN),
        "lay_dry": _lay_dry(lot, practice),
        "moisture_said": yes("moisture" not in lot.assumed),
        "chills": yes(knowledge.once("chills", lambda: _chills(knowledge))),
        "winter_passed": _winter_passed(months, lot, today, practice),
        "next_near": yes(months is not None and months > practice.winter_taken_months),
        "collected_said": yes(lot.collected),
        "frost_told": yes(lot.last_frost or lot.usual_frost),
        "grow_in_said": yes("grow_in" not in lot.assumed),
    }
    return values_of({**record_facts(knowledge, tables.book, practice), **told})


def _lay_dry(lot: Lot, practice: Practice) -> Literal["unsaid", "hardly", "longer"]:
    if lot.days_dry is None:
        return "unsaid"
    return "hardly" if lot.days_dry <= practice.hardly_dry_days else "longer"


def _chills(knowledge: Knowledge) -> bool:
    """Whether a treatment of the record has a moist cold: one that it needs, or any of what dies dry.

    What dies dry is kept moist and cold whether it needs that or not.
    """
    steps = (step for treatment, _ in knowledge.treatments() for step in treatment.steps)
    storage = knowledge.value("storage")
    dies_dry = storage is not None and storage.behaviour == "recalcitrant"
    return any(step.do in COLD and (dies_dry or step.need == "required") for step in steps)


def _winter_passed(months: float | None, lot: Lot, today: date, practice: Practice) -> YesNoUnknown:
    """Whether it was gathered, or shed, so long before a winter was over that it had the days of one."""
    if months is None:
        return "unknown"
    over = season_day(today.year, practice.winter_over, lot.southern)
    over = over if over <= today else season_day(today.year - 1, practice.winter_over, lot.southern)
    since = today - timedelta(days=months * DAYS_PER_MONTH)
    return yes(since <= over - timedelta(days=practice.winter_taken_days))
