"""Calendars by RFC 5545, written with the library ``icalendar``: one all-day event a step and a look.

An event keeps its UID when its day moves, so that a calendar that is read in again moves it too.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import Any

from coldspell import __version__
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError, Place
from coldspell.extras import extra
from coldspell.lot.lot import Lot
from coldspell.lot.read import make_lot
from coldspell.plan.plan import Plan
from coldspell.season.files.whole import WholeFile
from coldspell.season.lot_plan import Event, LotPlan, lot_plan
from coldspell.season.phrases import Season, first_tasks
from coldspell.season.planning import Planner, Setting
from coldspell.tables.rows import Own, Row
from coldspell.texts import Texts
from coldspell.write.recipe import Recipe

PRODID = f"-//Coldspell//coldspell {__version__}//EN"


class Calendar:
    """Makes the parts of a calendar, each as bytes.

    Parameters
    ----------
    texts
        The sentences of the program.
    today
        The day that counts as today: when the events were made.
    alarms
        Whether each event reminds, at eight in the morning.
    """

    def __init__(self, texts: Texts, today: date, *, alarms: bool = False) -> None:
        self._ical = extra("icalendar", "season", "a calendar")
        self._texts, self._alarms = texts, alarms
        self._stamp = datetime.combine(today, time(), UTC)
        self._seen: Counter[str] = Counter()

    def opening(self) -> bytes:
        """What stands before the events."""
        return self._calendar().removesuffix(b"END:VCALENDAR\r\n")

    def closing(self) -> bytes:
        """What stands after the events."""
        return b"END:VCALENDAR\r\n"

    def events(self, lot: LotPlan) -> Iterator[bytes]:
        """Every event of a lot."""
        key = f"{lot.own.lot or lot.number}\n{lot.species}"
        self._seen[key] += 1
        key = f"{key}\n{self._seen[key]}"
        count: Counter[str] = Counter()
        for event in lot.tasks:
            count[event.what] += 1
            uid = hashlib.sha256(f"{key}\n{event.what}\n{count[event.what]}".encode()).hexdigest()[:32]
            task = self._texts.say(f"task_{lot.word(event)}")
            who = f"{lot.own.lot} {lot.name}" if lot.own.lot else lot.name
            found = self._ical.Event()
            found.add("uid", f"{uid}@coldspell")
            found.add("dtstamp", self._stamp)
            found.add("dtstart", event.day)
            found.add("dtend", event.day + timedelta(days=1))
            found.add(
                "summary", self._texts.say("season_event", task=f"{task[0].upper()}{task[1:]}", lot=who)
            )
            found.add("description", self._about(lot, event))
            found.add("categories", [event.kind])
            found.add("transp", "TRANSPARENT")
            if self._alarms:
                found.add_component(self._alarm(found["summary"]))
            yield found.to_ical()

    def parts(self, recipe: Recipe) -> Iterator[bytes]:
        """Every step of every part of a trial, on the day on which it begins."""
        trial, say = recipe.trial, self._texts.say
        name = next(iter(recipe.species.common_names), recipe.species.name)
        for arm in trial.arms if trial is not None else ():
            for count, step in enumerate(arm.steps):
                key = f"{recipe.species.name}\n{arm.letter}\n{count}"
                uid = hashlib.sha256(key.encode()).hexdigest()[:32]
                day = date.fromisoformat(step.start)
                found = self._ical.Event()
                found.add("uid", f"{uid}@coldspell")
                found.add("dtstamp", self._stamp)
                found.add("dtstart", day)
                found.add("dtend", day + timedelta(days=1))
                found.add("summary", say("trial_event", letter=arm.letter, says=arm.says, name=name))
                about = [say("trial_event_about", label=arm.label), step.text]
                if step.end > step.start:
                    about.append(say("season_event_until", day=step.end))
                found.add("description", "\n".join([*about, *(note.text for note in recipe.cautions)]))
                found.add("categories", ["do"])
                found.add("transp", "TRANSPARENT")
                yield found.to_ical()

    def _alarm(self, summary: Any) -> Any:
        alarm = self._ical.Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", summary)
        alarm.add("trigger", timedelta(hours=8))
        return alarm

    def _about(self, lot: LotPlan, event: Event) -> str:
        told = [self._texts.say("season_event_about", species=lot.species, seeds=lot.seeds)]
        if event.kind in ("start", "sow") and event.day == lot.start and lot.first:
            told.append(self._texts.say("season_event_first", tasks=first_tasks(lot, self._texts)))
        if event.end > event.day:
            told.append(self._texts.say("season_event_until", day=event.end.isoformat()))
        if lot.hazards:
            words = [self._texts.say(f"label_hazard_{kind}") for kind in lot.hazards]
            told.append(self._texts.say("season_hazards", hazards=", ".join(words)))
        return "\n".join(told)

    def _calendar(self) -> bytes:
        calendar = self._ical.Calendar()
        calendar.add("prodid", PRODID)
        calendar.add("version", "2.0")
        calendar.add("calscale", "GREGORIAN")
        calendar.add("x-wr-calname", self._texts.say("season_calendar_name"))
        found: bytes = calendar.to_ical()
        return found


def write_one(
    path: Path,
    name: str,
    facts: Mapping[str, Any],
    today: date,
    libraries: Sequence[Path] = (),
    rules: Path | None = None,
) -> None:
    """The calendar of one lot.

    Raises
    ------
    ColdspellError
        The lot has no plan, or the file is none of a calendar or cannot be written.
    """
    _refuse_another_file(path)
    planner = Planner(Setting(today, tuple(map(str, libraries)), rules=str(rules or "")))
    row = _row(name, make_lot(facts), facts)
    found = _calendar(planner.dated(row, row.lot), Texts(planner.tables.texts), today)
    with WholeFile(path) as file:
        file.write(found)


def write_trial(path: Path, recipe: Recipe, texts: Texts) -> None:
    """The calendar of a trial; raises as `write_one` does."""
    _refuse_another_file(path)
    found = trial_calendar(recipe, texts)
    with WholeFile(path) as file:
        file.write(found)


def trial_calendar(recipe: Recipe, texts: Texts) -> bytes:
    """The days of the parts of a trial as a calendar; raises as `calendar_of` does."""
    if recipe.trial is None or not recipe.trial.arms:
        what = f"{recipe.species.name}: no trial, no day can be named"
        raise ColdspellError(what, mend="read its page instead")
    calendar = Calendar(texts, date.fromisoformat(recipe.asked_on))
    return calendar.opening() + b"".join(calendar.parts(recipe)) + calendar.closing()


def _refuse_another_file(path: Path) -> None:
    if path.suffix.lower() != ".ics":
        raise ColdspellError(
            f"a recipe is not written as {path.suffix or 'a file without suffix'}",
            Place(str(path)),
            "as a calendar: FILE.ics",
        )


def calendar_of(planned: Plan, name: str, facts: Mapping[str, Any], tables: Tables, today: date) -> bytes:
    """The days of one planned lot as a calendar.

    Raises
    ------
    ColdspellError
        No day of it can be named, or the library for it is not installed.
    """
    lot = lot_plan(_row(name, planned.lot, facts), planned, tables.practice)
    return _calendar(lot, Texts(tables.texts), today)


def _row(name: str, lot: Lot, facts: Mapping[str, Any]) -> Row:
    return Row(1, name, lot, Own(), facts, {}, {})


def _calendar(lot: LotPlan, texts: Texts, today: date) -> bytes:
    if not lot.tasks:
        raise ColdspellError(f"{lot.name}: {lot.says} No day can be named", mend="read its page instead")
    calendar = Calendar(texts, today)
    return calendar.opening() + b"".join(calendar.events(lot)) + calendar.closing()


class IcsFile:
    """The calendar of a season."""

    def __init__(self, path: Path, calendar: Calendar) -> None:
        self.file, self._calendar = WholeFile(path), calendar
        self.file.write(calendar.opening())

    def add(self, lot: LotPlan) -> None:
        """The events of one more lot."""
        for event in self._calendar.events(lot):
            self.file.write(event)

    def finish(self, season: Season) -> None:
        """What closes the calendar."""
        self.file.write(self._calendar.closing())
