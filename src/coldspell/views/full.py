"""The recipe with everything: every treatment, note and source (``--full``)."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

import msgspec

from coldspell.records.do import MOIST
from coldspell.texts import Texts
from coldspell.views.days import day_of, days_of, how_often, may_wait
from coldspell.views.law import law_lines
from coldspell.views.layout import in_ascii, labelled, paragraph
from coldspell.views.one_page import laid_out
from coldspell.views.phrases import medium_says, otherwise, weighing
from coldspell.views.short import short_page, state_now
from coldspell.views.ways import ways
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Note, Step
from coldspell.write.units import Units, number, plural, round_up, spelled_date

_LABEL = 12
_EVERYWHERE = ("cites", "everywhere", "worldwide", "international")
_STEP = 20
_POTTED = ("pot", "cold_pot")


def render(recipe: Recipe, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width, ending with a newline."""
    width = max(32, min(width, 110))
    if recipe.trial is not None:
        return laid_out(short_page(recipe, texts, every=True), texts, width, ascii_only=ascii_only)
    if ascii_only:  # before wrapping, since some signs take more room when they are spelled
        recipe = msgspec.json.decode(in_ascii(msgspec.json.encode(recipe).decode()), type=Recipe)
    blocks = [
        _head(recipe, texts, width),
        _asked(recipe, texts, width),
        _you_need(recipe, texts, width),
        _timing(recipe, texts, width),
        _steps(recipe, texts, width),
        _after(recipe, texts, width),
        _treatments(recipe, texts, width),
        _relatives(recipe, texts, width),
    ]
    body = "\n".join(line for block in blocks for line in block)
    numbers = {int(n) for group in re.findall(r"\[([\d,\s]+)\]", body) for n in group.split(",")}
    blocks.append(_sources(recipe, texts, width, numbers))
    text = "\n\n".join("\n".join(b) for b in blocks if b) + "\n"
    return in_ascii(text) if ascii_only else text


