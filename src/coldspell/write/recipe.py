"""The answer: one frozen value from which every view is made, declared once with what each field means.

The text below a field is its meaning. The published JSON Schema and docs/recipe-json.md are made from this
declaration (see :mod:`coldspell.schema.declare`). What a kind of value is (``Day``, ``Status``) is told in
:mod:`coldspell.write.recipe_kinds`: unit, form, closed words. Answers of decisions are plain text: rules may
bring others. A value that nobody knows is ``None``.

Taking a key out or changing what it means makes a new version (docs/recipe-changes.md); a new key does not.

These are msgspec structs, not dataclasses: two dozen frozen dataclasses cost every start of the program a
tenth of its time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

from coldspell.decide.names.fields import RouteFields
from coldspell.write.recipe_found import (
    Asked,
    LotAnswer,
    NotUsedAnswer,
    Source,
    Species,
    Timing,
    TraceRow,
    TreatmentAnswer,
    Verdict,
)
from coldspell.write.recipe_trial import RelativeAnswer, Trial
from coldspell.write.recipe_work import (
    Checks,
    Expectation,
    Hold,
    LawNote,
    Layout,
    Look,
    Medium,
    Note,
    Sowing,
    Step,
)

if TYPE_CHECKING:  # the full kinds: closed words, units, forms
    from coldspell.write.recipe_kinds import Day, Units, Version
else:  # what they are made of: all that making a recipe, or reading one back, needs
    from coldspell.write.recipe_plain import Day, Units, Version


class Recipe(Struct, frozen=True):
    """What one seed lot needs."""

    schema: Version
    """Version of this format."""
    tool: str
    """The program and its version."""
    library: str
    """Digest of the library of records."""
    rules: str
    """Digest of the rules."""
    asked_on: Day
    """The day that counted as today."""
    units: Units
    """Units of the texts; numbers with a unit in their key are always in that one."""
    species: Species
    """The kind found."""
    lot: LotAnswer
    """The lot as understood."""
    verdict: Verdict
    """The answer in short."""
    asks: Asked | None
    """The question of a mixed genus; null where none has to be answered."""
    relatives: tuple[RelativeAnswer, ...]
    """The species of its genus on record, where it has no record of its own."""
    trial: Trial | None
    """How to learn what it wants: where nothing is known of it, or where a trial was asked for."""
    route: str
    """The same as `verdict.route`."""
    does: RouteFields
    """What the route does: the same for every route that does it, whatever its name."""
    timing: Timing
    """Whether it fits before the sowing day."""
    treatments: tuple[TreatmentAnswer, ...]
    """Every treatment of the record."""
    not_used: tuple[NotUsedAnswer, ...]
    """What other sources say that is not followed."""
    medium: Medium | None
    """What the seeds lie in; null where they lie in none."""
    layout: Layout | None
    """How the seeds are laid; null where they are not."""
    place: str | None
    """Where the lot lies in the cold, pots of rooted seed included."""
    needs: tuple[Note, ...]
    """What else is needed beside container, medium and water."""
    steps: tuple[Step, ...]
    """What to do, in order."""
    hold: Hold | None
    """How long it may wait; null where it does not."""
    checks: Checks | None
    """When to look; null where there is nothing to look at."""
    sowing: Sowing | None
    """How it is sown; null where it is not."""
    expectation: Expectation | None
    """Plants to expect; null where it is not sown."""
    what_if: tuple[Look, ...]
    """What may happen meanwhile, and what then."""
    instead: tuple[Note, ...]
    """Other ways, where it cannot be done this way."""
    offspring: tuple[Note, ...]
    """What the seedlings will be."""
    cautions: tuple[Note, ...]
    """What is dangerous, to whom: of the plant first, then of the method what belongs to no single step (the
    rest stands in the text of its step). There whatever the answer is."""
    law: tuple[LawNote, ...]
    """Dated notes on the law of one place; never a permission."""
    sources: tuple[Source, ...]
    """Footnotes, in the order of their numbers."""
    trace: tuple[TraceRow, ...]
    """Every rule that held."""
    notes: tuple[str, ...]
    """What was assumed, said openly."""
