"""The recipe as one page for a grower."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date

import msgspec

from coldspell.recipe.recipe import Note, Recipe, Step
from coldspell.recipe.wording import Units, number, plural, short_date, spelled_date
from coldspell.views.page import labelled, paragraph, plain

_LABEL = 12
_EVERYWHERE = ("cites", "everywhere", "worldwide", "international")
_STEP = 20
_MOIST = ("warm_moist", "cool_moist", "cold_moist", "alternate")


def render(recipe: Recipe, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width, ending with a newline."""
    width = max(32, min(width, 110))
    if ascii_only:  # before wrapping, since some signs take more room when they are spelled
        recipe = msgspec.json.decode(plain(msgspec.json.encode(recipe).decode()), type=Recipe)
    blocks = [
        _head(recipe, width),
        _asked(recipe, width),
        _you_need(recipe, width),
        _timing(recipe, width),
        _steps(recipe, width),
        _after(recipe, width),
        _treatments(recipe, width),
    ]
    body = "\n".join(line for block in blocks for line in block)
    numbers = {int(n) for group in re.findall(r"\[([\d,\s]+)\]", body) for n in group.split(",")}
    blocks.append(_sources(recipe, width, numbers))
    text = "\n\n".join("\n".join(b) for b in blocks if b) + "\n"
    return plain(text) if ascii_only else text


def _head(recipe: Recipe, width: int) -> list[str]:
    species = recipe.species
    common = species.common_names[0] if species.common_names else ""
    title = f"{common[:1].upper()}{common[1:]} ({species.name})" if common else species.name
    said = recipe.lot.said
    if recipe.asks is not None:
        return [title, "", *paragraph(recipe.verdict.sentence, width)]
    seeds = int(str(said["seeds"]))
    bits = [f"{title}, {number(seeds)} {plural(species.unit, seeds)}"]
    if said["shell"] != "intact":
        bits.append(
            {"husk": "in the husk", "cracked": "shell cracked", "kernel": "kernels out of the shell"}[
                str(said["shell"])
            ]
        )
    if said["collected"]:
        bits.append(f"gathered {spelled_date(date.fromisoformat(str(said['collected'])))}")
    bits.append(str(said["moisture"]))
    if said["stored_years"]:
        years = float(str(said["stored_years"]))
        bits.append(f"stored {years:g} {'year' if years == 1 else 'years'}")
    lines = paragraph(", ".join(bits), width)
    lines += ["", *paragraph(recipe.verdict.sentence, width)]
    for note in recipe.notes:
        lines += paragraph(note, width, 2)
    return lines


def _asked(recipe: Recipe, width: int) -> list[str]:
    if recipe.asks is None:
        return []
    lines: list[str] = []
    for choice in recipe.asks.choices:
        text = f"{choice.answer[:1].upper()}{choice.answer[1:]}" + (f". {choice.says}" if choice.says else "")
        lines += paragraph(_marked(text, choice.cites, recipe), width, 4, "  •")
        if choice.leads_to:
            lines += paragraph("then: " + ", ".join(choice.leads_to), width, 6)
    return lines


def _you_need(recipe: Recipe, width: int) -> list[str]:
    rows = []
    medium, units = recipe.medium, Units(recipe.units)
    if medium is not None:
        things = [medium.container_says] if medium.container_says else []
        if medium.litres is not None:
            things.append(f"{units.volume(medium.litres)} {medium.material_says}")
        if medium.water_ml is not None:
            things.append(f"about {units.water(medium.water_ml)} water")
        if medium.space_litres is not None:
            things.append(f"{units.volume(medium.space_litres)} of room in the cold")
        if medium.form == "pouch":
            things.append("a piece of netting")
        if recipe.route in ("treat_indoors", "sow_now_or_hold"):
            things.append('label "not food"')
        rows.append(("You need", " · ".join(things)))
    elif recipe.route in ("plant_now", "pot_and_keep_cold"):
        rows.append(("You need", "a deep pot for each rooted seed · damp potting mix"))
    expect = recipe.expectation
    if expect is not None and expect.plants is not None:
        text = expect.says
        if expect.seeds_for_wanted is not None:
            text += f"; for the {recipe.lot.said['want']} you want, start {expect.seeds_for_wanted}"
        rows.append(("Expect", text))
    return labelled(rows, width, _LABEL)


def _timing(recipe: Recipe, width: int) -> list[str]:
    timing = recipe.timing
    rows = []
    if (
        timing.fits == "fits"
        and timing.start_first
        and timing.start_last
        and timing.start_first != timing.start_last
    ):
        first, last = (_day(d, recipe) for d in (timing.start_first, timing.start_last))
        rows.append(("Start", f"between {first} and {last}"))
    for i, way in enumerate(timing.ways_out):
        when = f" ({spelled_date(date.fromisoformat(way.date))})" if way.date else ""
        rows.append(("Instead" if i == 0 else "", f"{i + 1}. {way.text.rstrip('.')}{when}."))
    return labelled(rows, width, _LABEL)


