"""Looking, waiting, sowing, and what to expect."""

from __future__ import annotations

from coldspell.arithmetic.plants import Expectation as Counted
from coldspell.decide.expect import LEVEL, Assumed
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import ComingUpFields, FinishFields, WaitFields, WarmthFields
from coldspell.records.model import Quantity
from coldspell.write.case import Case
from coldspell.write.notes import on_page
from coldspell.write.placeholders import depth_mm
from coldspell.write.recipe_work import Checks, Expectation, Hold, Look, Sowing
from coldspell.write.steps import range_of
from coldspell.write.units import plants as of_plants
from coldspell.write.verdict import iso


def hold(case: Case) -> Hold | None:
    """How long it may wait."""
    wait, chosen = case.decisions.fields(Ask.WAIT, WaitFields), case.decisions.chosen
    if wait is None:
        return None
    hold = chosen.candidate.treatment.hold if chosen and wait.days == "record" else None
    cites = case.footnotes.of_rules(case.decisions.rules(Ask.WAIT))
    if hold is None or chosen is None:
        return Hold(case.said(Ask.WAIT), None, None, None, cites)
    return Hold(
        says=case.said(Ask.WAIT),
        days=range_of(hold.days),
        celsius=range_of(hold.celsius or Quantity(*case.practice.hold_celsius)),
        until=iso(case.plan.hold_until),
        cites=case.footnotes.of_record(chosen.candidate.record, hold.cite),
    )


def checks(case: Case) -> Checks | None:
    """When to look and what for."""
    name = Ask.TEST_RESULTS if case.decisions.route.page == "test" else Ask.LOOKS
    decided, looks = case.decisions.answers.get(name), case.plan.looks
    if decided is None or not decided.applies:
        return None
    return Checks(
        dates=tuple(day.isoformat() for day in looks.dates),
        days=looks.days,
        every_days_after=looks.every_days_after,
        looks=tuple(
            Look(case.answer(name, f.answer), case.says(f), f.rule, on_page(f)) for f in decided.firings
        ),
        on_mould=case.said(Ask.ON_MOULD) or None,
        on_sprouts=case.said(Ask.ON_SPROUTS) or None,
    )


def what_if(case: Case) -> tuple[Look, ...]:
    """What may happen meanwhile: the question, and what then."""
    name = Ask.WHAT_IF
    return tuple(Look(case.answer(name, f.answer), case.says(f), f.rule) for f in case.decisions.rules(name))


def sowing(case: Case) -> Sowing | None:
    """How deep and how warm."""
    decisions, knowledge = case.decisions, case.knowledge
    finish = decisions.fields(Ask.FINISH, FinishFields)
    if finish is None:
        return None
    found, germination = knowledge.find("sowing"), knowledge.find("germination")
    cites = case.footnotes.of_rules(decisions.rules(Ask.FINISH))
    if found is not None:
        cites = tuple(dict.fromkeys((*case.footnotes.of_record(found.record, found.value.cite), *cites)))
    warmth = decisions.fields(Ask.WARMTH, WarmthFields)
    limit = found.value.celsius_max.high if found and found.value.celsius_max else None
    told = decisions.fields(Ask.COMING_UP, ComingUpFields)
    shown = germination is not None and told is not None and told.shown == "yes"
    depth = depth_mm(knowledge, case.plan.seed, case.practice) if finish.covered == "yes" else None
    practice = case.practice
    return Sowing(
        says=case.said(Ask.FINISH),
        warmth=case.said(Ask.WARMTH) if warmth and warmth.shown == "yes" else None,
        date=iso(case.plan.sowing_day),
        depth_mm=range_of(depth),
        celsius_max=(limit or case.practice.sow_cool_celsius) if warmth and warmth.limit == "yes" else None,
        into=finish.into,
        pot_depth_mm=range_of(Quantity(*practice.pot_depth_mm)) if finish.into == "deep_pot" else None,
        mesh_mm=range_of(Quantity(*practice.mesh_mm)) if finish.mesh == "yes" else None,
        comes_up_days=range_of(germination.value.days) if germination and shown else None,
        cites=cites,
    )


def expectation(case: Case) -> Expectation | None:
    """Plants to expect."""
    if case.decisions.answer(Ask.FINISH) is None:
        return None
    found, lot = case.plan.expected, case.plan.lot
    per_kg = case.knowledge.value("seeds_per_kg")
    plants = found.plants
    cites: tuple[int, ...] = ()
    for topic in found.cited:
        source = case.knowledge.find(topic)
        if source is not None:
            cites += case.footnotes.of_record(source.record, source.value.cite)
    return Expectation(
        seeds=lot.seeds,
        seeds_mass_g=float(f"{lot.seeds / per_kg.value.middle * 1000:.3g}") if per_kg else None,
        plants=(plants.low, round(plants.mean), plants.high) if plants else None,
        says=_expected(case, plants),
        seeds_for_wanted=found.seeds_for_wanted,
        assumed=tuple(_reckoned(case, one) for one in found.assumed),
        cites=tuple(dict.fromkeys(cites)),
    )


def _expected(case: Case, plants: Counted | None) -> str:
    say, tenths = case.texts.say, round(LEVEL * 10)
    if plants is None:
        return say("expect_withheld")
    middle = round(plants.mean)
    apart = case.plan.expected.apart
    text = ""
    if apart is not None:
        of_rooted, of_others = (of_plants(round(part.mean)) for part in apart)
        text = say("expect_apart", rooted=of_rooted, others=of_others)
    return text + say(
        "expect",
        middle=of_plants(middle, plants.high),
        plants=say("plant" if middle == 1 else "plants"),
        low=of_plants(plants.low, plants.high),
        high=of_plants(plants.high),
        share=say("share_nine") if tenths == 9 else say("share_of_ten", tenths=tenths),
    )


def _reckoned(case: Case, one: Assumed) -> str:
    percent = f"{one.low:g} %" if one.low == one.high else f"{one.low:g}–{one.high:g} %"
    return case.texts.say(f"reckoned_{one.what}", percent=percent, some=one.some, tried=one.tried)
