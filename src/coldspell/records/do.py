"""The words of ``do``: what each step is, and the classes that the program goes by.

Declared here alone: the record schema, the pages about records, the checks and the recipe read this table.
"""

from typing import Literal

from msgspec import Struct

Do = Literal[
    "test", "clean", "remove_pulp", "remove_husk", "remove_wings", "crack_shell", "ferment", "soak", "leach",
    "scarify_mechanical", "scarify_hot_water", "scarify_acid", "heat_bath", "dry_heat", "smoke",
    "growth_regulator", "warm_moist", "cool_moist", "cold_moist", "alternate", "after_ripen", "dry_back",
    "hold", "light", "dark", "sow",
]  # fmt: skip
Phase = Literal["first", "treat", "last"]


class DoWord(Struct, frozen=True):
    """One word of ``do``.

    ``phase``: ``first`` is preparation, done before the seed waits; ``last`` is the sowing or comes after it.
    ``spell``: the step's word in the shape of a treatment; steps without one leave the shape as it is.
    ``moist``: the moist days it counts as, ``cold`` or ``warm``. ``timed``: it takes days of the calendar.
    ``opens``: it opens coat or shell. ``professional``: what in it is for trained people only.
    ``needs``: the key without which nobody can follow it (one of several, joined by "or").
    """

    says: str
    phase: Phase = "treat"
    spell: str = ""
    moist: str = ""
    timed: bool = False
    opens: bool = False
    professional: str = ""
    needs: str = ""

    @property
    def meaning(self) -> str:
        """What it is, and which key must go with it."""
        return f"{self.says} Needs {self.needs}." if self.needs else self.says


def _moist(says: str, spell: str, counts_as: str) -> DoWord:
    return DoWord(says, spell=spell, moist=counts_as, timed=True, needs="days")


def _open(says: str, professional: str = "", needs: str = "") -> DoWord:
    return DoWord(says, spell="open", opens=True, professional=professional, needs=needs)


DO: dict[Do, DoWord] = {
    "test": DoWord("Cut or float a few seeds to see whether they are alive and filled.", "first"),
    "clean": DoWord("Take out chaff, dead seed and what else is no seed.", "first"),
    "remove_pulp": DoWord("Take the flesh off.", "first"),
    "remove_husk": DoWord("Take the husk off.", "first"),
    "remove_wings": DoWord("Take the wings off.", "first"),
    "crack_shell": _open("Crack the shell without hurting the kernel."),
    "ferment": DoWord("Let the pulp ferment until the seed comes free.", "first"),
    "soak": DoWord("Lay the seed in water.", timed=True),
    "leach": DoWord("Rinse in running or often changed water, to wash out what inhibits.", timed=True),
    "scarify_mechanical": _open("File, nick or sand the coat until water can enter."),
    "scarify_hot_water": _open("Pour hot water over the seed and let it cool.", needs="celsius"),
    "scarify_acid": _open("Etch the coat in acid; for trained people.", "acid", "minutes or hours"),
    "heat_bath": DoWord("Hold in water of a steady warm temperature for a set time.", spell="heat"),
    "dry_heat": DoWord("Heat dry for a set time.", spell="heat"),
    "smoke": DoWord("Treat with smoke or smoke water.", spell="heat"),
    "growth_regulator": DoWord(
        "Soak in a growth regulator (as gibberellic acid); for trained people.",
        professional="regulator",
        needs="substance",
    ),
    "warm_moist": _moist("Keep moist and warm, usually at 15 to 30 °C.", "warm", "warm"),
    "cool_moist": _moist("Keep moist and cool, warmer than a refrigerator: 10 to 15 °C.", "cool", "cold"),
    "cold_moist": _moist("Keep moist and cold, usually at 1 to 5 °C.", "cold", "cold"),
    "alternate": _moist("Keep moist, warmer by day than by night.", "alternate", "warm"),
    "after_ripen": DoWord("Keep dry at room temperature until dormancy wears off.", spell="rest", timed=True),
    "dry_back": DoWord("Dry the surface, or down to a moisture at which it rests.", timed=True),
    "hold": DoWord("Keep as it is until it can be sown.", timed=True),
    "light": DoWord("Let light fall on the moist seed.", "last"),
    "dark": DoWord("Keep the moist seed dark.", "last"),
    "sow": DoWord("Sow; alone in a treatment it says that nothing else is needed.", "last"),
}  # fmt: skip

MOIST: frozenset[str] = frozenset(do for do, word in DO.items() if word.moist)
"""The seed lies moist for days: the spells that a calendar is made of."""
COLD: frozenset[str] = frozenset(do for do, word in DO.items() if word.moist == "cold")
"""Moist days that count as cold."""
TIMED: frozenset[str] = frozenset(do for do, word in DO.items() if word.timed)
"""Steps that take days."""
OPENING: frozenset[str] = frozenset(do for do, word in DO.items() if word.opens)
"""Coat or shell is opened."""
HEAT: frozenset[str] = frozenset(do for do, word in DO.items() if word.spell == "heat")
"""Heat or smoke, which breaks a coat or a rest without opening it by hand."""
FIRST: frozenset[str] = frozenset(do for do, word in DO.items() if word.phase == "first")
"""Preparation: done before the seed waits."""
LAST: frozenset[str] = frozenset(do for do, word in DO.items() if word.phase == "last")
"""The sowing, or what comes after it."""
PROFESSIONAL: frozenset[str] = frozenset(do for do, word in DO.items() if word.professional)
"""For trained people only."""
SPELL: dict[str, str] = {do: word.spell for do, word in DO.items() if word.spell}
"""Word of each step in the shape of a treatment."""
COUNTS_AS: dict[str, str] = {do: word.moist for do, word in DO.items() if word.moist}
"""Which moist days a step is credited with: ``cold`` or ``warm``."""