def _steps(recipe: Recipe, width: int) -> list[str]:
    lines: list[str] = []
    laid = False
    labels = [f"{place:>2}  {_when(step, recipe)}" for place, step in enumerate(recipe.steps, 1)]
    column = max(_STEP, *(len(label) for label in labels)) + 2 if labels else _STEP + 2
    for label, step in zip(labels, recipe.steps, strict=True):
        lines += labelled([(label, _marked(step.text, step.cites, recipe))], width, column)
        if not laid and step.do in _MOIST:
            laid = True
            lines += _how(recipe, width, column)
    if not laid and recipe.medium is not None:
        lines += (
            ["", "    To hold them", *_how(recipe, width, column)]
            if recipe.route == "sow_now_or_hold"
            else _how(recipe, width, column)
        )
    if recipe.medium is None:
        lines += _where(recipe, width, column)
    return lines + _looks(recipe, width)


def _how(recipe: Recipe, width: int, column: int) -> list[str]:
    medium, layout = recipe.medium, recipe.layout
    if medium is None:
        return []
    rows = [("    In", f"{medium.says[0].upper()}{medium.says[1:]}: {medium.material_says}.")]
    rows[0] = ("    In", rows[0][1] + _because(recipe, "medium"))
    if layout is not None:
        text = layout.says
        if layout.layers and layout.per_layer:
            layers = "1 layer" if layout.layers == 1 else f"{layout.layers} layers"
            text += f" {layers} of {layout.per_layer} in each."
        rows.append(("    Laid", text))
    rows.append(("    Damp, not wet", medium.wetness))
    rows.append(("    Closed", medium.closure))
    if medium.place:
        first = next((s.do for s in recipe.steps if s.do in _MOIST), "cold_moist")
        label = (
            "    In the cold"
            if first == "cold_moist"
            else "    Where"
            if first == "cool_moist"
            else "    Later, cold"
        )
        rows.append((label, medium.place))
    return labelled(rows, width, column)


def _where(recipe: Recipe, width: int, column: int) -> list[str]:
    """Where pots and outdoor sowings lie, when there is no bag."""
    return labelled([("    Where", recipe.place)], width, column) if recipe.place else []


def _because(recipe: Recipe, decision: str) -> str:
    row = next((r for r in recipe.trace if r.decision == decision), None)
    return f" {row.because}" if row else ""


def _looks(recipe: Recipe, width: int) -> list[str]:
    checks = recipe.checks
    if checks is None:
        return []
    lines = ["", *labelled([("Look", _look_when(recipe))], width, _LABEL)]
    return lines + labelled(((f"  {k.look_for}", k.then_do) for k in checks.looks), width, 30)


def _look_when(recipe: Recipe) -> str:
    checks = recipe.checks
    assert checks is not None
    if recipe.route == "test_first":
        return "what the cut shows:"
    if not checks.days:
        return "every week:" if recipe.route == "sow_now_or_hold" else "every two weeks:"
    if checks.dates:
        named = _days(checks.dates[:5], recipe)
        more = "" if len(checks.dates) <= 5 else f", and so on to {_day(checks.dates[-1], recipe)}"
        return f"{', '.join(named)}{more}; weekly near the end and after the first root:"
    named = [str(d) for d in checks.days[:5]]
    more = "" if len(checks.days) <= 5 else f" and so on to {checks.days[-1]}"
    return f"on day {', '.join(named)}{more}; weekly near the end and after the first root:"


def _after(recipe: Recipe, width: int) -> list[str]:
    rows = []
    if recipe.checks and recipe.checks.on_sprouts and recipe.route not in ("plant_now", "pot_and_keep_cold"):
        rows.append(("If it sprouts", recipe.checks.on_sprouts))
    if recipe.hold:
        text = recipe.hold.says
        if recipe.hold.days:
            low, _, high = recipe.hold.days
            text = f"Up to {_span(low, high)} days. {text}"
        if recipe.hold.until:
            text += f" Not beyond {spelled_date(date.fromisoformat(recipe.hold.until))}."
        rows.append(("May wait", _marked(text, recipe.hold.cites, recipe)))
    if recipe.sowing:
        if recipe.sowing.warmth:
            rows.append(("Warmth", recipe.sowing.warmth))
        if recipe.sowing.comes_up_days:
            low, _, high = recipe.sowing.comes_up_days
            rows.append(("Comes up", f"in tests after {_span(low, high)} days; outdoors it may take longer."))
    rows += _notes("If you cannot", recipe.instead, recipe)
    rows += _notes("What comes up", recipe.offspring, recipe)
    rows += _notes("Mind", recipe.cautions, recipe)
    rows += _law(recipe)
    if recipe.expectation and recipe.expectation.assumed and recipe.expectation.plants:
        rows.append(("Reckoned with", "; ".join(recipe.expectation.assumed) + "."))
    return labelled(rows, width, 16)


