"""The recipe as one page for a grower."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from coldspell.recipe.recipe import Note, Recipe, Step
from coldspell.recipe.wording import Units, plural, short_date, spelled_date
from coldspell.views.page import labelled, paragraph, plain

_LABEL = 12
_STEP = 20


def render(recipe: Recipe, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width, ending with a newline."""
    width = max(20, min(width, 110))
    blocks = [
        _head(recipe, width),
        _you_need(recipe, width),
        _timing(recipe, width),
        _steps(recipe, width),
        _after(recipe, width),
        _treatments(recipe, width),
        _sources(recipe, width),
    ]
    text = "\n\n".join("\n".join(b) for b in blocks if b) + "\n"
    return plain(text) if ascii_only else text


def _head(recipe: Recipe, width: int) -> list[str]:
    species = recipe.species
    common = species.common_names[0] if species.common_names else ""
    title = f"{common[:1].upper()}{common[1:]} ({species.name})" if common else species.name
    said = recipe.lot.said
    seeds = int(str(said["seeds"]))
    bits = [f"{title}, {seeds} {plural(species.unit, seeds)}"]
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
        bits.append(f"stored {float(str(said['stored_years'])):g} years")
    lines = paragraph(", ".join(bits), width)
    lines += ["", *paragraph(recipe.verdict.sentence, width)]
    for note in recipe.notes:
        lines += paragraph(note, width, 2)
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
        if recipe.route in ("treat_indoors", "sow_now_or_hold"):
            things.append('label "not food"')
        rows.append(("You need", " · ".join(things)))
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
        first, last = (
            short_date(date.fromisoformat(d), _year(recipe)) for d in (timing.start_first, timing.start_last)
        )
        rows.append(("Start", f"between {first} and {last}"))
    for i, way in enumerate(timing.ways_out):
        when = f" ({spelled_date(date.fromisoformat(way.date))})" if way.date else ""
        rows.append(("Instead" if i == 0 else "", f"{i + 1}. {way.text.rstrip('.')}{when}."))
    return labelled(rows, width, _LABEL)


def _steps(recipe: Recipe, width: int) -> list[str]:
    lines: list[str] = []
    laid = False
    for number, step in enumerate(_merged(recipe.steps), 1):
        label = f"{number:>2}  {_when(step, recipe)}"
        lines += labelled([(label, _marked(step.text, step.cites, recipe))], width, _STEP + 2)
        if not laid and step.do in ("warm_moist", "cool_moist", "cold_moist", "alternate"):
            laid = True
            lines += _how(recipe, width)
    if not laid and recipe.medium is not None:
        lines += (
            ["", "    To hold them", *_how(recipe, width)]
            if recipe.route == "sow_now_or_hold"
            else _how(recipe, width)
        )
    return lines + _looks(recipe, width)


def _merged(steps: Iterable[Step]) -> list[Step]:
    """Steps with a text that an earlier one already gave are left out."""
    seen: dict[str, Step] = {}
    return [seen.setdefault(s.text, s) for s in steps if s.text not in seen]


def _how(recipe: Recipe, width: int) -> list[str]:
    medium, layout = recipe.medium, recipe.layout
    if medium is None:
        return []
    rows = [("    In", f"{medium.says[0].upper()}{medium.says[1:]}: {medium.material_says}.")]
    rows[0] = ("    In", rows[0][1] + _because(recipe, "medium"))
    if layout is not None:
        text = layout.says
        if layout.layers and layout.per_layer:
            text += f" {layout.layers} {'layer' if layout.layers == 1 else 'layers'} of {layout.per_layer} in each."
        rows.append(("    Laid", text))
    rows.append(("    Damp, not wet", medium.wetness))
    rows.append(("    Closed", medium.closure))
    if medium.place:
        rows.append(("    Where", medium.place))
    return labelled(rows, width, _STEP + 2)


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
    if not checks.days:
        return "every two weeks:"
    if checks.dates:
        named = [short_date(date.fromisoformat(d), _year(recipe)) for d in checks.dates[:5]]
        more = (
            ""
            if len(checks.dates) <= 5
            else f", and so on to {short_date(date.fromisoformat(checks.dates[-1]), _year(recipe))}"
        )
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
            text = f"{_span(low, high)} days. {text}"
        if recipe.hold.until:
            text += f" Not beyond {spelled_date(date.fromisoformat(recipe.hold.until))}."
        rows.append(("May wait", _marked(text, recipe.hold.cites, recipe)))
    if recipe.sowing:
        if recipe.sowing.warmth:
            rows.append(("Warmth", recipe.sowing.warmth))
        if recipe.sowing.comes_up_days:
            low, _, high = recipe.sowing.comes_up_days
            rows.append(("Comes up", f"in tests after {_span(low, high)} days; outdoors it may take longer."))
    rows += _notes("What comes up", recipe.offspring, recipe)
    rows += _notes("Mind", recipe.cautions, recipe)
    rows += _notes("Law", recipe.law, recipe)
    if recipe.expectation and recipe.expectation.assumed and recipe.expectation.plants:
        rows.append(("Reckoned with", "; ".join(recipe.expectation.assumed) + "."))
    return labelled(rows, width, 16)


def _notes(label: str, notes: Iterable[Note], recipe: Recipe) -> list[tuple[str, str]]:
    return [(label if i == 0 else "", _marked(n.text, n.cites, recipe)) for i, n in enumerate(notes)]


def _treatments(recipe: Recipe, width: int) -> list[str]:
    rows = []
    for treatment in recipe.treatments:
        words = treatment.name.replace("-", " ")
        text = f"{words}: {treatment.because or treatment.why}"
        if treatment.status != "used":
            text = f"{words}: {treatment.why} {treatment.because or ''}".strip()
        rows.append(
            (
                {"used": "Used", "possible": "Also", "refused": "Not for this lot"}[treatment.status],
                _marked(text, treatment.cites, recipe),
            )
        )
    for other in recipe.not_used:
        rows.append(
            (
                "Not followed",
                _marked(f"{other.says} {other.because[0].upper()}{other.because[1:]}", other.cites, recipe),
            )
        )
    return labelled(rows, width, 18)


def _sources(recipe: Recipe, width: int) -> list[str]:
    rows = []
    for source in recipe.sources:
        at = f", {source.at}" if source.at else ""
        basis = "" if source.basis == "practice" else f" [{source.basis}]"
        rows.append((f"[{source.number}]", f"{source.text}{at}{basis}"))
    return ["From", *labelled(rows, width, 5)]


def _when(step: Step, recipe: Recipe) -> str:
    year = _year(recipe)
    if step.start is not None and step.end is not None:
        start, end = date.fromisoformat(step.start), date.fromisoformat(step.end)
        if start == end:
            return short_date(start, year)
        return f"{short_date(start, end.year)} – {short_date(end, year)}"
    if step.start_day is not None and step.end_day is not None:
        if step.start_day == step.end_day:
            return f"Day {step.start_day}"
        return f"Day {step.start_day} – {step.end_day}"
    return "First"


def _year(recipe: Recipe) -> int:
    return date.fromisoformat(recipe.asked_on).year


def _span(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g}–{high:g}"


def _marked(text: str, cites: Iterable[int], recipe: Recipe) -> str:
    """The text with its footnote numbers; common practice alone goes unmarked to keep the page quiet."""
    practice = {s.number for s in recipe.sources if s.basis == "practice" and s.source is None}
    shown = [n for n in cites if n not in practice]
    return f"{text} [{', '.join(map(str, shown))}]" if shown else text
