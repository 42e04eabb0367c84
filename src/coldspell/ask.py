"""The whole flow on one page: look up the kind, decide, plan, write."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from coldspell.decide.decide import decide
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.library.load import Library
from coldspell.library.names import Found, Several, look_up
from coldspell.lot.lot import Lot
from coldspell.lot.read import nearest
from coldspell.plan.plan import Plan, make_plan
from coldspell.records.model import Record
from coldspell.rules import Near
from coldspell.write.recipe import Recipe
from coldspell.write.write import write


class Question(Struct, frozen=True):
    """One lot of a named kind, asked on a day."""

    name: str
    lot: Lot
    today: date


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
    return write(plan(question, library, tables), question.name, library, tables, rules_digest)


def plan(question: Question, library: Library, tables: Tables) -> Plan:
    """Make the plan for one lot: all of the recipe but its texts and sources; raises as `answer` does."""
    decisions = decide(find(question.name, library), question.lot, question.today, tables)
    return make_plan(decisions, question.today, tables)


def near_answers(wanted: str, question: Question, library: Library, tables: Tables) -> list[Near]:
    """Why an answer of some decision was not given: for each rule that gives it, the conditions that failed.

    Parameters
    ----------
    wanted
        An answer (``towel_roll``), or a decision and an answer (``medium=towel_roll``).

    Raises
    ------
    ColdspellError
        No decision has that answer.
    """
    decisions = decide(find(question.name, library), question.lot, question.today, tables)
    facts = decisions.all_facts(tables)
    decision, _, answer_ = wanted.rpartition("=")
    found, answers = [], set()
    for name, table in tables.book.decisions.items():
        answers |= set(table.answers)
        if answer_ in table.answers and decision in ("", name) and all(f in facts for f in table.facts):
            found += tables.book.why_not(name, answer_, facts)
    if not found:
        raise ColdspellError(
            f"no decision answers {wanted!r}", mend=f"did you mean {nearest(answer_, answers)}?"
        )
    return found


def find(name: str, library: Library) -> Knowledge:
    """What is known of a kind by its name; raises as `find_record` does."""
    record = find_record(name, library)
    return Knowledge(record, library.genus(record.name))


def find_record(name: str, library: Library) -> Record:
    """Look a name up; never a silent first match.

    Raises
    ------
    ColdspellError
        Nothing is known by that name (the nearest are offered), or it means several plants (they are listed).
    """
    found = look_up(library, name)
    if isinstance(found, Found):
        return found.record
    if isinstance(found, Several):
        some = ", ".join(_both_names(Knowledge(r, None)) for r in found.records[:12])
        more = f" and {len(found.records) - 12} more" if len(found.records) > 12 else ""
        none = (
            f" Also {', '.join(found.unrecorded)}, of which there is no record." if found.unrecorded else ""
        )
        raise ColdspellError(
            f"{name!r} is the name of several plants", mend=f"Which one: {some}{more}?{none}"
        )
    near = ", ".join(found.nearest[:5])
    genus = library.genus(name.strip().capitalize())
    raise ColdspellError(
        f"no record for {name[:80]!r}",
        mend=(f"Did you mean: {near}? " if near else "")
        + (f"For the genus ask: coldspell recipe {genus.name}. " if genus else "")
        + "If it is none of these: not known, do not chill yet; "
        "find out what it is, and if it was shed moist sow half of it now.",
    )


def _both_names(knowledge: Knowledge) -> str:
    names, botanical = knowledge.record.common_names.get("en", ()), knowledge.record.name
    return f"{names[0]} ({botanical})" if names else botanical