def _law(recipe: Recipe) -> list[tuple[str, str]]:
    """Notes for the place of the lot; without one only the places, since the full notes stand in the JSON."""
    place = str(recipe.lot.said["place"] or "").casefold()
    if not recipe.law:
        return []
    here = [n for n in recipe.law if place and _same_place(place, n.text.split(":")[0].casefold())]
    if here:
        return _notes("Law", here, recipe)
    everywhere = [n for n in recipe.law if n.text.split(":")[0].casefold().startswith(_EVERYWHERE)]
    if len(everywhere) == len(recipe.law):
        return _notes("Law", everywhere, recipe)
    places = "; ".join(dict.fromkeys(n.text.split(":")[0] for n in recipe.law))
    return [("Law", f"Rules on this kind are noted for {places}. Say your place, or ask locally.")]


def _same_place(place: str, noted: str) -> bool:
    return any(part.strip() and (part.strip() in place or place in part) for part in noted.split(","))


def _notes(label: str, notes: Iterable[Note], recipe: Recipe) -> list[tuple[str, str]]:
    return [(label if i == 0 else "", _marked(n.text, n.cites, recipe)) for i, n in enumerate(notes)]


def _treatments(recipe: Recipe, width: int) -> list[str]:
    """Why this way, and which others there are; dissenting sources are left to --why."""
    rows: list[tuple[str, str]] = []
    if recipe.route in ("do_not", "gather_anew"):
        return []
    labels = {"used": "Why so", "possible": "Another way", "refused": "Not for this"}
    for treatment in recipe.treatments:
        name = treatment.name.replace("-", " ")
        name = name[:1].upper() + name[1:]
        text = f"{name}. {' '.join(treatment.says)} {treatment.because or ''}"
        if treatment.status == "possible" and not treatment.why.startswith("It suits the lot"):
            text += f" {treatment.why}"
        if treatment.status == "used":
            text = treatment.because or treatment.why
        elif treatment.status == "refused":
            text = f"{name}. {treatment.why}"
        rows.append((labels[treatment.status], _marked(text.strip(), treatment.cites, recipe)))
    return labelled(rows, width, 16)


def _sources(recipe: Recipe, width: int, shown: set[int]) -> list[str]:
    """The sources that the page names by number; the others stand in --why and in the JSON."""
    rows = []
    for source in recipe.sources:
        if source.number not in shown:
            continue
        at = f", {source.at}" if source.at else ""
        basis = "" if source.basis == "practice" else f" [{source.basis}]"
        rows.append((f"[{source.number}]", f"{source.text}{at}{basis}"))
    rest = "What has no number is common practice without source, or stands in the record; --why tells which."
    return ["From", *labelled(rows, width, 5), *paragraph(rest, width)]


def _when(step: Step, recipe: Recipe) -> str:
    if step.start is not None and step.end is not None:
        start, end = _day(step.start, recipe), _day(step.end, recipe)
        if step.start[:4] == step.end[:4]:  # one year for both
            start = start.removesuffix(f" {step.start[:4]}") if start != end else start
        if step.start[:4] < step.end[:4] and step.start[5:] > step.end[5:] and not end.endswith(step.end[:4]):
            long = (date.fromisoformat(step.end) - date.fromisoformat(step.start)).days > 180
            end = f"{end} {step.end[:4]}" if long else end
        return start if start == end else f"{start} – {end}"
    if step.start_day is not None and step.end_day is not None:
        if step.start_day == step.end_day:
            return f"Day {step.start_day}"
        return f"Day {step.start_day} – {step.end_day}"
    return "First"


def _day(text: str, recipe: Recipe) -> str:
    """A day without its year while that is plain: in the twelve months after asking."""
    day, asked = date.fromisoformat(text), date.fromisoformat(recipe.asked_on)
    return short_date(day, day.year if -60 <= (day - asked).days < 330 else None)


def _days(dates: Sequence[str], recipe: Recipe) -> list[str]:
    """Days in a row; a year stands only behind the last of its days."""
    named = [_day(d, recipe) for d in dates]
    return [
        name.removesuffix(f" {day[:4]}") if day[:4] == after[:4] else name
        for name, day, after in zip(named, dates, [*dates[1:], ""], strict=True)
    ]


def _span(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g}–{high:g}"


def _marked(text: str, cites: Iterable[int], recipe: Recipe) -> str:
    """The text with its footnote numbers; common practice alone goes unmarked to keep the page quiet."""
    practice = {s.number for s in recipe.sources if s.basis == "practice" and s.source is None}
    shown = [n for n in cites if n not in practice]
    return f"{text} [{', '.join(map(str, shown))}]" if shown else text
