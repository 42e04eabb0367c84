"""A trouble with seed of which nobody said what plant it is: answered for the kinds of seed there are."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from coldspell.counter.trouble import Trouble, refuse_another_word, trouble
from coldspell.decide.decide import decide
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import TroubleKindFields, as_fields
from coldspell.decide.practice import Practice
from coldspell.decide.tables import Tables
from coldspell.library.library import Library
from coldspell.lot.lot import Lot
from coldspell.plan.plan import make_plan
from coldspell.records.model import Dormancy, KilledBy, Quantity, Record, Step, Storage, Treatment


def by_kind(word: str, lot: Lot, today: date, library: Library, tables: Tables) -> Iterator[Trouble]:
    """What to do about a trouble, for each kind of seed that the rules tell apart.

    The name of each answer is what the rules call the kind. Raises as :func:`trouble` does.
    """
    refuse_another_word(word)
    for firing in tables.session.decide(Ask.TROUBLE_KINDS, {"trouble": word}).firings:
        fields = as_fields(TroubleKindFields, firing.fields)
        known = Knowledge(_stand_in(firing.says, fields, tables.practice), None)
        plan = make_plan(decide(known, lot, today, tables), today, tables)
        yield trouble(word, plan, library, tables)


def _stand_in(name: str, fields: TroubleKindFields, practice: Practice) -> Record:
    """A record that says of a kind of seed what troubles hang on, and nothing else."""
    moist, warm = fields.keeps == "moist", fields.grows == "warm"
    chills = Quantity(practice.warm_kind_chilling_celsius, practice.warm_kind_chilling_celsius)
    return Record(
        name=name,
        family="",
        rank="species",
        plant=fields.tree,
        unit=fields.unit,
        size=fields.size,
        storage=Storage(behaviour="recalcitrant" if moist else "orthodox", cite=()),
        dormancy=Dormancy(class_="physical", cite=()) if fields.coat == "hard" else None,
        treatments=(_OPENED,) if fields.coat == "hard" else (),
        killed_by=KilledBy(cite=(), chilling_celsius=chills) if warm else None,
        path="",
    )


_OPENED = Treatment(name="opened", steps=(Step("scarify_mechanical"), Step("sow")), cite=())
