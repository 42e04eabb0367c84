"""What a short page says, block by block, not yet laid out; the one page and the sheet are made from it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from msgspec import Struct

from coldspell.records.do import COLD, MOIST
from coldspell.texts import Texts
from coldspell.views.days import day_of, days_of, gaps, how_often, looks_told, may_wait
from coldspell.views.law import law_lines
from coldspell.views.phrases import medium_says, otherwise, weighing
from coldspell.views.short_trial import ShortTrial, relatives, short_trial
from coldspell.views.sources import Sources
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Note, Step
from coldspell.write.units import Units, number, plural, round_up, spelled_date
from coldspell.write.units import plants as plants_in_words

Row = tuple[str, str]
"""A label and its text."""


class Choice(Struct, frozen=True):
    """One answer to the question of a mixed genus, and the names it leads to."""

    text: str
    then: str


class ToDo(Struct, frozen=True):
    """One step: its number, when, and everything that belongs to it."""

    number: int
    when: str
    text: str


class Looks(Struct, frozen=True):
    """When to look, and what for."""

    when: str
    rows: tuple[Row, ...]


class Short(Struct, frozen=True):
    """All that a short page says; where a question must be answered first, only it and the safety."""

    title: str
    lot: str
    printed: str
    called: str
    """What has to be said of the name, if anything."""
    sentence: str
    notes: str
    band: tuple[str, ...]
    choices: tuple[Choice, ...]
    otherwise: str
    """What to do where none of the choices fits."""
    trial: ShortTrial | None
    """How to learn what it wants, in place of steps and looks."""
    needs: tuple[Row, ...]
    steps: tuple[ToDo, ...]
    kept: tuple[Row, ...]
    """What the seed lies in, where no step says it."""
    looks: Looks | None
    what_if: tuple[Row, ...]
    keeps: tuple[Row, ...]
    instead: tuple[Row, ...]
    safety: tuple[Row, ...]
    law: tuple[Row, ...]
    law_first: bool
    """Whether a place was said: then what is noted of it leads the rows after the looks."""
    offspring: tuple[Row, ...]
    write_down: tuple[Row, ...]
    relatives: tuple[Row, ...]
    sources: str

    @property
    def lines(self) -> tuple[Row, ...]:
        """What follows the looks, in its order."""
        early, late = (self.law, ()) if self.law_first else ((), self.law)
        if self.trial is not None:
            return (*early, *self.write_down, *self.relatives, *self.safety, *late)
        return (
            *early,
            *self.what_if,
            *self.keeps,
            *self.instead,
            *self.safety,
            *late,
            *self.offspring,
            *self.relatives,
        )


def state_now(recipe: Recipe, texts: Texts) -> str:
    """How the lot is: sown, rooted or wet rather than as it was before."""
    said, say = recipe.lot.said, texts.say
    rooted = int(str(said["rooted"]))
    if said["sown"]:
        return say("lot_sown")
    if rooted:
        whole = rooted == int(str(said["seeds"]))
        return say("lot_rooted") if whole else say("lot_part_rooted", rooted=number(rooted))
    if said["swollen"] == "yes":
        return say("lot_swollen")
    moist = said["cold_days_done"] or said["warm_days_done"] or said["cold_break_days"]
    return say("lot_moist") if moist else str(said["moisture"])


def short_page(recipe: Recipe, texts: Texts, *, every: bool = False, sources: Sources | None = None) -> Short:
    """What a recipe says on a short page; ``every`` lists all relatives, ``sources`` collects the works.

    Sources are numbered in the order in which the page names them.
    """
    said = _Said(recipe, texts, sources or Sources(recipe.sources, texts))
    asked = recipe.does.page == "question"
    title, lot, printed = said.head()
    return Short(
        title=title,
        lot=lot,
        printed=printed,
        called=recipe.species.note,
        sentence=recipe.verdict.sentence,
        notes=" ".join(recipe.notes),
        band=said.band(),
        choices=said.choices(),
        otherwise=said.otherwise(),
        trial=short_trial(recipe, texts, said.sources),
        needs=() if asked else said.needs(),
        steps=() if asked else said.steps(),
        kept=() if asked else said.kept(),
        looks=None if asked else said.looks(),
        write_down=said.joined("write_label", recipe.trial.write_down if recipe.trial else ()),
        what_if=tuple((case.look_for, case.then_do) for case in recipe.what_if),
        keeps=said.keeps(),
        instead=said.joined("no_fridge_label", recipe.instead),
        safety=said.joined("safety_label", recipe.cautions),
        law=said.law(),
        law_first=bool(recipe.lot.said["place"]),
        offspring=said.joined("you_get_label", recipe.offspring),
        relatives=relatives(recipe, texts, said.sources, every=every),
        sources=said.sources.listed(),
    )


class _Said:
    """The blocks of one page; ``sources`` collects what they name."""

    def __init__(self, recipe: Recipe, texts: Texts, sources: Sources) -> None:
        self.recipe, self.texts, self.sources = recipe, texts, sources
        self.units = Units(recipe.units)

    def head(self) -> tuple[str, str, str]:
        """The kind, the lot, and the day of asking."""
        recipe, say = self.recipe, self.texts.say
        species = recipe.species
        common = species.common_names[0] if species.common_names else ""
        title = f"{common.upper()} ({species.name})" if common else species.name.upper()
        printed = say("printed", day=spelled_date(date.fromisoformat(recipe.asked_on)))
        return title, "" if recipe.does.page == "question" else self._lot(), printed

    def _lot(self) -> str:
        say, said = self.texts.say, self.recipe.lot.said
        seeds = int(str(said["seeds"]))
        bits = [f"{number(seeds)} {plural(self.recipe.species.unit, seeds)}{self._weighing(seeds)}"]
        if said["shell"] != "intact":
            bits.append(say(f"shell_{said['shell']}"))
        dry = said["days_dry"] if said["moisture"] == "fresh" else None
        bits.append(say("lay_dry", days=f"{dry:g}") if dry else state_now(self.recipe, self.texts))
        if said["collected"]:
            bits.append(say("gathered", day=spelled_date(date.fromisoformat(str(said["collected"])))))
        if said["stored_years"]:
            years = float(str(said["stored_years"]))
            unit = say("year" if years == 1 else "years")
            bits.append(say("stored", years=f"{years:g}", unit=unit))
        return ", ".join(bits)

    def _weighing(self, seeds: int) -> str:
        return weighing(self.recipe, self.texts, self.units, seeds)

    def band(self) -> tuple[str, ...]:
        """The numbers of the answer: spells with their days and degrees, start, sowing, plants."""
        recipe, say = self.recipe, self.texts.say
        cells = []
        for step in recipe.steps:
            if step.do in MOIST and step.days is not None:
                low, _, high = step.days
                days = say("band_days", days=_span(low, high))
                degrees = "" if step.celsius is None else self.units.temperature(step.celsius[::2])
                cells.append(say(f"band_{step.do}", days=days, celsius=degrees).strip())
        if recipe.timing.begins and recipe.steps[-1].start:
            cells.append(say("band_start", day=self._day(recipe.timing.begins)))
        sown = next((s for s in recipe.steps if s.do == "sow" and s.start), None)
        if sown is not None and sown.start:
            cells.append(say("band_sow", day=self._day(sown.start)))
        plants = recipe.expectation.plants if recipe.expectation else None
        if plants is not None:
            low, _, high = plants
            few, many = plants_in_words(low, high), plants_in_words(high)
            plants_of = few if few == many else f"{few}–{many}"
            expect = recipe.expectation
            wanted = expect.seeds_for_wanted if expect else None
            part = expect is not None and wanted is not None and wanted < expect.seeds
            part = part and not recipe.lot.said["rooted"]  # those are planted besides
            cells.append(say("band_expect_of" if part else "band_expect", plants=plants_of, seeds=wanted))
        return tuple(cells)

    def choices(self) -> tuple[Choice, ...]:
        """The answers to the question of a mixed genus."""
        asks, found = self.recipe.asks, []
        for choice in asks.choices if asks else ():
            answer = f"{choice.answer[:1].upper()}{choice.answer[1:]}"
            text = f"{answer}. {choice.says}" if choice.says else answer
            names = ", ".join(choice.leads_to)
            word = "then" if self.recipe.does.page == "question" else "then_like"
            then = self.texts.say(word, names=names) if names else ""
            found.append(Choice(self.sources.marked(text, choice.cites), then))
        return tuple(found)

    def otherwise(self) -> str:
        """What to do where no answer to the question fits, or nobody can tell."""
        return otherwise(self.recipe, self.texts)

    def needs(self) -> tuple[Row, ...]:
        """What has to be there, how many seeds for the plants wanted, and what else can be done."""
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
            key = "want" if seeds <= expect.seeds else "want_lacking"
            told, heavy = number(round_up(seeds)), self._weighing(seeds)
            text = say(key, want=want, seeds=told, weighing=heavy, had=number(expect.seeds))
            rows.append((say("want_label"), text))
        elif recipe.lot.said["want"] and recipe.does.page in ("plan", "test"):
            key = "want_unknown" if recipe.does.page == "plan" else "want_by_sample"
            rows.append((say("want_label"), say(key, want=recipe.lot.said["want"])))
        for i, way in enumerate(recipe.timing.ways_out):
            when = say("way_out_day", day=self._day(way.date)) if way.date else ""
            text = say("way_out", number=i + 1, way=way.text.rstrip("."), when=when)
            rows.append((say("instead_label") if i == 0 else "", text))
        return tuple(rows)

    def steps(self) -> tuple[ToDo, ...]:
        """What to do, in order; the first moist step says what the seed lies in, the first cold one where."""
        steps, found = self.recipe.steps, []
        laid = next((step for step in steps if step.do in MOIST), None)
        cold = [step for step in steps if step.do in COLD]
        stands = next((step for step in cold if step.do == "cold_moist"), cold[0] if cold else laid)
        for place, step in enumerate(steps, 1):
            says = [self.sources.marked(step.text, step.cites)]
            says += self._medium() if step is laid else []
            says += self._place() if step is stands else []
            says += self._growing() if step.do == "sow" else []
            found.append(ToDo(place, self._when(step), " ".join(says)))
        return tuple(found)

    def kept(self) -> tuple[Row, ...]:
        """What the seed lies in where no step says so, and where it stands where it lies in nothing."""
        recipe, rows = self.recipe, []
        if recipe.medium is not None and not any(step.do in MOIST for step in recipe.steps):
            rows.append((self.texts.say("hold_label"), " ".join([*self._medium(), *self._place()])))
        if recipe.medium is None and recipe.place:
            rows.append((self.texts.say("place_label"), recipe.place))
        return tuple(rows)

    def _medium(self) -> list[str]:
        """What the seeds lie in, how they are laid, how moist and how closed."""
        medium, layout = self.recipe.medium, self.recipe.layout
        if medium is None:
            return []
        says = [medium_says(medium, listed=medium.litres is not None)]
        if layout is not None:
            says.append(layout.says)
            if layout.layers and layout.per_layer and layout.per_layer > 1:
                key = "one_layer" if layout.layers == 1 else "more_layers"
                says.append(self.texts.say(key, layers=layout.layers, seeds=layout.per_layer).strip())
        return [*says, medium.wetness, medium.closure]

    def _place(self) -> list[str]:
        """Where it stands in the cold."""
        medium = self.recipe.medium
        return [medium.place] if medium is not None and medium.place else []

    def _growing(self) -> list[str]:
        """How warm it is sown and when it shows."""
        sowing, found = self.recipe.sowing, []
        if sowing is not None:
            found = [sowing.warmth] if sowing.warmth else []
            if sowing.comes_up_days:
                low, _, high = sowing.comes_up_days
                found.append(self.texts.say("comes_up_short", days=_span(low, high)))
        return found

    def looks(self) -> Looks | None:
        """When to look, and what for."""
        checks = self.recipe.checks
        if checks is None:
            return None
        return Looks(self._look_when(), tuple((k.look_for, k.then_do) for k in checks.looks if k.on_page))

    def _look_when(self) -> str:
        checks, does, say = self.recipe.checks, self.recipe.does, self.texts.say
        if checks is None or does.page == "test":
            return say("look_test")
        if checks.dates:
            return looks_told(days_of(checks.dates, self.recipe.asked_on), gaps(checks.dates), self.texts)
        if checks.days:
            named = [str(day) for day in checks.days]
            return say("look_on_days", days=looks_told(named, gaps(checks.days), self.texts))
        return how_often(checks.every_days_after, self.texts)

    def keeps(self) -> tuple[Row, ...]:
        """How long it may wait."""
        hold, say = self.recipe.hold, self.texts.say
        if hold is None:
            return ()
        text = may_wait(hold, hold.until and self._day(hold.until), self.texts)
        return ((say("keeps_label"), self.sources.marked(text, hold.cites)),)

    def law(self) -> tuple[Row, ...]:
        """Notes for the place of the lot and those that hold everywhere; else what is noted, and where."""
        lines = [self.sources.marked(text, cites) for text, cites in law_lines(self.recipe, self.texts)]
        return ((self.texts.say("law_label"), " ".join(lines)),) if lines else ()

    def joined(self, label: str, notes: Iterable[Note]) -> tuple[Row, ...]:
        """Notes in one run of text; those of practice that follow each other share one mark."""
        texts = [self.sources.marked(n.text, n.cites, _WORKS) for n in notes if n.on_page]
        mark = f" {self.texts.say('practice_mark')}"
        pairs = zip(texts, (*texts[1:], ""), strict=False)
        shared = [
            text.removesuffix(mark) if text.endswith(mark) and after.endswith(mark) else text
            for text, after in pairs
        ]
        return ((self.texts.say(label), " ".join(shared)),) if texts else ()

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


_WORKS = 1
"""Works named behind one caution or note on the one page; the full page names all."""


def _span(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g}–{high:g}"
