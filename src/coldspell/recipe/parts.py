"""Each part of the recipe, written from the decisions."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import fields
from datetime import date

from coldspell.arithmetic.containers import Bag, Box
from coldspell.arithmetic.seasons import in_months, months_between, season_month
from coldspell.recipe import practice
from coldspell.recipe.amounts import Amounts, SeedMeasure
from coldspell.recipe.candidate import MOIST
from coldspell.recipe.dates import look_dates, look_days
from coldspell.recipe.decide import Decisions
from coldspell.recipe.expect import LEVEL, Expected
from coldspell.recipe.footnotes import Footnotes
from coldspell.recipe.lot import FILE_NAMES, Lot
from coldspell.recipe.recipe import (
    Asked,
    Checks,
    Choice,
    Expectation,
    Hold,
    Layout,
    Look,
    LotAnswer,
    Medium,
    Note,
    NotUsedAnswer,
    Sowing,
    Species,
    Timing,
    TraceRow,
    TreatmentAnswer,
    Verdict,
    WayOut,
)
from coldspell.recipe.steps import range_of
from coldspell.recipe.topics import PRACTICE, Knowledge
from coldspell.recipe.wording import MONTHS, Units, number, plural
from coldspell.recipe.words import Words, depth_mm, fill
from coldspell.rules import Firing, RuleBook

_SAID_ORDER = tuple(f.name for f in fields(Lot) if f.name != "assumed")


class Writer:
    """Writes the parts of one recipe; footnotes are numbered in the order in which parts are written."""

    def __init__(
        self,
        knowledge: Knowledge,
        lot: Lot,
        decisions: Decisions,
        book: RuleBook,
        footnotes: Footnotes,
        words: Words,
        units: Units,
    ) -> None:
        self._knowledge, self._lot, self._decisions, self._book = knowledge, lot, decisions, book
        self.footnotes, self._words, self._units = footnotes, words, units

    # -- who and what ---------------------------------------------------------------------------------

    def species(self, asked: str) -> Species:
        """The kind found and where each topic came from."""
        record = self._knowledge.record
        storage, dormancy = self._knowledge.value("storage"), self._knowledge.value("dormancy")
        return Species(
            asked=asked[:200],
            name=record.name,
            family=record.family,
            rank=record.rank,
            common_names=tuple(record.common_names.get("en", ())),
            record=record.path,
            topics=self._knowledge.sources_of_topics(),
            dormancy=dormancy.class_ if dormancy else None,
            storage=storage.behaviour if storage else None,
            plant=record.plant,
            unit=record.unit,
        )

    def lot(self) -> LotAnswer:
        """The lot as understood."""
        said = {}
        for name in _SAID_ORDER:
            value = getattr(self._lot, name)
            if isinstance(value, date):
                value = value.isoformat()
            elif isinstance(value, tuple):
                value = f"{value[0]}/{value[1]}" if name in ("cut", "float_test") else list(value)
            said[FILE_NAMES.get(name, name)] = value
        return LotAnswer(said, self._lot.assumed)

    def verdict(self) -> Verdict:
        """The answer in one sentence."""
        decided = self._decisions.answers["verdict"]
        too_short = self._decisions.answer("time") == "too_short"
        return Verdict(
            route=self._decisions.answer("route") or "",
            sentence=self._answer_text("verdict", decided.answer or ""),
            feasible=not too_short,
            alive=self._decisions.answer("alive") or "",
            identity=self._decisions.answer("identity") or "",
        )

    def asks(self) -> Asked | None:
        """The question of a mixed genus, with the species that each answer leads to."""
        record = self._knowledge.record
        if record.asks is None or self._decisions.answer("route") != "ask":
            return None
        choices = (
            Choice(a.if_, a.then, a.says, self.footnotes.of_record(record, a.cite))
            for a in record.asks.answers
        )
        return Asked(record.asks.question, tuple(choices))

    def timing(self) -> Timing:
        """Whether it fits, and what can be done when it does not."""
        dated = self._decisions.schedule
        fits = self._decisions.answer("time") or "not_asked"
        infeasible = dated.infeasible if fits in ("tight", "too_short") else None
        dates = {
            "sow_later": infeasible and infeasible.sow_date,
            "keep_dry": infeasible and infeasible.next_target,
        }
        ways = self._decisions.answers.get("ways_out")
        spare = dated.days_spare
        windowed = dated.target is not None and fits in ("fits", "tight")
        return Timing(
            fits=fits,
            constraint=infeasible.constraint if infeasible else None,
            days_short=infeasible.days_short if infeasible else None,
            days_spare=None if spare is None or fits == "not_asked" else int(spare),
            start_first=max(dated.plan.window_first, dated.first).isoformat() if windowed else None,
            start_last=dated.plan.window_last.isoformat() if windowed else None,
            ways_out=tuple(
                WayOut(self._answer_text("ways_out", f.answer), _iso(dates.get(f.answer)), f.rule)
                for f in (ways.firings if ways else ())
            ),
        )

    def treatments(self) -> tuple[TreatmentAnswer, ...]:
        """Every treatment of the record: used, possible or refused, and why."""
        found = []
        for judged in self._decisions.judged:
            candidate, treatment = judged.candidate, judged.candidate.treatment
            used = judged is self._decisions.chosen and judged.status == "use"
            status = "used" if used else "possible" if judged.status in ("use", "possible") else "refused"
            why = self._answer_text("treatment", judged.decided.answer or "")
            if judged.status == "use" and not used:
                why = "It suits the lot; the record puts another one first."
            found.append(
                TreatmentAnswer(
                    name=treatment.name,
                    status=status,
                    why=why,
                    steps=tuple(s.do for s in treatment.steps),
                    because=treatment.because,
                    cites=self.footnotes.of_record(candidate.record, treatment.cite),
                    from_record=candidate.record.path if candidate.record else PRACTICE,
                )
            )
        return tuple(found)

    def not_used(self) -> tuple[NotUsedAnswer, ...]:
        """Dissenting sources of the record."""
        found = self._knowledge.find("not_used")
        if found is None:
            return ()
        return tuple(
            NotUsedAnswer(n.says, n.because, self.footnotes.of_record(found.record, n.cite))
            for n in found.value
        )

    # -- medium ---------------------------------------------------------------------------------------

    def medium(self, amount: Amounts) -> Medium | None:
        """What the seeds lie in."""
        form = self._decisions.answer("medium")
        if form is None:
            return None
        material = self._decisions.answer("material") or ""
        return Medium(
            form=form,
            says=self._answer_text("medium", form),
            material="vermiculite" if material == "buy_vermiculite" else material,
            material_says=self._answer_text("material", material),
            litres=_rounded(amount.litres),
            water_ml=amount.water_ml and (_round_to(amount.water_ml[0], 5), _round_to(amount.water_ml[1], 5)),
            containers=amount.containers,
            container_says=self._container_words(amount),
            sheets=amount.sheets,
            wetness=self._said("wetness"),
            closure=self._said("closure"),
            place=self._said("place"),
        )

    def layout(self, amount: Amounts) -> Layout | None:
        """How the seeds are laid."""
        if self._decisions.answer("layout") is None:
            return None
        filling, box = amount.filling, amount.container
        layered = filling is not None and filling.method == "layers"
        dimensions: tuple[float, ...] = ()
        if isinstance(box, Box):
            dimensions = (box.length_mm, box.width_mm, box.height_mm)
        elif isinstance(box, Bag):
            dimensions = (box.width_mm, box.length_mm)
        return Layout(
            says=self._said("layout"),
            pitch_mm=filling.pitch_mm if filling and layered else None,
            gap_mm=practice.GAP_MM if layered else None,
            layers=filling.layers if filling and layered else None,
            per_layer=filling.per_layer if filling and layered else amount.seeds_per_sheet,
            per_container=filling.per_container if filling else None,
            dimensions_mm=dimensions,
            pattern=filling.pattern.kind if filling and filling.pattern else None,
        )

    def _container_words(self, amount: Amounts) -> str | None:
        if amount.sheets is not None:
            rolls = "roll" if amount.containers == 1 else "rolls"
            sheets = "sheet" if amount.sheets == 1 else "sheets"
            return f"{amount.sheets} paper-towel {sheets} in {amount.containers} {rolls}, plastic bag"
        if amount.container is None:
            return None
        box = amount.container
        count = amount.containers or 1
        if isinstance(box, Bag):
            size = f"{self._units.length(box.width_mm)} × {self._units.length(box.length_mm)}"
            return f"{number(count)} plastic {'bag' if count == 1 else 'bags'} about {size}"
        if isinstance(box, Box):
            sides = " × ".join(self._units.length(s) for s in (box.length_mm, box.width_mm, box.height_mm))
            return f"{number(count)} {'box' if count == 1 else 'boxes'} {sides}"
        return None

    def place(self) -> str | None:
        """Where the lot lies in the cold, pots of rooted seed included."""
        return self._said("place") or None

    # -- afterwards -----------------------------------------------------------------------------------

    def hold(self) -> Hold | None:
        """How long it may wait."""
        if self._decisions.answer("wait") is None:
            return None
        chosen = self._decisions.chosen
        hold = chosen.candidate.treatment.hold if chosen else None
        recorded = hold if self._decisions.answer("wait") == "as_recorded" else None
        cites = self.footnotes.of_rules(self._decisions.answers["wait"].firings)
        if recorded and chosen:
            cites = self.footnotes.of_record(chosen.candidate.record, recorded.cite)
        dated = self._decisions.schedule
        until = (
            dated.plan.hold_until.isoformat()
            if recorded and dated.target and dated.infeasible is None
            else None
        )
        return Hold(
            says=self._said("wait"),
            days=range_of(recorded.days) if recorded else None,
            celsius=range_of((recorded and recorded.celsius) or practice.HOLD_CELSIUS) if recorded else None,
            until=until,
            cites=cites,
        )

    def checks(self) -> Checks | None:
        """When to look and what for."""
        testing = self._decisions.answer("route") == "test_first"
        name = "test_results" if testing else "looks"
        decided = self._decisions.answers.get(name)
        if decided is None or not decided.applies:
            return None
        dated, form = self._decisions.schedule, self._decisions.answer("medium") or ""
        moist = [s for s in dated.plan.steps if s.name in MOIST]
        days: tuple[int, ...] = ()
        if moist and self._decisions.answer("route") in ("treat_indoors", "warm_indoors"):
            total = (moist[-1].end - moist[0].start).days
            least = total - moist[-1].days + max(0, (moist[-1].least_end - moist[-1].start).days)
            days = look_days(total, least, form)
        first = moist[0].start if moist else dated.first
        offset = (first - dated.plan.start).days if moist else 0
        return Checks(
            dates=tuple(d.isoformat() for d in look_dates(first, days)) if dated.target else (),
            days=tuple(offset + d for d in days),
            every_days_after=None if testing else 7 if days else 14,
            looks=tuple(
                Look(self._answer_text(name, f.answer), fill(f.text or "", self._words), f.rule)
                for f in decided.firings
            ),
            on_mould=self._said("on_mould") or None,
            on_sprouts=self._said("on_sprouts") or None,
        )

    def sowing(self, seed: SeedMeasure) -> Sowing | None:
        """How deep and how warm."""
        if self._decisions.answer("finish") is None:
            return None
        sowing, germination = self._knowledge.find("sowing"), self._knowledge.find("germination")
        cites = self.footnotes.of_rules(self._decisions.answers["finish"].firings)
        if sowing is not None:
            cites = tuple(
                dict.fromkeys((*self.footnotes.of_record(sowing.record, sowing.value.cite), *cites))
            )
        target = self._decisions.schedule.target
        cool = self._decisions.answer("warmth") == "cool"
        limit = (
            sowing.value.celsius_max.high
            if sowing and sowing.value.celsius_max
            else practice.SOW_COOL_CELSIUS
        )
        uncovered = self._decisions.answer("finish") in ("surface_light", "surface_fine")
        return Sowing(
            says=self._said("finish"),
            warmth=self._said("warmth") or None,
            date=_iso(target),
            depth_mm=None if uncovered else range_of(depth_mm(self._knowledge, seed)),
            celsius_max=limit if cool else None,
            comes_up_days=range_of(germination.value.days) if germination else None,
            cites=cites,
        )

    def expectation(self, found: Expected) -> Expectation | None:
        """Plants to expect."""
        if self._decisions.answer("finish") is None:
            return None
        lot, plants = self._lot, found.plants
        per_kg = self._knowledge.value("seeds_per_kg")
        mass = None
        if per_kg is not None:
            typical = (
                per_kg.value.usual
                if per_kg.value.usual is not None
                else (per_kg.value.low + per_kg.value.high) / 2
            )
            mass = float(f"{lot.seeds / typical * 1000:.3g}")
        middle = round(plants.mean)
        share = f"{round(LEVEL * 10)} times in ten".replace("9 times", "nine times")
        several = "plant" if middle == 1 else "plants"
        says = f"about {number(middle)} {several} ({number(plants.low)} to {number(plants.high)}, {share})"
        cites: tuple[int, ...] = ()
        for topic in found.cited:
            source = self._knowledge.find(topic)
            if source is not None:
                cites += self.footnotes.of_record(source.record, source.value.cite)
        return Expectation(
            seeds=lot.seeds,
            seeds_mass_g=mass,
            plants=(plants.low, middle, plants.high),
            says=says,
            seeds_for_wanted=found.seeds_for_wanted,
            assumed=found.assumed,
            cites=tuple(dict.fromkeys(cites)),
        )

    def lines(self, decision: str) -> tuple[Note, ...]:
        """The texts of a decision that collects."""
        decided = self._decisions.answers.get(decision)
        firings = decided.firings if decided else ()
        texts: dict[str, Note] = {}
        for f in firings:
            text = self._answer_text(decision, f.answer)
            texts.setdefault(text, Note(text, f"{decision}: {f.rule}", self.footnotes.of_rules((f,))))
        return tuple(texts.values())

    def offspring_of_record(self) -> tuple[Note, ...]:
        """What the record adds on the offspring."""
        found = self._knowledge.find("offspring")
        if found is None or not found.value.says:
            return ()
        return (Note(found.value.says, None, self.footnotes.of_record(found.record, found.value.cite)),)

    def cautions(self) -> tuple[Note, ...]:
        """Hazards of the records first, then those of the method; shown whatever the answer is."""
        recorded = tuple(
            Note(_hazard_text(h.kind, h.to, h.part, h.says), None, self.footnotes.of_record(record, h.cite))
            for h, record in self._knowledge.hazards()
        )
        return recorded + self.lines("cautions")

    def law(self) -> tuple[Note, ...]:
        """Notes on the law with their date."""
        return tuple(
            Note(
                f"{entry.place}: {_without_advice(entry.says)} (seen {entry.checked}; ask locally)."
                + _stale(entry.checked, self._decisions.schedule.first),
                None,
                self.footnotes.of_record(record, entry.cite),
            )
            for entry, record in self._knowledge.law()
        )

    def trace(self, firings: Iterable[tuple[Firing, str | None]]) -> tuple[TraceRow, ...]:
        """Every rule that held."""
        rows = []
        for firing, candidate in firings:
            rows.append(
                TraceRow(
                    decision=firing.decision,
                    asks=self._book.decisions[firing.decision].asks,
                    rule=firing.rule,
                    answer=firing.answer,
                    facts={k: "unknown" if v is None else v for k, v in firing.facts.items()},
                    because=firing.because,
                    cites=self.footnotes.of_rules((firing,)),
                    candidate=candidate,
                )
            )
        return tuple(rows)

    def notes(self, seed: SeedMeasure) -> tuple[str, ...]:
        """What was assumed, said openly."""
        found = []
        if self._decisions.answer("route") in (
            "ask",
            "identify_first",
            "do_not",
            "gather_anew",
            "test_first",
        ):
            return ()
        if "seeds" in self._lot.assumed and self._lot.kilograms is None:
            several = plural(self._knowledge.record.unit, 2)
            found.append(f"You did not say how many; reckoned for {self._lot.seeds} {several}.")
        if "moisture" in self._lot.assumed:
            found.append(f"You did not say whether they were dried; taken as {self._lot.moisture}.")
        found += self._out_of_season()
        if not seed.from_record and self._decisions.answer("medium") == "bag":
            found.append("The record has no seed size; spacing is reckoned for a typical one of its class.")
        if (self._decisions.answer("place") or "").startswith("mend_"):
            found.insert(0, self._said("place"))
        if self._decisions.answer("identity") in ("unsure", "genus_only", "common_practice_only"):
            found.append(self._said("identity"))
        return tuple(found)

    def _out_of_season(self) -> list[str]:
        """A remark when the lot was gathered far from the months in which this kind ripens."""
        harvest, gathered = self._knowledge.value("harvest"), self._lot.collected
        if (
            gathered is None
            or harvest is None
            or harvest.months is None
            or self._lot.gathered == "ground_spring"
        ):
            return []
        first, last = harvest.months
        wide = ((first - 2) % 12 + 1, last % 12 + 1)
        if len(months_between(*wide)) >= 12 or in_months(gathered, *wide, southern=self._lot.southern):
            return []
        names = " to ".join(
            MONTHS[season_month(m, self._lot.southern) - 1] for m in dict.fromkeys((first, last))
        )
        month = MONTHS[gathered.month - 1]
        return [f"It usually ripens in {names}; yours was gathered in {month}. Is it that kind?"]

    # -- texts ----------------------------------------------------------------------------------------

    def _answer_text(self, decision: str, answer: str) -> str:
        return fill(self._book.decisions[decision].answers[answer], self._words)

    def _said(self, decision: str) -> str:
        answer = self._decisions.answer(decision)
        return self._answer_text(decision, answer) if answer else ""


def _hazard_text(kind: str, to: str, part: str | None, says: str | None) -> str:
    head = f"{_HAZARDS[kind]} ({to}{', ' + part if part else ''})"
    head = head[0].upper() + head[1:]
    return f"{head}: {says.rstrip('.')}." if says else f"{head}."


_HAZARDS = {
    "cyanide": "gives off prussic acid",
    "poison": "poisonous",
    "skin": "harms the skin",
    "allergy": "causes allergy",
    "dust": "irritating dust",
    "infection": "can infect",
    "stains": "stains",
    "choking": "can choke",
    "look_alike": "easily confused",
}


def _without_advice(says: str) -> str:
    """The text without the closing words that the line gives anyway."""
    return re.sub(r"[;:,.]?\s*ask locally\.?$", "", says.strip(), flags=re.IGNORECASE).rstrip(".")


def _stale(checked: str, today: date) -> str:
    age = (today - date.fromisoformat(checked)).days
    return " This note is more than two years old; it may have changed." if age > 730 else ""


def _iso(day: object) -> str | None:
    return day.isoformat() if isinstance(day, date) else None


def _rounded(litres: float | None) -> float | None:
    return None if litres is None else float(f"{litres:.3g}")


def _round_to(value: float, step: int) -> float:
    return float(max(step, round(value / step) * step))
