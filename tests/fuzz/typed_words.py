"""Argument vectors drawn by a seed from the commands and options of the program, and the files they name."""

from __future__ import annotations

import random
import string
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from coldspell import shipped
from coldspell.cli.program import made
from coldspell.lot.table import FACTS

RULES = str(shipped.find("rules"))
SERVES = ("page",)
"""Commands that stay until somebody ends them."""
LONG = {("choose",), ("species", "check"), ("species", "diff"), ("rules", "check"), ("rules", "diff"),
        ("species", "gaps"), ("species", "sources"), ("season",)}  # fmt: skip
"""Commands that look at every record or rule: drawn seldom."""
OFTEN = {("recipe",): 12.0, ("trial",): 4.0, ("species", "find"): 3.0, ("trouble",): 3.0}
"""Commands that take what is known of a lot: the most ways to be wrong."""
NOT_TRIED = frozenset({"--install-completion", "--show-completion", "--grid", "--records", "--fix"})
"""Options that write into a home or into the library, or take minutes."""
DAYS = (
    "2026-10-12", "2027-04-15", "20270415", "2026-02-30", "1016-10-12", "2927-04-15", "15.4.2027", "",
    "2026-12-19..2027-01-04", "05-10", "2026-10-12T08:00",
)  # fmt: skip
NUMBERS = (
    "0", "1", "2", "40", "3.7", "0.5", "-1", "1e9", "1e309", "5e-324", "nan", "inf", "4,5", "1,000", "40F",
    "8/10", "0/0", "9/8", "70-90", "200x150x100", "1e308x1e308", "0x10", "³", "९", "1_0",
)  # fmt: skip
JUNK = (
    "", " ", "-", "--", "=", "\x1b[31m", "\u202eoak", "\udcff", "🌰", "×", "a" * 3000, "{x}", "%s",
    "$(touch x)", "'", '"', "\u2028", "../..", "/", "/dev/null", "/dev/full", "/proc/self/mem", "null",
)  # fmt: skip
PLAIN = ("1", "2", "5", "12", "30", "40", "0.5", "80", "8/10", "70-90", "200x300")
_COUNTED = ("seeds", "kilograms", "years", "days", "mm", "°C", "litres", "plants")
FITTING = {
    "lot": ("lot.yaml", "lot.json"),
    "lots": ("lots.csv", "lots.jsonl"),
    "log": ("log.csv",),
    "counts": ("counts.csv",),
    "first": ("lots.csv",),
    "second": ("lots.csv",),
    "rules": (RULES,),
    "library": ("folder",),
    "paths": ("record.yaml",),
    "old": ("folder", RULES),
    "new": (RULES,),
    "out": ("out.csv", "out.ics", "out.svg"),
    "output": ("out.html", "out.csv", "out.png"),
}
"""Files that fit a parameter, by its name."""
NAMES = (
    "northern red oak", "apple", "Quercus rubra", "walnut", "oak", "Malus × domestica", "Q. rubra",
    "unknown", "Acer palmatum 'Bloodgood'", "peach pits", "Eiche", "zzz", "cherry", "Pinus brutia",
    "Lewisia tweedyi", "Corylus heterophylla", "small seed in a towel", "medium",
    "123seeds-campanula-carpatica",
)  # fmt: skip
STEPS = (
    "cold_moist=90-120", "cold_moist=90", "warm_moist=60-90:rooted", "cold_moist=9-3", "=", "cold_moist",
)  # fmt: skip


@dataclass(frozen=True)
class Command:
    """A command as it is typed, and the parameters it has."""

    path: tuple[str, ...]
    arguments: tuple[Any, ...]
    options: tuple[Any, ...]


def commands() -> list[Command]:
    """Every command that answers and ends, from the program itself."""
    return [
        Command(
            path,
            tuple(p for p in found.params if not p.opts[0].startswith("-")),
            tuple(p for p in found.params if p.opts[0].startswith("-") and not NOT_TRIED & {*p.opts}),
        )
        for path, found in _leaves(made(["--help"]), ())
        if path[0] not in SERVES
    ]


def _leaves(command: Any, path: tuple[str, ...]) -> Iterator[tuple[tuple[str, ...], Any]]:
    if hasattr(command, "commands"):
        for name, one in command.commands.items():
            yield from _leaves(one, (*path, name))
    else:
        yield path, command


