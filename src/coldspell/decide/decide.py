"""Run the rules: choose the treatment among the record's candidates, then everything that hangs on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Literal, TypeVar, cast

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import add_days
from coldspell.arithmetic.seasons import in_months
from coldspell.decide.emergence import comes_up
from coldspell.decide.expect import expected
from coldspell.decide.facts import (
    NO_SCHEDULE,
    NO_TREATMENT,
    figure_of,
    lot_facts,
    test_facts,
    yes,
)
from coldspell.decide.home import cold_share, times_longer
from coldspell.decide.judge import Judged, Judging
from coldspell.decide.kin import kin_facts, kin_treatment, relatives_of
from coldspell.decide.knowledge import Knowledge, three_months
from coldspell.decide.names.asks import ASKED_APART, Ask, values_of
from coldspell.decide.names.fields import (
    FIELDS,
    AliveFields,
    BulkFields,
    EmergenceFields,
    FallbackFields,
    FigureFields,
    MediumFields,
    RelativesFields,
    RouteFields,
    as_fields,
)
from coldspell.decide.practice import Practice
from coldspell.decide.record_facts import record_facts
from coldspell.decide.schedule import Run, Schedule, schedule
from coldspell.decide.settle import settled
from coldspell.decide.sizing import LotSize, lot_size, size_facts
from coldspell.decide.state import is_growing, state_facts
from coldspell.decide.tables import Tables
from coldspell.decide.treatment import Candidate
from coldspell.errors import InternalFault
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD, MOIST
from coldspell.records.model import Hazard, Record
from coldspell.rules import Decided, Firing
from coldspell.rules.model import FactValue
from coldspell.rules.session import as_facts

if TYPE_CHECKING:
    from coldspell.decide.names.facts import ChosenFacts, HazardFacts, LotPlanFacts

F = TypeVar("F", bound=Struct)
_RANKS = ("under_way", "use", "possible", "slower")


class Decisions(Struct, frozen=True):
    """All answers for one lot, with the facts they rest on."""

    knowledge: Knowledge
    lot: Lot
    facts: LotPlanFacts
    judged: tuple[Judged, ...]
    chosen: Judged | None
    schedule: Schedule
    answers: dict[str, Decided]
    hazards: tuple[tuple[Hazard, Record, Firing], ...]
    firings: tuple[tuple[Firing, str | None], ...]
    """Every rule that held, with the candidate it judged; of tables that keep no reasons only some."""
    route: RouteFields
    rests: EmergenceFields
    size: LotSize
    cold_times: float = 1.0
    """How many times as long a cold is reckoned for the refrigerator of the grower."""

    def decided(self, decision: str) -> Decided:
        """What a decision came to.

        Raises
        ------
        InternalFault
            It is not among those that the tables asked.
        """
        found = self.answers.get(decision)
        if found is None:
            raise InternalFault(f"the decision {decision!r} was not asked")
        return found

    def answer(self, decision: str) -> str | None:
        """The answer of a decision, ``None`` where it does not apply."""
        decided = self.decided(decision)
        return decided.answer if decided.applies else None

    def rules(self, decision: str) -> tuple[Firing, ...]:
        """The rules that answered a decision; none where it does not apply."""
        return self.decided(decision).firings

    def fields(self, decision: str, kind: type[F]) -> F | None:
        """What the answer of a decision tells the program, ``None`` where it does not apply."""
        assert FIELDS[decision] is kind
        found = self.decided(decision).fields
        return None if found is None else as_fields(kind, found)

    def all_facts(self, tables: Tables) -> dict[str, FactValue]:
        """The facts together with every answer and field that later decisions looked at."""
        facts = values_of(self.facts)
        for name, decided in self.answers.items():
            facts |= as_facts(tables.book.decisions[name], decided)
        return facts


def fields_of(firing: Firing, kind: type[F]) -> F:
    """What the answer of one rule tells the program."""
    assert FIELDS[firing.decision] is kind
    return as_fields(kind, firing.fields)


def decide(knowledge: Knowledge, lot: Lot, today: date, tables: Tables) -> Decisions:
    """Decide everything about one lot.

    Whether common practice may stand in for a record comes first; then the tests of the lot, each treatment
    of the record, and with the one that is chosen all other decisions in the order of what they are given.
    Where plants are wanted and nobody said how many seeds there are, the lot is what the plants take.

    Raises
    ------
    ColdspellError
        A weight was given, and no record says how many seeds make a kilogram.
    """
    found = _as_long_as_at_home(knowledge, lot, today, tables)
    if lot.want is None or "seeds" not in lot.assumed or lot.kilograms is not None or lot.rooted:
        return found
    start = _started(found.knowledge, found.lot, found.chosen, values_of(found.facts), tables)
    if start is None:
        return found
    return _as_long_as_at_home(knowledge, replace(lot, seeds=start), today, tables)


def _as_long_as_at_home(knowledge: Knowledge, lot: Lot, today: date, tables: Tables) -> Decisions:
    """Decide everything, with a cold as long as the refrigerator of the grower makes it."""
    found = _decided(knowledge, lot, today, tables, 1.0)
    times = times_longer(found.facts["cold_share"], tables.practice)
    return found if times == 1 or not _at_home(found) else _decided(knowledge, lot, today, tables, times)


def _at_home(found: Decisions) -> bool:
    """Whether it lies in the refrigerator of the grower."""
    medium = found.fields(Ask.MEDIUM, MediumFields)
    return found.route.lies == "cold" and medium is not None and medium.holder != "pit"


def _decided(knowledge: Knowledge, lot: Lot, today: date, tables: Tables, times: float) -> Decisions:
    """Decide everything, with a cold that lasts so many times as long."""
    session, practice = tables.session, tables.practice
    firings: list[tuple[Firing, str | None]] = []
    knowledge = _with_practice(_as_relatives(knowledge, lot, tables, firings), tables, firings)
    understood = settled(lot, knowledge, today, tables)
    told, lot = lot, understood.lot
    firings += [(f, None) for d in understood.decided for f in d.firings]
    shut, sour = understood.shut, understood.soured
    base = {
        **record_facts(knowledge, tables.book, practice),
        **kin_facts(knowledge, lot, practice),
        **lot_facts(lot, shut=shut, sour=sour),
        **state_facts(
            told,
            lot,
            knowledge,
            today,
            practice,
            winter_taken=understood.winter_taken,
            broken=understood.broken,
            shut=shut,
        ),
        **test_facts(lot, knowledge, today, practice),
    }
    asked_with = values_of(base)
    early = session.run(asked_with, only=session.needed_for(Ask.ALIVE))
    alive = as_fields(AliveFields, early[Ask.ALIVE].fields)
    as_treated = replace(lot, moisture="fresh") if alive.revives == "yes" else lot
    moist = lot.lain_moist or (sour and not shut)
    known: dict[tuple[object, ...], Candidate] = knowledge.once("candidates measured", dict)
    judging = Judging(base, as_treated, today, tables, moist, shut, times, known)
    judged = judging.all(knowledge.treatments())
    for each in judged if session.traced else ():
        firings += [(f, each.candidate.treatment.name) for f in (*each.started, *each.decided.firings)]
    chosen = _choose(judged)
    on: dict[str, FactValue] = {
        **asked_with,
        **_chosen_facts(chosen, judged, knowledge, lot, asked_with, tables),
    }
    waits = session.decide(Ask.EMERGENCE, on)
    firings += [(f, None) for f in waits.firings]
    rests = as_fields(EmergenceFields, waits.fields)
    needs = chosen.candidate.winter_needed if chosen else None
    up = None
    if lot.sown is not None:
        up = comes_up(rests, lot.sown, knowledge, practice, southern=lot.southern, needs=needs)
    size = _size(knowledge, lot, chosen, on, tables)
    on.update(values_of(size_facts(size, lot, practice)))
    if up is not None:
        on.update(up_state=up.state(today), up_by="season" if up.spring else "weeks")
        on.update(fails_growing=yes(is_growing(up.failed, practice, southern=lot.southern)))
    facts = cast("LotPlanFacts", on)
    answers = session.run(on, skip=ASKED_APART, only=tables.asked)
    hazards = _hazards(knowledge, tables)
    if session.traced:
        firings += [(f, None) for d in answers.values() for f in d.firings]
        firings += [step for each in judged for step in each.ruled]
        firings += [(f, None) for f in {f.rule: f for _, _, f in hazards}.values()]
    route = as_fields(RouteFields, answers[Ask.ROUTE].fields)
    dated = chosen.schedule if chosen else schedule(lot, today, Run(()))
    fired = tuple(firings)
    return Decisions(
        knowledge, lot, facts, judged, chosen, dated, answers, hazards, fired, route, rests, size, times
    )


def _size(
    knowledge: Knowledge, lot: Lot, chosen: Judged | None, on: Mapping[str, FactValue], tables: Tables
) -> LotSize:
    """What goes into medium: what has not rooted, and no more than the plants wanted take."""
    told = tables.session.decide(Ask.BULK, on)
    bulk = as_fields(BulkFields, told.fields)
    start = None if lot.want is None else _started(knowledge, lot, chosen, on, tables)
    return lot_size(knowledge, lot, start, bulk, tables.practice)


def _started(
    knowledge: Knowledge, lot: Lot, chosen: Judged | None, on: Mapping[str, FactValue], tables: Tables
) -> int | None:
    """How many seeds give the plants wanted, by the figure that the rules reckon with for this lot."""
    early = tables.session.run(on, only=tables.session.needed_for(Ask.FIGURE))
    figure = as_fields(FigureFields, early[Ask.FIGURE].fields)
    candidate = chosen.candidate if chosen else None
    return expected(knowledge, candidate, lot, figure, tables.practice).seeds_for_wanted


def _as_relatives(
    knowledge: Knowledge, lot: Lot, tables: Tables, firings: list[tuple[Firing, str | None]]
) -> Knowledge:
    """With whose practice stands in for a kind that has no record, as the rules say."""
    if knowledge.on_record:
        return knowledge
    stands_in = tables.session.decide(Ask.RELATIVES, values_of(kin_facts(knowledge, lot, tables.practice)))
    firings += [(f, None) for f in stands_in.firings]
    follows = as_fields(RelativesFields, stands_in.fields).follows
    if follows != "relatives":
        return knowledge.following(follows)
    found, because = relatives_of(knowledge, lot, tables.practice), stands_in.firings[0].because
    return knowledge.following(follows, kin_treatment(found, tables.practice, because))


def _with_practice(
    knowledge: Knowledge, tables: Tables, firings: list[tuple[Firing, str | None]]
) -> Knowledge:
    """With the three months of common practice, where nothing is on record and the rules allow it."""
    if knowledge.treatments() or not knowledge.on_record:
        return knowledge
    known = record_facts(knowledge, tables.book, tables.practice)
    may = tables.session.decide(Ask.FALLBACK, values_of(known))
    firings += [(f, None) for f in may.firings]
    if as_fields(FallbackFields, may.fields).practice == "no":
        return knowledge
    return knowledge.with_fallback(three_months(tables.practice, may.firings[0].says))


def _choose(judged: Sequence[Judged]) -> Judged | None:
    """The first candidate of the best rank that any has."""
    for rank in _RANKS:
        for each in judged:
            if each.fields.rank == rank:
                return each
    return None


def _chosen_facts(
    chosen: Judged | None,
    judged: Sequence[Judged],
    knowledge: Knowledge,
    lot: Lot,
    base: Mapping[str, FactValue],
    tables: Tables,
) -> dict[str, FactValue]:
    """The facts of the chosen treatment; of steps for professionals those of any that is shown."""
    shown = [j.candidate.professional_step for j in judged if j.fields.rank != "refused"]
    rest: ChosenFacts = {
        "treatment_found": "no" if chosen is None else _FOUND[chosen.fields.rank],
        "figure_of": figure_of(chosen.candidate if chosen else None, knowledge),
        "sow_noted": yes(chosen is not None and _sow_noted(chosen)),
        "warmth_said": yes(chosen is not None and _sown_at(chosen)),
        "own_soak": yes(chosen is not None and _own_soak(chosen)),
        "left_out": "yes" if chosen is not None and chosen.left_out else "no",
        "up_state": "waiting",
        "up_by": "season",
        "fails_growing": "no",
        "cold_in_winter": yes(chosen is not None and _in_winter(chosen.schedule, lot, tables.practice)),
        "roots_grow": yes(chosen is not None and _roots_grow(chosen.schedule, lot, base, tables.practice)),
        "cold_share": cold_share(lot, base, tables),
    }
    own = {**NO_TREATMENT, **NO_SCHEDULE} if chosen is None else chosen.facts
    step = next((step for step in shown if step != "none"), "none")
    return values_of({**own, "professional_step": step, **rest})


def _in_winter(dated: Schedule, lot: Lot, practice: Practice) -> bool:
    """Whether a treatment begins within the months of a pit, and ends with the winter."""
    start = dated.first if dated.plan.start == dated.plan.ready else dated.plan.start
    end = max(dated.plan.ready, dated.target or dated.plan.ready)
    in_time = (end - start).days <= practice.pit_winter_days
    return in_months(start, *map(int, practice.pit_months), southern=lot.southern) and in_time


def _roots_grow(dated: Schedule, lot: Lot, base: Mapping[str, FactValue], practice: Practice) -> bool:
    """Whether its roots show within one growing season that lasts to the day of sowing.

    Where the leaf follows the root they show some weeks after it is laid down in the cold, at the soonest.
    """
    if base["roots_warm"] == "yes":
        return False
    waits = any(step.name in MOIST for step in dated.plan.steps)
    cold = next((step.start for step in dated.plan.steps if step.name in COLD), dated.plan.start)
    start = cold if waits else dated.first
    if waits and base["root_first"] == "no":
        start = min(add_days(start, int(practice.look_root_days)), max(dated.plan.ready, start))
    end = max(dated.plan.ready, dated.target or dated.plan.ready) if waits else start
    growing = (is_growing(day, practice, southern=lot.southern) for day in (start, end))
    return all(growing) and (end - start).days < practice.season_lost_days


def _sown_at(chosen: Judged) -> bool:
    """Whether the record itself says, in degrees, how warm it is sown."""
    return any(step.do == "sow" and step.celsius for step in chosen.candidate.treatment.steps)


def _own_soak(chosen: Judged) -> bool:
    """Whether the treatment soaks or leaches the seed itself."""
    return any(step.do in ("soak", "leach") for step in chosen.candidate.treatment.steps)


def _sow_noted(chosen: Judged) -> bool:
    """Whether the record itself says how it is sown."""
    return any(step.do == "sow" and step.note for step in chosen.candidate.treatment.steps)


_FOUND: dict[str, Literal["yes", "possible", "no"]] = {
    "under_way": "yes",
    "use": "yes",
    "possible": "possible",
    "slower": "yes",
    "refused": "no",
}


def _hazards(knowledge: Knowledge, tables: Tables) -> tuple[tuple[Hazard, Record, Firing], ...]:
    """The hazards of a kind, each with what the rules say of it."""
    return knowledge.once(
        ("hazards", tables.session),
        lambda: tuple(_hazard(h, record, tables) for h, record in knowledge.hazards()),
    )


def _hazard(hazard: Hazard, record: Record, tables: Tables) -> tuple[Hazard, Record, Firing]:
    facts: HazardFacts = {"hazard_kind": hazard.kind}
    return hazard, record, tables.session.decide(Ask.HAZARD, values_of(facts)).firings[0]
