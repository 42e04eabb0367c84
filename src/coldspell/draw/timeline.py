"""The days of a lot on a line: what is done when, the looks, and the window in which it may wait."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from coldspell.draw.picture import WIDTH, Picture
from coldspell.draw.pieces import GREY, INK, haloed, label, wide
from coldspell.draw.svg import Node, node, path
from coldspell.records.do import MOIST
from coldspell.texts import Texts
from coldspell.views.days import day_of
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Step
from coldspell.write.units import MONTHS

LEFT, BAR = 10.0, 12.0
ROW, WIDE_ROW, WIDE_FROM = 36.0, 22.0, 500.0
"""Height of a row with its label over the bar; with the label beside it, on a line at least so wide."""
FILLS = {"cold_moist": "#9fc1dc", "cool_moist": "#c5dbe8", "warm_moist": "#eeb98a", "alternate": "#dccf9a"}
"""Colours of the spells; told apart by their labels where there is no colour."""


class Row(Struct, frozen=True):
    """One line: its label, first and last day as numbers, and how it is drawn (bar, window, point, looks)."""

    text: str
    start: int
    end: int
    kind: str
    fill: str = "#fff"
    days: tuple[int, ...] = ()


def rows(recipe: Recipe, texts: Texts) -> list[Row]:
    """The lines from above to below, in days of the calendar, or counted from the start of the treatment."""
    found = [row for step in recipe.steps if (row := _of_step(recipe, step, texts)) is not None]
    window = _window(recipe, texts)
    at = next((i for i, row in enumerate(found) if row.kind == "sow"), len(found))
    if window is not None:
        found.insert(at, window)
    looks = _looks(recipe, texts)
    return [*found, looks] if looks is not None else found


def span(recipe: Recipe, texts: Texts) -> tuple[int, int] | None:
    """First and last day of a line of days, as its rows count them; ``None`` where there is none."""
    told = rows(recipe, texts)
    return (min(row.start for row in told), max(row.end for row in told)) if told else None


def timeline(
    recipe: Recipe, texts: Texts, width: float = WIDTH, days: tuple[int, int] | None = None
) -> Picture | None:
    """The line of days, as wide as asked for; ``None`` where there are not two days to show.

    ``days`` (first and last, as `span` has them) lays several lots out on the same line.
    """
    told = rows(recipe, texts)
    found = days or span(recipe, texts)
    if not told or found is None:
        return None
    first, last = found
    if last - first < 2:
        return None
    scale = (width - 2 * LEFT) / (last - first)
    row_high = WIDE_ROW if width >= WIDE_FROM else ROW
    low = 8 + row_high * len(told)
    body: list[Node] = _axis(recipe, first, last, scale, low, texts)
    for i, row in enumerate(told):
        body += _drawn(row, first, scale, 8 + row_high * i, width)
    says = "; ".join(row.text for row in told)
    return Picture("timeline", texts.say("draw_timeline"), f"{says}.", low + 22, tuple(body), width)


def _of_step(recipe: Recipe, step: Step, texts: Texts) -> Row | None:
    start, end = _days(step)
    if start is None or end is None:
        return None
    name = texts.say(f"draw_do_{step.do}")
    if start == end or step.do == "sow":
        kind = "sow" if step.do == "sow" else "point"
        return Row(f"{name} {_named(recipe, step, start, texts)}", start, start, kind)
    text = f"{name} {_named(recipe, step, start, texts)} – {_named(recipe, step, end, texts)}"
    return Row(text, start, end, "bar", FILLS.get(step.do, "#fff"))


def _days(step: Step) -> tuple[int | None, int | None]:
    if step.start is not None and step.end is not None:
        return date.fromisoformat(step.start).toordinal(), date.fromisoformat(step.end).toordinal()
    return step.start_day, step.end_day


def _named(recipe: Recipe, step: Step, day: int, texts: Texts) -> str:
    if step.start is None:
        return texts.say("day", first=day)
    return day_of(date.fromordinal(day).isoformat(), recipe.asked_on)


def _window(recipe: Recipe, texts: Texts) -> Row | None:
    """From the day on which it is ready to the last day to which it may wait."""
    until = recipe.hold.until if recipe.hold is not None else None
    ready = [step.end for step in recipe.steps if step.do in MOIST and step.end is not None]
    if until is None or not ready or until <= ready[-1]:
        return None
    text = texts.say("draw_window", day=day_of(until, recipe.asked_on))
    start, end = date.fromisoformat(ready[-1]), date.fromisoformat(until)
    return Row(text, start.toordinal(), end.toordinal(), "window")


def _looks(recipe: Recipe, texts: Texts) -> Row | None:
    checks = recipe.checks
    if checks is None or recipe.does.page == "test":
        return None
    dated = any(step.start is not None for step in recipe.steps)
    days = tuple(date.fromisoformat(day).toordinal() for day in checks.dates) if dated else checks.days
    if not days:
        return None
    text = texts.count("draw_looks", len(days))
    return Row(text, days[0], days[-1], "looks", days=days)


def _drawn(row: Row, first: int, scale: float, top: float, width: float) -> list[Node]:
    start, end = LEFT + (row.start - first) * scale, LEFT + (row.end - first) * scale
    beside = width >= WIDE_FROM
    y = top + (4 if beside else 16)
    told = _beside(row, start, end, top + 15, width) if beside else _over(row, start, top + 11, width)
    found: list[Node] = []
    if row.kind in ("bar", "window"):
        found.append(
            node(
                "rect",
                x=start,
                y=y,
                width=max(end - start, 2),
                height=BAR,
                fill=row.fill,
                stroke=INK,
                stroke_width=1.2,
                stroke_dasharray="5 3" if row.kind == "window" else None,
                data_is=row.kind,
            )
        )
    elif row.kind == "looks":
        ticks = " ".join(path("M", LEFT + (day - first) * scale, y, "v", BAR) for day in row.days)
        found.append(node("path", d=ticks, stroke=INK, stroke_width=1.6, data_is="looks"))
    else:
        mark = path("M", start, y + BAR, "l", -6, -11, "h", 12, "Z")
        found.append(
            node("path", d=mark, fill=INK if row.kind == "sow" else "#fff", stroke=INK, data_is=row.kind)
        )
    return [*found, told]


def _over(row: Row, start: float, y: float, width: float) -> Node:
    """The label over its bar, moved to the left where the sheet ends."""
    return haloed(row.text, min(start, max(LEFT, width - LEFT - wide(row.text))), y)


def _beside(row: Row, start: float, end: float, y: float, width: float) -> Node:
    """The label behind its bar, or before it where there is no room behind."""
    gap = 6.0 if row.kind in ("bar", "window", "looks") else 10.0
    if end + gap + wide(row.text) < width:
        return haloed(row.text, end + gap, y)
    if start - gap - wide(row.text) > 0:
        return haloed(row.text, start - gap, y, "end")
    middle, room = (start + end) / 2, wide(row.text, 12) + 8
    ground = node("rect", x=middle - room / 2, y=y - 11, width=room, height=14, fill="#fff", rx=3)
    return node("g", ground, haloed(row.text, middle, y, "middle", 12))


def _axis(recipe: Recipe, first: int, last: int, scale: float, low: float, texts: Texts) -> list[Node]:
    """Months of the calendar, or weeks from the start, as thin lines with their names beneath."""
    marks = _months(first, last, scale) if first > 400_000 else _weeks(first, last, scale, texts)
    line = " ".join(path("M", LEFT + (day - first) * scale, 6, "V", low) for day, _ in marks)
    found: list[Node] = [
        node("path", d=f"M {LEFT} {low:g} H {LEFT + (last - first) * scale:.1f}", stroke=GREY, stroke_width=1)
    ]
    if line:
        found.insert(0, node("path", d=line, stroke="#ccc", stroke_width=0.8))
    end = (last - first) * scale + 2 * LEFT
    for day, text in marks:
        x = LEFT + (day - first) * scale + 2
        if text and x + wide(text, 11) < end:
            found.append(label(text, x, low + 14, size=11))
    return found


def _months(first: int, last: int, scale: float) -> list[tuple[int, str]]:
    """First days of months; the year stands in January."""
    start = date.fromordinal(first)
    year, month, found = start.year, start.month, []
    while (day := date(year, month, 1)).toordinal() <= last:
        if day.toordinal() >= first:
            room = 30 * scale
            name = MONTHS[month - 1][: 3 if room > 24 else 1]
            named = room > 12 or month in (1, 4, 7, 10)
            text = str(year) if month == 1 and room > 26 else name
            found.append((day.toordinal(), text if named else ""))
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    return found


def _weeks(first: int, last: int, scale: float, texts: Texts) -> list[tuple[int, str]]:
    step = next((n for n in (7, 14, 28, 56, 112) if n * scale > 48), 224)
    return [(day, texts.say("draw_week", week=day // 7)) for day in range(0, last + 1, step) if day >= first]
