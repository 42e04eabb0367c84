"""How the answers for kinds without a record fare on kinds whose record is hidden. Run by hand.

    python tests/benchmarks/no_record.py [--pages N FOLDER]

Two hundred species are drawn (seed 12) from the library. The record of each is hidden in turn (with
records of the same binomial), it is asked for by name, and the answer is compared with what its own
record says first for fresh seed. Asked twice: with nothing said of climate and shedding, and with both
said truly (warm where its record has injury by cold, or the plant is a palm or cycad; moist where its
seed dies when it dries). Then the whole genus is hidden, so that only the page for no record is left, on
four days of the year.

- *wrong plan*: a plan was named (genus record, or relatives that agree) that does not contain what the record
  asks for: too little cold, no warmth before it, no opened coat. *idle*: it has cold that is not wanted.
- *kills*: the plan, or a part of the trial, would kill: chilled though injured by cold, or laid dry though it
  dies dry. A part that is warm first does not count as killing, for what needs no cold has grown by then.
- *contains*: the sequence (warmth, then cold) holds what the record asks for by the low ends of its days;
  with the pot, and with the year after.

The genus records were written with their species at hand, so their share of right plans is an upper bound for
species that are new to the library: by the notes of the design 68 % held for 164 new ones, where 90 % held
for those of the library. Nothing here measures whether seed grows.
"""

from __future__ import annotations

import argparse
import random
from collections import Counter
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any, cast

from coldspell.api import shipped
from coldspell.ask import Question, answer, plan
from coldspell.decide.relatives import Relative, relative
from coldspell.errors import ColdspellError
from coldspell.library.built import Entry
from coldspell.library.library import Library
from coldspell.lot.lot import Lot
from coldspell.lot.read import make_lot
from coldspell.plan.plan import Plan
from coldspell.plan.trial import Arm, TrialPlan
from coldspell.records.model import Record
from coldspell.records.name import genus_of
from coldspell.views import one_page

COUNT, SEED, TODAY, SEEDS = 200, 12, date(2026, 10, 12), 40
SUMMER, WINTER = 150, 120
LIB = shipped()
RECORDS, TABLES = LIB.records, LIB.tables
INDEX: dict[str, list[Entry]] = dict(RECORDS.index)


class Hidden:
    """A library without some of its records."""

    def __init__(self, hidden: set[str]) -> None:
        self._hidden = hidden
        self.names = tuple(name for name in RECORDS.names if name not in hidden)
        self.index: Mapping[str, list[Entry]] = {
            key: left
            for key, entries in INDEX.items()
            if (left := [e for e in entries if e.record not in hidden])
        }
        self.words, self.units = RECORDS.words, RECORDS.units
        self.bibliography, self.digest = RECORDS.bibliography, RECORDS.digest

    def get(self, name: str) -> Record:
        """A record that is not hidden."""
        if name in self._hidden:
            raise KeyError(name)
        return RECORDS.get(name)

    def genus(self, name: str) -> Record | None:
        """The genus record, unless it is hidden."""
        return None if genus_of(name) in self._hidden else RECORDS.genus(name)

    def members(self, genus: str) -> tuple[str, ...]:
        """The records of a genus that are not hidden."""
        return tuple(name for name in RECORDS.members(genus) if name not in self._hidden)

    def refuse_left_out(self, name: str) -> None:
        """Nothing is left out for a fault."""

    def __contains__(self, name: object) -> bool:
        return name in RECORDS and name not in self._hidden


def binomial(name: str) -> str:
    """The first two words of a name."""
    return " ".join(name.replace("× ", "×").split()[:2])


def drawn() -> list[str]:
    """The species drawn."""
    pool = [n for n in RECORDS.names if RECORDS.get(n).rank == "species" and len(n.split()) == 2]
    return sorted(random.Random(SEED).sample(pool, COUNT))


def truth(name: str) -> Relative:
    """What the record says first of fresh seed; of dried seed where it says nothing of fresh."""
    record = RECORDS.get(name)
    lots = (Lot(), Lot(moisture="dried"))
    found = next(filter(None, (relative(record, lot, TABLES.practice) for lot in lots)), None)
    assert found is not None
    return found


