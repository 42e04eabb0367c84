"""The recipe as one page that a grower reads once and does; ``--full`` prints the rest."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from coldspell.records.do import MOIST
from coldspell.texts import Texts
from coldspell.views.days import day_of, days_of
from coldspell.views.layout import in_ascii, labelled, paragraph
from coldspell.views.sources import Sources
from coldspell.write.recipe import Note, Recipe, Step
from coldspell.write.units import Units, number, plural, spelled_date

_LABEL = 11
_LOOK = 20


def render(recipe: Recipe, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width, ending with a newline."""
    width = max(32, min(width, 110))
    return _Page(recipe, texts, width, ascii_only=ascii_only).text()


class _Page:
    """One page being laid out; ``sources`` collects what it names."""

    def __init__(self, recipe: Recipe, texts: Texts, width: int, *, ascii_only: bool) -> None:
        self.recipe, self.texts, self.width, self.ascii_only = recipe, texts, width, ascii_only
        self.units = Units(recipe.units)
        self.sources = Sources(recipe.sources, texts)

    def text(self) -> str:
        """The whole page."""
        blocks = [self._head(), self._verdict(), self._asked()]
        if self.recipe.asks is None:
            blocks += [self._need(), self._steps(), self._looks(), self._lines()]
        else:
            blocks.append(self._lines())
        blocks.append(self._sources())
        return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"

    def _paragraph(self, text: str, indent: int = 0, first: str | None = None) -> list[str]:
        """A text wrapped to the width; spelled in ASCII before, since some signs take more room then."""
        return paragraph(self._signs(text), self.width, indent, None if first is None else self._signs(first))

    def _rows(self, rows: Iterable[tuple[str, str]], indent: int) -> list[str]:
        """Labels with their texts in one column."""
        return labelled(((self._signs(a), self._signs(b)) for a, b in rows), self.width, indent)

    def _signs(self, text: str) -> str:
        return in_ascii(text) if self.ascii_only else text

    def _head(self) -> list[str]:
        recipe, say = self.recipe, self.texts.say
        species, said = recipe.species, recipe.lot.said
        common = species.common_names[0] if species.common_names else ""
        title = f"{common.upper()} ({species.name})" if common else species.name.upper()
        printed = say("printed", day=spelled_date(date.fromisoformat(recipe.asked_on)))
        if recipe.asks is not None:
            return [*self._paragraph(title), *self._paragraph(printed)]
        seeds = int(str(said["seeds"]))
        bits = [f"{number(seeds)} {plural(species.unit, seeds)}"]
        if said["shell"] != "intact":
            bits.append(say(f"shell_{said['shell']}"))
        bits.append(str(said["moisture"]))
        if said["collected"]:
            bits.append(say("gathered", day=spelled_date(date.fromisoformat(str(said["collected"])))))
        if said["stored_years"]:
            years = float(str(said["stored_years"]))
            unit = say("year" if years == 1 else "years")
            bits.append(say("stored", years=f"{years:g}", unit=unit))
        lot = ", ".join(bits)
        title, lot = self._signs(title), self._signs(lot)
        gap = self.width - len(title) - len(lot)
        head = [f"{title}{' ' * gap}{lot}"] if gap >= 2 else self._paragraph(f"{title}: {lot}")
        return [*head, *self._paragraph(printed)]

    def _verdict(self) -> list[str]:
        recipe = self.recipe
        lines = self._paragraph(recipe.verdict.sentence)
        if recipe.notes:
            lines += self._paragraph(" ".join(recipe.notes))
        band = self._band()
        return [*lines, "", *band] if band else lines

    def _band(self) -> list[str]:
        """The numbers in one line: spells with their days and degrees, start, sowing, plants."""
        recipe, say = self.recipe, self.texts.say
        cells = []
        for step in recipe.steps:
            if step.do in MOIST and step.days is not None:
                low, _, high = step.days
                days = say("band_days", days=_span(low, high))
                degrees = "" if step.celsius is None else self.units.temperature(step.celsius[::2])
                cells.append(say(f"band_{step.do}", days=days, celsius=degrees).strip())
        moist = [s for s in recipe.steps if s.do in MOIST and s.start]
        if moist and recipe.steps[-1].start:
            cells.append(say("band_start", day=self._day(moist[0].start or "")))
        sown = next((s for s in recipe.steps if s.do == "sow" and s.start), None)
        if sown is not None and sown.start:
            cells.append(say("band_sow", day=self._day(sown.start)))
        plants = recipe.expectation.plants if recipe.expectation else None
        if plants is not None:
            low, _, high = plants
            cells.append(say("band_expect", plants=_span(low, high)))
        return self._paragraph(say("band_gap").join(cells), 1) if cells else []

    def _asked(self) -> list[str]:
        asks = self.recipe.asks
        if asks is None:
            return []
        lines: list[str] = []
        for choice in asks.choices:
            answer = f"{choice.answer[:1].upper()}{choice.answer[1:]}"
            text = f"{answer}. {choice.says}" if choice.says else answer
            lines += self._paragraph(self._marked(text, choice.cites), 4, "  •")
            if choice.leads_to:
                lines += self._paragraph(self.texts.say("then", names=", ".join(choice.leads_to)), 6)
        return lines

    def _need(self) -> list[str]:
        recipe, say, medium = self.recipe, self.texts.say, self.recipe.medium
        things = []
        if medium is not None:
            things = [medium.container_says] if medium.container_says else []
            if medium.litres is not None:
                things.append(f"{self.units.volume(medium.litres)} {medium.material_says}")
            if medium.water_ml is not None:
                things.append(say("water", amount=self.units.water(medium.water_ml)))
            if medium.space_litres is not None:
                things.append(say("cold_room", volume=self.units.volume(medium.space_litres)))
        things += [need.text for need in recipe.needs]
        rows = [(say("you_need"), " · ".join(things))] if things else []
        expect = recipe.expectation
        if expect is not None and expect.seeds_for_wanted is not None:
            want, seeds = recipe.lot.said["want"], expect.seeds_for_wanted
            rows.append((say("want_label"), say("want", want=want, seeds=seeds)))
        for i, way in enumerate(recipe.timing.ways_out):
            when = say("way_out_day", day=self._day(way.date)) if way.date else ""
            text = say("way_out", number=i + 1, way=way.text.rstrip("."), when=when)
            rows.append((say("instead_label") if i == 0 else "", text))
        return self._rows(rows, _LABEL)

    def _steps(self) -> list[str]:
        recipe = self.recipe
        labels = [f"{place} {self._when(step)}" for place, step in enumerate(recipe.steps, 1)]
        column = max(_LABEL, *(len(label) + 2 for label in labels)) if labels else _LABEL
        lines: list[str] = []
        laid = False
        for label, step in zip(labels, recipe.steps, strict=True):
            text = self._marked(step.text, step.cites)
            if step.do in MOIST and not laid:
                laid = True
                text = " ".join([text, *self._medium()])
            if step.do == "sow":
                text = " ".join([text, *self._growing()])
            lines += self._rows([(label, text)], column)
        if not laid and recipe.medium is not None:
            lines += self._rows([(self.texts.say("hold_label"), " ".join(self._medium()))], column)
        if recipe.medium is None and recipe.place:
            lines += self._rows([(self.texts.say("place_label"), recipe.place)], column)
        return lines

    def _medium(self) -> list[str]:
        """What the seeds lie in, how they are laid, how moist, how closed, and where it stands."""
        medium, layout = self.recipe.medium, self.recipe.layout
        if medium is None:
            return []
        says = [f"{medium.says[0].upper()}{medium.says[1:]}: {medium.material_says}."]
        if layout is not None:
            says.append(layout.says)
            if layout.layers and layout.per_layer:
                key = "one_layer" if layout.layers == 1 else "more_layers"
                says.append(self.texts.say(key, layers=layout.layers, seeds=layout.per_layer).strip())
        return [*says, medium.wetness, medium.closure, *([medium.place] if medium.place else [])]

    def _growing(self) -> list[str]:
        """How warm it is sown and when it shows."""
        sowing, found = self.recipe.sowing, []
        if sowing is not None:
            found = [sowing.warmth] if sowing.warmth else []
            if sowing.comes_up_days:
                low, _, high = sowing.comes_up_days
                found.append(self.texts.say("comes_up_short", days=_span(low, high)))
        return found

    def _looks(self) -> list[str]:
        checks, say = self.recipe.checks, self.texts.say
        if checks is None:
            return []
        lines = self._rows([(say("look_head"), self._look_when())], _LABEL)
        rows = [(f"  {look.look_for}", look.then_do) for look in checks.looks]
        return lines + self._rows(rows, _LOOK)

    def _look_when(self) -> str:
        checks, does, say = self.recipe.checks, self.recipe.does, self.texts.say
        if checks is None or does.page == "test":
            return say("look_test")
        if checks.dates:
            return say("look_on", days=self._listed(days_of(checks.dates, self.recipe.asked_on)))
        if checks.days:
            return say("look_on_days", days=self._listed([str(day) for day in checks.days]))
        return say("look_weekly" if does.waits_from == "gathered" else "look_fortnightly")

    def _listed(self, days: Sequence[str]) -> str:
        """Up to five days; of more the first four and the last."""
        if len(days) <= 5:
            return ", ".join(days)
        return self.texts.say("look_and_on", dates=", ".join(days[:4]), last=days[-1])

    def _lines(self) -> list[str]:
        """What if, how long it keeps, without a refrigerator, safety, law, offspring: a line or two each."""
        recipe, say = self.recipe, self.texts.say
        rows = [(case.look_for, case.then_do) for case in recipe.what_if]
        if recipe.hold is not None:
            rows.append((say("keeps_label"), self._hold()))
        rows += self._joined(say("no_fridge_label"), recipe.instead)
        rows += self._joined(say("safety_label"), recipe.cautions)
        rows += self._law()
        rows += self._joined(say("you_get_label"), recipe.offspring)
        return self._rows(rows, _LABEL)

    def _hold(self) -> str:
        hold, say = self.recipe.hold, self.texts.say
        if hold is None:
            return ""
        text = hold.says
        if hold.days:
            text = say("wait_up_to", days=_span(hold.days[0], hold.days[2]), says=text)
        if hold.until:
            text = say("wait_until", says=text, day=self._day(hold.until))
        return self._marked(text, hold.cites)

    def _law(self) -> list[tuple[str, str]]:
        """Notes for the place of the lot and those that hold everywhere; else only the places."""
        law, say = self.recipe.law, self.texts.say
        place = str(self.recipe.lot.said["place"] or "").casefold()
        here = [n for n in law if place and _same_place(place, n.text.split(":")[0].casefold())]
        world = [n for n in law if n.text.split(":")[0].casefold().startswith(_EVERYWHERE)]
        shown = here or (world if len(world) == len(law) else [])
        if shown or not law:
            return self._joined(say("law_label"), shown)
        places = "; ".join(dict.fromkeys(n.text.split(":")[0] for n in law))
        return [(say("law_label"), say("law_elsewhere", places=places))]

    def _joined(self, label: str, notes: Iterable[Note]) -> list[tuple[str, str]]:
        """Notes in one run of text; those of practice that follow each other share one mark."""
        texts = [self._marked(note.text, note.cites) for note in notes]
        mark = f" {self.texts.say('practice_mark')}"
        pairs = zip(texts, (*texts[1:], ""), strict=False)
        shared = [
            text.removesuffix(mark) if text.endswith(mark) and after.endswith(mark) else text
            for text, after in pairs
        ]
        return [(label, " ".join(shared))] if texts else []

    def _sources(self) -> list[str]:
        return self._paragraph(self.sources.listed())

    def _marked(self, text: str, cites: Iterable[int]) -> str:
        return self.sources.marked(text, cites)

    def _day(self, text: str) -> str:
        return day_of(text, self.recipe.asked_on)

    def _when(self, step: Step) -> str:
        say = self.texts.say
        if step.start is not None and step.end is not None:
            start, end = self._day(step.start), self._day(step.end)
            return start if start == end else f"{start}–{end}"
        if step.start_day is not None and step.end_day is not None:
            if step.start_day == step.end_day:
                return say("day", first=step.start_day)
            return say("days", first=step.start_day, last=step.end_day)
        return say("first")


_EVERYWHERE = ("cites", "everywhere", "worldwide", "international")


def _same_place(place: str, noted: str) -> bool:
    return any(part.strip() and (part.strip() in place or place in part) for part in noted.split(","))


def _span(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g}–{high:g}"