def _head(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    species = recipe.species
    common = species.common_names[0] if species.common_names else ""
    title = f"{common[:1].upper()}{common[1:]} ({species.name})" if common else species.name
    said = recipe.lot.said
    called = paragraph(species.note, width) if species.note else []
    if recipe.does.page == "question":
        told = [line for note in recipe.notes for line in paragraph(note, width, 2)]
        return [title, *called, "", *paragraph(recipe.verdict.sentence, width), *told]
    seeds = int(str(said["seeds"]))
    bits = [f"{title}, {number(seeds)} {plural(species.unit, seeds)}"]
    if said["shell"] != "intact":
        bits.append(texts.say(f"shell_{said['shell']}"))
    if said["collected"]:
        day = spelled_date(date.fromisoformat(str(said["collected"])))
        bits.append(texts.say("gathered", day=day))
    bits.append(state_now(recipe, texts))
    if said["stored_years"]:
        years = float(str(said["stored_years"]))
        unit = texts.say("year" if years == 1 else "years")
        bits.append(texts.say("stored", years=f"{years:g}", unit=unit))
    lines = paragraph(", ".join(bits), width) + called
    lines += ["", *paragraph(recipe.verdict.sentence, width)]
    for note in recipe.notes:
        lines += paragraph(note, width, 2)
    return lines


def _asked(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    if recipe.asks is None:
        return []
    lines: list[str] = []
    for choice in recipe.asks.choices:
        text = f"{choice.answer[:1].upper()}{choice.answer[1:]}" + (f". {choice.says}" if choice.says else "")
        lines += paragraph(_marked(text, choice.cites, recipe), width, 4, "  •")
        if choice.leads_to:
            lines += paragraph(texts.say("then", names=", ".join(choice.leads_to)), width, 6)
    if text := otherwise(recipe, texts):
        lines += ["", *paragraph(text, width)]
    return lines


def _you_need(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    rows = []
    medium, units = recipe.medium, Units(recipe.units)
    things = []
    if medium is not None:
        things = [medium.container_says] if medium.container_says else []
        if medium.litres is not None:
            things.append(f"{units.volume(medium.litres)} {medium.material_says}")
        if medium.water_ml is not None:
            things.append(texts.say("water", amount=units.water(medium.water_ml)))
        if medium.space_litres is not None:
            things.append(texts.say("cold_room", volume=units.volume(medium.space_litres)))
    things += [need.text for need in recipe.needs]
    if things:
        rows.append((texts.say("you_need"), " · ".join(things)))
    expect = recipe.expectation
    if expect is not None and expect.plants is not None:
        text = expect.says
        if expect.seeds_for_wanted is not None:
            want, seeds = recipe.lot.said["want"], expect.seeds_for_wanted
            heavy = weighing(recipe, texts, units, seeds)
            told = number(round_up(seeds))
            text = texts.say("expect_wanted", expect=text, want=want, seeds=told, weighing=heavy)
        rows.append((texts.say("expect_label"), text))
    return labelled(rows, width, _LABEL)


def _timing(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    timing = recipe.timing
    rows = []
    if (
        timing.fits == "fits"
        and timing.start_first
        and timing.start_last
        and timing.start_first != timing.start_last
    ):
        first, last = (day_of(d, recipe.asked_on) for d in (timing.start_first, timing.start_last))
        rows.append((texts.say("start_label"), texts.say("start_between", first=first, last=last)))
    for i, way in enumerate(timing.ways_out):
        when = ""
        if way.date:
            when = texts.say("way_out_day", day=spelled_date(date.fromisoformat(way.date)))
        text = texts.say("way_out", number=i + 1, way=way.text.rstrip("."), when=when)
        rows.append((texts.say("instead_label") if i == 0 else "", text))
    return labelled(rows, width, _LABEL)


def _steps(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    lines: list[str] = []
    laid = False
    labels = [f"{place:>2}  {_when(step, recipe, texts)}" for place, step in enumerate(recipe.steps, 1)]
    column = max(_STEP, *(len(label) for label in labels)) + 2 if labels else _STEP + 2
    for label, step in zip(labels, recipe.steps, strict=True):
        lines += labelled([(label, _marked(step.text, step.cites, recipe))], width, column)
        if not laid and step.do in MOIST:
            laid = True
            lines += _how(recipe, texts, width, column)
    if not laid and recipe.medium is not None:
        if recipe.does.waits_from == "gathered":
            lines += ["", texts.say("to_hold")]
        lines += _how(recipe, texts, width, column)
    if recipe.medium is None:
        lines += _where(recipe, texts, width, column)
    return lines + _looks(recipe, texts, width)


def _how(recipe: Recipe, texts: Texts, width: int, column: int) -> list[str]:
    medium, layout = recipe.medium, recipe.layout
    if medium is None:
        return []
    says = medium_says(medium)
    rows = [(texts.say("in_label"), says + _because(recipe, "medium"))]
    if layout is not None:
        text = layout.says
        if layout.layers and layout.per_layer and layout.per_layer > 1:
            key = "one_layer" if layout.layers == 1 else "more_layers"
            text += texts.say(key, layers=layout.layers, seeds=layout.per_layer)
        rows.append((texts.say("laid_label"), text))
    rows.append((texts.say("damp_label"), medium.wetness))
    rows.append((texts.say("closed_label"), medium.closure))
    if medium.place:
        first = next((s.do for s in recipe.steps if s.do in MOIST), "cold_moist")
        label = {"cold_moist": "cold_label", "cool_moist": "where_label"}.get(first, "later_cold_label")
        rows.append((texts.say(label), medium.place))
    return labelled(rows, width, column)


def _where(recipe: Recipe, texts: Texts, width: int, column: int) -> list[str]:
    """Where pots and outdoor sowings lie, when there is no bag."""
    return labelled([(texts.say("where_label"), recipe.place)], width, column) if recipe.place else []


def _because(recipe: Recipe, decision: str) -> str:
    row = next((r for r in recipe.trace if r.decision == decision), None)
    return f" {row.because}" if row else ""


def _looks(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    checks = recipe.checks
    if checks is None:
        return []
    lines = ["", *labelled([(texts.say("look_label"), _look_when(recipe, texts))], width, _LABEL)]
    return lines + labelled(((f"  {k.look_for}", k.then_do) for k in checks.looks), width, 30)


def _look_when(recipe: Recipe, texts: Texts) -> str:
    checks = recipe.checks
    assert checks is not None
    if recipe.does.page == "test":
        return texts.say("look_test")
    if not checks.days:
        return how_often(checks.every_days_after, texts)
    if checks.dates:
        named = ", ".join(days_of(checks.dates[:5], recipe.asked_on))
        if len(checks.dates) > 5:
            named = texts.say("look_so_on", dates=named, last=day_of(checks.dates[-1], recipe.asked_on))
        return texts.say("look_dates", dates=named)
    named = ", ".join(str(d) for d in checks.days[:5])
    if len(checks.days) > 5:
        named = texts.say("look_days_so_on", days=named, last=checks.days[-1])
    return texts.say("look_days", days=named)


def _after(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    rows = []
    if recipe.checks and recipe.checks.on_sprouts and recipe.does.lies not in _POTTED:
        rows.append((texts.say("sprouts_label"), recipe.checks.on_sprouts))
    if recipe.hold:
        until = recipe.hold.until and spelled_date(date.fromisoformat(recipe.hold.until))
        text = may_wait(recipe.hold, until, texts)
        rows.append((texts.say("wait_label"), _marked(text, recipe.hold.cites, recipe)))
    if recipe.sowing:
        if recipe.sowing.warmth:
            rows.append((texts.say("warmth_label"), recipe.sowing.warmth))
        if recipe.sowing.comes_up_days:
            low, _, high = recipe.sowing.comes_up_days
            rows.append((texts.say("comes_up_label"), texts.say("comes_up", days=_span(low, high))))
    rows += [(case.look_for, case.then_do) for case in recipe.what_if]
    rows += _notes(texts.say("cannot_label"), recipe.instead, recipe)
    rows += _notes(texts.say("offspring_label"), recipe.offspring, recipe)
    rows += _notes(texts.say("mind_label"), recipe.cautions, recipe)
    rows += _law(recipe, texts)
    if recipe.expectation and recipe.expectation.assumed and recipe.expectation.plants:
        rows.append((texts.say("reckoned_label"), "; ".join(recipe.expectation.assumed) + "."))
    return labelled(rows, width, 16)


def _law(recipe: Recipe, texts: Texts) -> list[tuple[str, str]]:
    """Notes for the place of the lot; without one what is noted elsewhere, in a clause for each plant."""
    rows = [_marked(text, cites, recipe) for text, cites in law_lines(recipe, texts)]
    return [(texts.say("law_label") if i == 0 else "", row) for i, row in enumerate(rows)]


def _notes(label: str, notes: Iterable[Note], recipe: Recipe) -> list[tuple[str, str]]:
    return [(label if i == 0 else "", _marked(n.text, n.cites, recipe)) for i, n in enumerate(notes)]


def _treatments(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    """Why this way, and which others there are; dissenting sources are left to --why."""
    rows = ways(recipe, texts, lambda text, cites: _marked(text, cites, recipe))
    return labelled(rows, width, 16)


def _relatives(recipe: Recipe, texts: Texts, width: int) -> list[str]:
    """Every relative on record, for a kind that has no record."""
    label = texts.say("relatives_label").capitalize()
    says = (texts.say("relative", name=r.name, says=r.says) for r in recipe.relatives)
    marked = (_marked(text, r.cites, recipe) for text, r in zip(says, recipe.relatives, strict=True))
    return labelled([(label if i == 0 else "", text) for i, text in enumerate(marked)], width, _LABEL)


def _sources(recipe: Recipe, texts: Texts, width: int, shown: set[int]) -> list[str]:
    """The sources that the page names by number; the others stand in --why and in the JSON."""
    rows = []
    for source in recipe.sources:
        if source.number not in shown:
            continue
        at = f", {source.at}" if source.at else ""
        basis = "" if source.basis == "practice" else f" [{source.basis}]"
        rows.append((f"[{source.number}]", f"{source.text}{at}{basis}"))
    rest = paragraph(texts.say("sources_rest"), width)
    return [texts.say("from_label"), *labelled(rows, width, 5), *rest]


def _when(step: Step, recipe: Recipe, texts: Texts) -> str:
    if step.start is not None and step.end is not None:
        start, end = day_of(step.start, recipe.asked_on), day_of(step.end, recipe.asked_on)
        if step.start[:4] == step.end[:4]:  # one year for both
            start = start.removesuffix(f" {step.start[:4]}") if start != end else start
        if step.start[:4] < step.end[:4] and step.start[5:] > step.end[5:] and not end.endswith(step.end[:4]):
            long = (date.fromisoformat(step.end) - date.fromisoformat(step.start)).days > 180
            end = f"{end} {step.end[:4]}" if long else end
        return start if start == end else f"{start} – {end}"
    if step.start_day is not None and step.end_day is not None:
        if step.start_day == step.end_day:
            return texts.say("day", first=step.start_day)
        return texts.say("days", first=step.start_day, last=step.end_day)
    return texts.say("first")


def _span(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g}–{high:g}"


def _marked(text: str, cites: Iterable[int], recipe: Recipe) -> str:
    """The text with its footnote numbers; common practice alone goes unmarked to keep the page quiet."""
    practice = {s.number for s in recipe.sources if s.basis == "practice" and s.source is None}
    shown = [n for n in cites if n not in practice]
    return f"{text} [{', '.join(map(str, shown))}]" if shown else text