def told(kind: Relative) -> dict[str, Any]:
    """What a grower who knows would say of climate and shedding."""
    warm = kind.wants == "never_chill" or kind.record.plant in ("palm", "cycad")
    return {"climate": "warm" if warm else "temperate", "shed": "moist" if kind.dies_dry else "dry"}


def asked(
    name: str, hidden: set[str], said: dict[str, Any], day: date = TODAY
) -> Plan | ColdspellError:
    """The plan for a name in a library without its record."""
    lot = make_lot({"seeds": SEEDS, "moisture": "fresh", **said})
    try:
        return plan(Question(name, lot, day), cast(Library, Hidden(hidden)), TABLES)
    except ColdspellError as error:
        return error


def holds(kind: Relative, warm: float, cold: float, *, opens: bool) -> bool:
    """Whether moist warmth and then cold, after a coat that is opened or not, hold what a record asks for."""
    low_cold = kind.cold.low if kind.cold else 0
    low_warm = kind.warm.low if kind.warm else 0
    if kind.wants in ("nothing", "never_chill", "cold_helps"):
        return True
    if kind.wants in ("open_coat", "coat_then_cold") and not opens:
        return False
    if kind.wants in ("cold", "warm_then_cold", "coat_then_cold", "open_coat", "warmth"):
        return low_cold <= cold and low_warm <= warm
    return False


def judged_plan(kind: Relative, found: Plan) -> tuple[str, bool]:
    """How a named plan stands to the record, and whether it would kill."""
    chosen = found.decisions.chosen
    if chosen is None:
        return "no plan", False
    steps = chosen.candidate.treatment
    planned = Record(
        name="Planned", family="", rank="species", plant="shrub", unit="seed", treatments=(steps,)
    )
    used = relative(planned, found.lot, TABLES.practice)
    if used is None:
        return "no plan", False
    cold, warm = (used.cold.plan if used.cold else 0.0), (used.warm.plan if used.warm else 0.0)
    chilled = cold > 0 or found.decisions.route.lies == "cold"
    dried = any(step.do in ("after_ripen", "dry_back") for step in steps.steps)
    kills = (kind.wants == "never_chill" and chilled) or (kind.dies_dry and dried)
    if kind.wants in ("outdoors", "other", "dry_rest"):
        return ("right" if used.wants == kind.wants else "cannot tell"), kills
    if used.wants == "outdoors":  # the seasons of two years
        return ("right" if pot_holds(kind) else "wrong"), kills or kind.wants == "never_chill"
    opens = used.wants in ("open_coat", "coat_then_cold")
    if not holds(kind, warm, cold, opens=opens):
        return "wrong", kills
    idle = cold > 0 and kind.wants in ("nothing", "open_coat", "warmth")
    return ("idle" if idle else "right"), kills


def _warned(found: Plan) -> bool:
    """Whether the page says that relatives want a winter which the plan has not."""
    return any(firing.rule == "relatives that want a winter" for firing in found.notes)


def arm_kills(kind: Relative, arm: Arm) -> bool:
    """Whether a part of a trial kills the kind."""
    what = str(arm.rule.fields["arm"])
    chilled = kind.wants == "never_chill" and what in ("cold", "damp", "pot")
    dried = any("dry" in step.rule.answer and step.rule.answer.startswith("keep") for step in arm.steps)
    return chilled or (kind.dies_dry and (dried or what == "dry"))


def lengths(trial: TrialPlan) -> tuple[float, float]:
    """Days of warmth and of cold in the sequence."""
    days = trial.days
    return (days.warm_end - days.start).days, (days.target - days.warm_end).days


def pot_holds(kind: Relative) -> bool:
    """Whether a pot of two springs holds what a record asks for."""
    return kind.wants == "outdoors" or holds(kind, SUMMER, WINTER, opens=False)


def judged_trial(kind: Relative, found: Plan) -> dict[str, bool]:
    """What the parts of a trial hold and kill."""
    trial = found.trial
    assert trial is not None
    kinds = {str(arm.rule.fields["arm"]) for arm in trial.arms}
    warm, cold = lengths(trial)
    dead = [arm for arm in trial.arms if arm_kills(kind, arm)]
    sequence = "sequence" in kinds and holds(kind, warm, cold, opens=True)
    later = "sequence" in kinds and pot_holds(kind)
    pot = "pot" in kinds and pot_holds(kind)
    nicked = found.decisions.facts["seed_shed"] != "moist"
    fits = "warm_now" in kinds and holds(kind, 60, 0, opens=nicked)
    fits = fits or ("damp" in kinds and holds(kind, 0, 120, opens=False))
    return {
        "sequence": sequence,
        "with the pot": sequence or pot or fits,
        "and the year after": sequence or pot or later or fits,
        "some die": bool(dead),
        "all die": len(dead) == len(trial.arms),
    }


