"""The Python interface: what the command line uses, and other programs can.

`coldspell` itself imports nothing of it before a name is asked for.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from functools import cache, cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec.structs import replace

from coldspell.ask import Question, answer, dated, find_record, near_answers, plan
from coldspell.ask import find as find_kind
from coldspell.decide.names.asks import Ask
from coldspell.decide.tables import Tables, tables_for, tables_of
from coldspell.errors import ColdspellError
from coldspell.library.library import Library as Records
from coldspell.library.load import load_library, shipped_dirs
from coldspell.lot.read import make_lot
from coldspell.lot.table import DATES
from coldspell.plan.plan import LOOKED_AT, Dated, Plan
from coldspell.records.model import Record
from coldspell.rulebook import load_rulebook
from coldspell.rules import Near, best_engine
from coldspell.texts import Texts
from coldspell.typed import as_day, read_text
from coldspell.write.recipe import Recipe
from coldspell.write.units import spelled_date

if TYPE_CHECKING:
    from typing import Unpack

    from coldspell.counter.choose import Choice, Wishes
    from coldspell.counter.questions import Question as LotQuestion
    from coldspell.counter.trouble import Trouble
    from coldspell.library.names import Found, Missing, Several
    from coldspell.lot.days import Taken
    from coldspell.lot.said import LotSaid
    from coldspell.office.model import Office


class Library:
    """The shipped records and rules, with libraries of your own; kept for many questions.

    Parameters
    ----------
    folders
        Folders of records; one of the same name replaces a shipped record as a whole.
    rules
        A folder of rules in place of the shipped one.
    office
        The folder of an advice office, with its own notes by kind and place (docs/office.md).

    Raises
    ------
    ColdspellError
        At the first fault of a file, with its place and how to mend it.
    """

    def __init__(
        self,
        *folders: str | os.PathLike[str],
        rules: str | os.PathLike[str] | None = None,
        office: str | os.PathLike[str] | None = None,
    ) -> None:
        self._records = load_library([*shipped_dirs(), *(Path(folder).expanduser() for folder in folders)])
        found = load_rulebook([Path(rules).expanduser()] if rules is not None else ())
        self._tables = tables_of(found.book, best_engine())
        self._rules_digest = found.digest
        self._office = None if office is None else Path(office).expanduser()

    @property
    def records(self) -> Records:
        """All records by name."""
        return self._records

    @cached_property
    def office(self) -> Office | None:
        """What stands in the folder of the office; raises at its first fault."""
        if self._office is None:
            return None
        from coldspell.office.read import read_office

        return read_office(self._office, self.accepted)

    def accepted(self, name: str) -> str:
        """The accepted name of a plant, with or without a record; raises as `recipe` does."""
        return find_kind(name, self._records).record.name

    @property
    def tables(self) -> Tables:
        """The rules, with their numbers and sentences."""
        return self._tables

    @cached_property
    def texts(self) -> Texts:
        """The sentences of the program."""
        return Texts(self._tables.texts)

    def recipe(self, name: str, *, today: date | str | None = None, **facts: Unpack[LotSaid]) -> Recipe:
        """What one seed lot needs.

        Parameters
        ----------
        name
            Botanical or common name, in any case.
        today
            The day that counts as today (a date, or ISO 8601 text); the clock's by default.
        facts
            What is known of the lot, by the names of lot files (docs/lots.md); the rest is assumed, and the
            recipe says so.

        Raises
        ------
        ColdspellError
            The name is unknown or means several plants; a fact is no fact of a lot, or cannot be.
        """
        return self.recipe_of(self._question(name, today, facts))

    def recipe_of(self, question: Question) -> Recipe:
        """What a lot needs that was checked already (`coldspell.tables`); raises as `recipe` does."""
        found = answer(question, self._records, self._tables, self._rules_digest)
        if question.taken:
            found = replace(found, notes=(*self._told(question.taken), *found.notes))
        if self.office is None:
            return found
        from coldspell.office.add import with_office

        return with_office(found, self.office, self.texts, self._tables.practice.law_stale_days)

    def trial(self, name: str, *, today: date | str | None = None, **facts: Unpack[LotSaid]) -> Recipe:
        """The same with a trial: how to learn from this lot what its kind wants; raises as `recipe` does."""
        return self.recipe_of(replace(self._question(name, today, facts), trial=True))

    def plan(self, name: str, *, today: date | str | None = None, **facts: Unpack[LotSaid]) -> Plan:
        """The values of a recipe without its texts and sources; raises as `recipe` does."""
        return plan(self._question(name, today, facts), self._records, self._tables)

    def plans(
        self, rows: Iterable[Mapping[str, Any]], *, today: date | str | None = None
    ) -> Iterator[Plan | ColdspellError]:
        """A plan for each row, in order and one at a time; a row that cannot be planned gives its error.

        Parameters
        ----------
        rows
            Facts of lots with the key ``name``; a value that is ``None`` or empty counts as not said.
        today
            The day that counts as today; the clock's by default.
        """
        day = _today(today)
        for row in rows:
            try:
                if not isinstance(row, Mapping):
                    what = f"a row is no map of facts: {str(row)[:40]!r}"
                    raise ColdspellError(what, mend='give each as {"name": "apple", "seeds": 20}')
                facts = {k: v for k, v in row.items() if k != "name" and v is not None and str(v) != ""}
                yield plan(
                    self._question(str(row.get("name") or ""), day, facts), self._records, self._tables
                )
            except ColdspellError as error:
                yield error

    def find(self, text: str) -> list[str]:
        """The botanical names of the records that a name may mean, that which `record` takes first.

        A whole name is looked up, not a part of one (`coldspell species find` searches): "walnut" is the
        genus Juglans, whose question leads to its species. Of a name that no record has, those of the nearest
        names.
        """
        from coldspell.library.names import Missing, look_up

        found = look_up(self._records, text)
        every = (
            [look_up(self._records, one) for one in found.nearest] if isinstance(found, Missing) else [found]
        )
        return list(dict.fromkeys(name for one in every for name in _meant(one)))

    def record(self, name: str) -> Record:
        """The record of a plant; raises ColdspellError where the name is unknown or means several."""
        return find_record(name, self._records)

    def why_not(
        self, wanted: str, name: str, *, today: date | str | None = None, **facts: Unpack[LotSaid]
    ) -> list[Near]:
        """Why an answer of the rules was not given (``towel_roll``, ``medium=towel_roll``)."""
        return near_answers(wanted, self._question(name, today, facts), self._records, self._tables)

    def trouble(
        self, what: str, name: str, *, today: date | str | None = None, **facts: Unpack[LotSaid]
    ) -> Trouble:
        """What to do about a trouble with a lot.

        Parameters
        ----------
        what
            smell, mould, sprouts, dry, temperature, grubs, nothing or bare.
        name, today, facts
            As for `recipe`; what is said of the lot decides here as it does there.

        Raises
        ------
        ColdspellError
            There is no such trouble; or as for `recipe`.
        """
        from coldspell.counter.trouble import trouble

        return trouble(what, self.plan(name, today=today, **facts), self._records, self._tables)

    def trouble_by_kind(
        self, what: str, *, today: date | str | None = None, **facts: Unpack[LotSaid]
    ) -> list[Trouble]:
        """The same where nobody said which plant it is: for each kind of seed; raises as `trouble`."""
        from coldspell.counter.kinds import by_kind

        day = _today(today)
        return list(by_kind(what, make_lot(_days_of(facts, day)[0]), day, self._records, self._tables))

    def questions(
        self, name: str, *, today: date | str | None = None, **facts: Unpack[LotSaid]
    ) -> list[LotQuestion]:
        """What to ask the caller: which species, where that decides, and the facts that change most.

        Raises as `recipe`.
        """
        from coldspell.counter.questions import questions

        def plan_of(**more: Any) -> Plan:
            return self.plan(name, today=today, **{**facts, **more})

        return questions(plan_of, facts, self._tables)

    def choose(
        self, wishes: Wishes, *, today: date | str | None = None, **facts: Unpack[LotSaid]
    ) -> list[Choice]:
        """What can be started or gathered: kinds whose plan fits, the likeliest to succeed first."""
        from coldspell.counter.choose import choose

        asked = self._question("", today, facts)
        lot, day, tables = asked.lot, asked.today, self._dating

        def plan_of(name: str) -> Dated:
            return dated(Question(name, lot, day), self._records, tables)

        return choose(self._records, plan_of, wishes, day, tables, southern=lot.southern)

    @cached_property
    def _dating(self) -> Tables:
        """Tables of the decisions by which many kinds are dated."""
        return tables_for((*LOOKED_AT, Ask.LOOKS), self._tables.book, best_engine())

    def page(self, recipe: Recipe, width: int = 80, *, full: bool = False, ascii_only: bool = False) -> str:
        """A recipe as the page that a grower reads, wrapped to a width; ``full`` leaves nothing out."""
        if full:
            from coldspell.views import full as everything

            return everything.render(recipe, self.texts, width, ascii_only=ascii_only)
        from coldspell.views import one_page

        return one_page.render(recipe, self.texts, width, ascii_only=ascii_only)

    def _question(self, name: str, today: date | str | None, facts: Mapping[str, Any]) -> Question:
        day = _today(today)
        said, taken = _days_of(facts, day)
        return Question(read_text("the name", name), make_lot(said), day, taken=taken)

    def _told(self, taken: Iterable[Taken]) -> Iterator[str]:
        """What was taken for which day, a sentence each."""
        for one in taken:
            yield self.texts.say("day_taken", said=one.said, day=spelled_date(one.day))


def _meant(found: Found | Several | Missing) -> Iterator[str]:
    """The names of the records that a name was looked up as."""
    for record in getattr(found, "records", ()) or filter(None, [getattr(found, "record", None)]):
        yield record.name
    yield from getattr(found, "others", ())


def _days_of(facts: Mapping[str, Any], today: date) -> tuple[Mapping[str, Any], tuple[Taken, ...]]:
    if facts.keys().isdisjoint(DATES):
        return facts, ()
    from coldspell.lot.days import days_of  # few lots name a day, and none needs the calendar for it else

    return days_of(facts, today)


def _today(day: date | str | None) -> date:
    """The day that counts as today: the clock's where none was said."""
    return date.today() if day is None else as_day("today", day)


@cache
def shipped() -> Library:
    """The shipped library, loaded when it is first asked for."""
    return Library()


def recipe(name: str, *, today: date | str | None = None, **facts: Unpack[LotSaid]) -> Recipe:
    """What one seed lot needs, by the shipped records and rules; see `Library.recipe`."""
    return shipped().recipe(name, today=today, **facts)


def plans(
    rows: Iterable[Mapping[str, Any]], *, today: date | str | None = None
) -> Iterator[Plan | ColdspellError]:
    """A plan for each row; see `Library.plans`."""
    return shipped().plans(rows, today=today)


def find(text: str) -> list[str]:
    """The botanical names that a name may mean; see `Library.find`."""
    return shipped().find(text)


def record(name: str) -> Record:
    """The record of a plant; see `Library.record`."""
    return shipped().record(name)


def page(recipe: Recipe, width: int = 80, *, full: bool = False, ascii_only: bool = False) -> str:
    """A recipe as a page; see `Library.page`."""
    return shipped().page(recipe, width, full=full, ascii_only=ascii_only)


def to_json(recipe: Recipe) -> str:
    """A recipe as JSON by the published schema, ending with a newline."""
    from coldspell.views.json_view import render

    return render(recipe)