class Typed:
    """Draws vectors; files that they name lie in one folder."""

    def __init__(self, folder: Path) -> None:
        self.known = commands()
        self.weights = [0.1 if one.path in LONG else OFTEN.get(one.path, 1.0) for one in self.known]
        self.files = [path.name for path in sorted(folder.iterdir())]

    def draw(self, rng: random.Random) -> list[str]:
        """One vector: mostly a command with its own options, mostly with values of the right kind."""
        command = rng.choices(self.known, self.weights)[0]
        words = list(command.path)
        for argument in command.arguments:
            if rng.random() < 0.9:
                words += self._argument(argument, rng)
        for option in self._options(command, rng):
            name = rng.choice([*option.opts, *option.secondary_opts])
            words += [name] if getattr(option, "is_flag", False) else [name, self._value(option, rng)]
        words = self._slip(words, rng) if rng.random() < 0.15 else words
        return [*words, "--into", "folder"] if "new" in words and "--into" not in words else words

    def _options(self, command: Command, rng: random.Random) -> list[Any]:
        """What must be said, mostly, and some of the rest."""
        wanted = [one for one in command.options if one.required and rng.random() < 0.95]
        return list({id(one): one for one in (*wanted, *self._some(command, rng))}.values())

    def _some(self, command: Command, rng: random.Random) -> list[Any]:
        return rng.sample(command.options, min(len(command.options), rng.choice((0, 1, 1, 2, 2, 3))))

    def _argument(self, argument: Any, rng: random.Random) -> Sequence[str]:
        named = argument.name in ("name", "words", "source")
        if named and rng.random() < 0.9:
            name = rng.choice(NAMES)
            return name.split() if rng.random() < 0.5 else [name]
        return [self._value(argument, rng)]

    def _value(self, parameter: Any, rng: random.Random) -> str:
        if rng.random() < 0.08:
            return rng.choice(JUNK)
        if rng.random() < 0.15:
            return rng.choice(rng.choice((NUMBERS, DAYS, STEPS, NAMES)))
        return self._fitting(parameter, rng)

    def _fitting(self, parameter: Any, rng: random.Random) -> str:
        """A value of the kind that the parameter takes."""
        kind, name = type(parameter.type).__name__, str(parameter.name)
        if choices := getattr(parameter.type, "choices", None):
            return str(rng.choice([*choices]))
        if name in FITTING:
            return rng.choice([*FITTING[name], *FITTING[name], "-", "folder", "missing.csv"])
        if "Path" in kind:
            return rng.choice([*self.files, "new.csv", "new.html", "new.pdf", "."])
        if "Int" in kind or "Float" in kind or parameter.metavar in _COUNTED:
            return rng.choice(PLAIN[:8])
        words = [word for word in str(parameter.metavar or "").split("|") if word.isidentifier()]
        if len(words) > 1:
            return rng.choice(words)
        fact = FACTS.get(name)
        if fact is not None and (fact.about.example or fact.number):
            return fact.about.example or rng.choice(PLAIN)
        return rng.choice(STEPS if name == "step" else rng.choice((PLAIN, DAYS[:2], DAYS[:2])))

    def _slip(self, words: list[str], rng: random.Random) -> list[str]:
        """The vector as somebody typed it who was not looking."""
        words, at = list(words), rng.randrange(len(words))
        slip = rng.randrange(6)
        if slip == 0:
            del words[at]
        elif slip == 1:
            words.insert(at, words[at])
        elif slip == 2:
            words[at] = "".join(rng.choices(string.printable + "é×ß\u2066", k=rng.randint(1, 12)))
        elif slip == 3 and words[at]:
            cut = rng.randrange(len(words[at]))
            words[at] = words[at][:cut] + words[at][cut + 1 :]
        elif slip == 4:
            rng.shuffle(words)
        else:
            words.append(rng.choice([*JUNK, "--format=json", "-h", "--today"]))
        return [word.replace("\x00", "") for word in words]


FILES = {
    "lot.yaml": """seeds: 40
moisture: fresh
collected: 2026-10-12
cut: 8/10
sow: 2027-04-15
medium: [sand, peat]
""",
    "lot.json": '{"seeds": 12, "moisture": "dried", "stored_years": 2, "grow_in": "bed"}\n',
    "lots.csv": """lot,name,seeds,moisture,sow
A,northern red oak,40,fresh,2027-04-15
B,apple,12,dried,
C,zzz,1,,
""",
    "lots.jsonl": """{"name": "walnut", "seeds": 3}
{"name": "Quercus alba", "seeds": 9, "moisture": "fresh"}
""",
    "log.csv": """time,temperature °C
2026-10-20 08:00,3.5
2026-10-20 20:00,4.0
2026-10-21 08:00,12
2026-10-21 20:00,4
""",
    "counts.csv": "day,a,b\nsown,50,50\n7,0,1\n14,12,9\n21,30,28\n28,33,31\n",
    "settings.yaml": "units: us\nsouthern: yes\nrefrigerator: food\n",
    "record.yaml": """schema: 2
name: Exemplum arboreum
family: Exemplaceae
rank: species
plant: nut tree
unit: nut
size: medium
seed_mm: {length: [12, 18], cite: usual}
common_names: {en: [example nut]}
treatments:
  - {name: cold, steps: [{do: cold_moist, days: [90, 120], celsius: [1, 5]}], cite: usual}
hazards: [{kind: irritant, to: people, part: husk, says: The husk stains, cite: usual}]
cites: {usual: {basis: practice}}
""",
    "empty.csv": "",
}
"""Small good files of every kind that a command reads."""


def lay_out(folder: Path) -> None:
    """Write the files that vectors name, and a folder of rules of one's own."""
    for name, text in FILES.items():
        (folder / name).write_text(text, "utf-8")
    (folder / "folder").mkdir(exist_ok=True)