def run(title: str, names: list[str], *, hide_genus: bool, say: bool, day: date = TODAY) -> None:
    """Ask for every name on a day, and print what came of it."""
    kinds: Counter[str] = Counter()
    plans: Counter[tuple[str, str]] = Counter()
    trials: Counter[str] = Counter()
    killed: list[str] = []
    wrong: list[str] = []
    for name in names:
        kind = truth(name)
        genus = genus_of(name)
        hidden = {n for n in RECORDS.names if binomial(n) == name or (hide_genus and genus_of(n) == genus)}
        found = asked(name, hidden, told(kind) if say else {}, day)
        if isinstance(found, ColdspellError):
            kinds["refused"] += 1
            print("  refused:", found)
            continue
        known, page = found.decisions.knowledge.known_by, found.decisions.route.page
        label = "question" if page == "question" else known if page != "trial" else "no record"
        kinds[label] += 1
        if page == "trial":
            result = judged_trial(kind, found)
            trials.update(key for key, value in result.items() if value)
            killed += [name] if result["some die"] else []
        elif page != "question":
            verdict, kills = judged_plan(kind, found)
            plans[(label, verdict)] += 1
            said = " (said that relatives differ)" if _warned(found) else ""
            wrong += [f"{name} ({kind.wants}){said}"] if verdict == "wrong" else []
            killed += [f"{name} (by plan)"] if kills else []
    print(f"\n{title}, {day}: {len(names)} species")
    print("  answers:", dict(kinds.most_common()))
    print("  plans:", {f"{a}: {b}": n for (a, b), n in sorted(plans.items())})
    print("  trials:", dict(trials), "of", kinds["no record"])
    print("  would kill, wholly or a part:", len(killed), ", ".join(killed))
    print("  wrong plans:", len(wrong), ", ".join(wrong))


def pages(count: int, folder: Path, names: list[str]) -> None:
    """Write the pages of some of them, with what the record says, to be read."""
    folder.mkdir(parents=True, exist_ok=True)
    for place, name in enumerate(random.Random(SEED + 1).sample(names, count)):
        kind, genus = truth(name), genus_of(name)
        hide_genus, say = place % 3 == 0, place % 2 == 0
        hidden = {n for n in RECORDS.names if binomial(n) == name or (hide_genus and genus_of(n) == genus)}
        lot = make_lot({"seeds": (6, 20, 40, 120)[place % 4], **(told(kind) if say else {})})
        day = (date(2026, 10, 12), date(2026, 11, 30), date(2027, 1, 20), date(2027, 6, 15))[place // 4 % 4]
        try:
            made = answer(Question(name, lot, day), cast(Library, Hidden(hidden)), TABLES, "0" * 16)
            text = one_page.render(made, LIB.texts, 80)
        except ColdspellError as error:
            text = f"exit 2: {error}\n"
        head = f"TRUTH {name}: {kind.wants} warm {kind.warm} cold {kind.cold} dies dry {kind.dies_dry}\n\n"
        file = f"{place:02}-{name.replace(' ', '-').lower()}.txt"
        (folder / file).write_text(head + text, encoding="utf-8")


def main() -> None:
    """Print the figures; with --pages write pages to read instead."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--pages", nargs=2, metavar=("N", "FOLDER"))
    options = parser.parse_args()
    names = drawn()
    if options.pages:
        pages(int(options.pages[0]), Path(options.pages[1]), names)
        return
    run("its record hidden, nothing said", names, hide_genus=False, say=False)
    run("its record hidden, climate and shedding said", names, hide_genus=False, say=True)
    for day in (TODAY, date(2026, 11, 30), date(2027, 1, 20), date(2027, 6, 15)):
        run("its genus hidden, nothing said", names, hide_genus=True, say=False, day=day)
        run("its genus hidden, climate and shedding said", names, hide_genus=True, say=True, day=day)


if __name__ == "__main__":
    main()
