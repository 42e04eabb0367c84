"""The whole flow on one page: look up the kind, decide, plan, write."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from coldspell.decide.decide import decide, fields_of
from coldspell.decide.in_season import in_season
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import AliveFields
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.library.library import Library
from coldspell.library.names import Missing, look_up
from coldspell.library.one import RECIPE, one_record, the_one
from coldspell.library.unrecorded import of_genus, unrecorded
from coldspell.lot.lot import Lot
from coldspell.lot.read import refuse_by_today
from coldspell.lot.table import FACTS
from coldspell.plan.plan import Dated, Plan, date_plan, make_plan
from coldspell.records.model import Record
from coldspell.records.name import genus_of
from coldspell.rules import Near
from coldspell.texts import Texts
from coldspell.write.recipe import Recipe
from coldspell.write.write import write

if TYPE_CHECKING:
    from coldspell.lot.days import Taken


class Question(Struct, frozen=True):
    """One lot of a named kind, asked on a day."""

    name: str
    lot: Lot
    today: date
    trial: bool = False
    """Whether it is asked how to find out by oneself what the kind wants."""
    taken: tuple[Taken, ...] = ()
    """Days that were said in words, each with what it was taken for."""


def answer(question: Question, library: Library, tables: Tables, rules_digest: str) -> Recipe:
    """Make the recipe for one lot.

    Parameters
    ----------
    question
        The name as typed, the lot, and the day that counts as today.
    library, tables
        Records and rules; both may be kept for many lots.
    rules_digest
        What changes whenever a rule file does; goes into the recipe.

    Raises
    ------
    ColdspellError
        The name is unknown or means several plants, or the lot cannot be (no seed fits its container, …).
    """
    planned = plan(question, library, tables)
    recipe = write(planned, question.name, library, tables, rules_digest)
    if recipe.does.page == "question" and recipe.asks is not None:
        told = _whichever(question, [choice.leads_to for choice in recipe.asks.choices], library, tables)
        return replace(recipe, notes=(*recipe.notes, *told)) if told else recipe
    if recipe.does.page not in ("plan", "test"):
        return recipe
    unheard = _unheard(question, planned, recipe, library, tables)
    if not unheard:
        return recipe
    texts = Texts(tables.texts)
    names = texts.listed([texts.say(f"said_{name}") for name in unheard])
    return replace(recipe, notes=(*recipe.notes, texts.say("unheard", facts=names)))


def _whichever(
    question: Question, answers: list[tuple[str, ...]], library: Library, tables: Tables
) -> list[str]:
    """What the state of the lot asks for, whichever kind of its genus it is; else of which kind what is true.

    Nobody has to know the species to hear that dried seed of all of them is dead, or a foul lot washed.
    """
    texts, plans = Texts(tables.texts), {}
    for name in dict.fromkeys(name for names in answers for name in names if name in library):
        try:
            plans[name] = plan(replace(question, name=name), library, tables)
        except ColdspellError:  # the lot cannot be of that kind
            continue
    doubts = {name: made.decisions.rules(Ask.ALIVE)[0] for name, made in plans.items()}
    doubts = {name: found for name, found in doubts.items() if fields_of(found, AliveFields).doubted == "yes"}
    said = list(dict.fromkeys(found.says for found in doubts.values()))
    if len(said) == 1 and doubts.keys() == plans.keys():
        told = [texts.say("whichever_it_is", says=said[0])]
    else:
        named = {says: [n for n, found in doubts.items() if found.says == says] for says in said}
        told = [texts.say("if_it_is", name=texts.listed(names), says=says) for says, names in named.items()]
    sorted_out = [[f.says for f in made.decisions.rules(Ask.SORTING)] for made in plans.values()]
    if sorted_out and all(sorted_out):
        first = min(sorted_out, key=lambda each: (len(each), sum(map(len, each))))
        told += [texts.say("whichever_it_is", says=" ".join(first))]
    return told


def _unheard(
    question: Question, planned: Plan, recipe: Recipe, library: Library, tables: Tables
) -> list[str]:
    """What was said of the lot and changes nothing for it: without all of that the recipe says the same.

    Only facts that the texts have a name for are looked at; a plain no is no news. A yes that is taken for
    granted, as flesh on fruit, is heard where a no would have changed the recipe. Most of what is said
    changes the plan, and then nothing is written to know.
    """

    def says_the_same(lot: Lot) -> bool:
        other = plan(replace(question, lot=lot), library, tables)
        if _shown(other) != _shown(planned):
            return False
        return _read(write(other, question.name, library, tables, recipe.rules)) == _read(recipe)

    lot, found = question.lot, []
    for fact in FACTS.values():
        value, usual = getattr(lot, fact.field), getattr(Lot(), fact.field)
        if f"said_{fact.name}" not in tables.texts or value in (usual, *_NO_NEWS):
            continue
        assumed = (*lot.assumed, fact.name) if fact.about.marked else lot.assumed
        unsaid = replace(lot, **{fact.field: usual}, assumed=assumed)
        others = [unsaid, replace(lot, **{fact.field: "no"})] if value == "yes" else [unsaid]
        try:
            if not all(map(says_the_same, others)):
                continue
        except ColdspellError:  # the rest of the lot cannot be without it
            continue
        lot = unsaid
        found.append(fact.name)
    return found


def _shown(planned: Plan) -> tuple[object, ...]:
    """What stands in a recipe as it stands in its plan: where it differs, a reader learns another thing."""
    answers = (planned.decisions.answer(ask) for ask in (Ask.ROUTE, Ask.ALIVE, Ask.IDENTITY))
    steps = ((step.do, step.start, step.end, [f.rule for f in step.rules]) for step in planned.steps)
    return (*answers, *steps)


def _read(recipe: Recipe) -> tuple[object, ...]:
    """What a reader of a recipe learns from it: all but what was asked, and why."""
    return tuple(getattr(recipe, name) for name in recipe.__struct_fields__ if name not in _BESIDES)


_NO_NEWS = ("no", "none", "ripe", "earthy", "unknown")
_BESIDES = ("lot", "trace", "treatments", "timing")


def plan(question: Question, library: Library, tables: Tables) -> Plan:
    """Make the plan for one lot: all of the recipe but its texts and sources; raises as `answer` does."""
    refuse_by_today(question.lot, question.today)
    decisions = decide(_known(question, library, tables), question.lot, question.today, tables)
    return make_plan(decisions, question.today, tables, trial=question.trial)


def dated(question: Question, library: Library, tables: Tables) -> Dated:
    """The days and plants of one lot, for which tables of some decisions do; raises as `answer` does."""
    refuse_by_today(question.lot, question.today)
    decisions = decide(_known(question, library, tables), question.lot, question.today, tables)
    return date_plan(decisions, question.today, tables.practice)


def near_answers(wanted: str, question: Question, library: Library, tables: Tables) -> list[Near]:
    """Why an answer of some decision was not given: for each rule that gives it, the conditions that failed.

    Parameters
    ----------
    wanted
        An answer (``towel_roll``), or a decision and an answer (``medium=towel_roll``).

    Raises
    ------
    ColdspellError
        No decision has that answer, or none that is asked for this lot.
    """
    decisions = decide(_known(question, library, tables), question.lot, question.today, tables)
    facts = decisions.all_facts(tables)
    decision, _, answer_ = wanted.rpartition("=")
    found: list[Near] = []
    for name in tables.book.answering(answer_, decision):
        if all(f in facts for f in tables.book.decisions[name].facts):
            found += tables.book.why_not(name, answer_, facts)
    if not found:
        raise ColdspellError(
            f"{wanted!r} is not decided for this lot", mend="see what can be asked: --why-not list"
        )
    return found


def _known(question: Question, library: Library, tables: Tables) -> Knowledge:
    """What is known of the kind of a lot; of a mixed genus by the day of gathering, where that tells."""

    def record_of(name: str) -> Record | None:
        return library.get(name) if name in library else None

    found = find(question.name, library)
    return in_season(found, question.lot, question.today, record_of, tables.practice)


def find(name: str, library: Library, *, in_row: bool = False) -> Knowledge:
    """What is known of a kind by its name, with or without a record of its own.

    ``in_row``: it stands in a table, where names are mended and no command is typed.

    Raises
    ------
    ColdspellError
        The name is no plausible botanical name, or means several plants; or its record has a fault.
    """
    library.refuse_left_out(name)
    looked_up = look_up(library, name)
    kind = unrecorded(library, name) if isinstance(looked_up, Missing) else None
    if kind is not None:
        return Knowledge(kind.stand_in, kind.genus, relatives=kind.relatives, on_record=False)
    otherwise, command = (_OTHERWISE_IN_ROW, "") if in_row else (_OTHERWISE, RECIPE)
    found = the_one(library, looked_up, name, otherwise, command)
    record = found.record
    library.refuse_left_out(record.name)
    if record.rank == "genus" and record.asks is None:
        members = tuple(one for one in library.members(record.name) if one != record.name)
        found = replace(found, members=members)
    known = Knowledge(record, library.genus(record.name), found=found)
    if known.treatments() or known.mixed:
        return known
    relatives = of_genus(library, genus_of(record.name))
    return Knowledge(record, known.genus, relatives=relatives, found=found)


def find_record(name: str, library: Library) -> Record:
    """Look a name up; never a silent first match.

    Raises
    ------
    ColdspellError
        Nothing is known by that name (the nearest are offered), or it means several plants (they are listed).
    """
    return one_record(library, name)


_OTHERWISE_IN_ROW = "If it is another plant write its botanical name."
_OTHERWISE = (
    "If it is another plant give its botanical name, with its author if it is asked for again; "
    "if nobody can name it type: coldspell recipe unknown"
)
