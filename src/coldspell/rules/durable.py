"""Rules on the C module of durable-rules, used so that none of its tables, threads or clocks come into play.

The engine sees one flat fact of short strings at a time and one conjunction for each rule: "one of these
labels" is written as "none of the others", because facts are total. Its fixed tables (64 pending conditions,
255 rules on one path, 510 conditions under one parent) cannot overflow: a ruleset holds at most 64 rules, and
larger decisions take several.
"""

from __future__ import annotations

import contextlib
import threading
import weakref
from collections.abc import Iterable, Sequence

import durable_rules_engine as dre
import msgspec

from coldspell.errors import InternalFault
from coldspell.rules.model import Decision

Test = tuple[str, str, str]  # "$eq" or "$neq", key, label
_MOST_RULES = 64  # one ruleset; as many conditions may be pending at once
_MOST_KEYS = 250  # the module takes 254 entries in a fact
_LOT = "_lot"  # a key that lots carry and no declared fact can have: every rule tests it first
_STATE = "lot"  # the one state that is alive at a time


class DurableEngine:
    """Compiles each decision when it is first asked, once for each thread: a ruleset must not be shared."""

    name = "durable-rules"

    def __init__(self) -> None:
        self._local = threading.local()

    def matching(self, decision: Decision, labels: tuple[str, ...]) -> tuple[int, ...]:
        """The indexes of all rules that hold, in file order."""
        lot = dict(zip(map(_key, decision.given), labels, strict=True))
        return tuple(index for stage in self._stages(decision) for index in stage.run(lot))

    def _stages(self, decision: Decision) -> Sequence[Stage]:
        mine: dict[int, tuple[Decision, list[Stage]]] | None = getattr(self._local, "stages", None)
        if mine is None:
            mine = self._local.stages = {}
        kept = mine.get(id(decision))
        if kept is None:
            paths = conjunctions(decision)
            starts = range(0, len(paths), _MOST_RULES)
            stages = [Stage(decision.name, start, paths[start : start + _MOST_RULES]) for start in starts]
            kept = mine[id(decision)] = (decision, stages)  # the decision is kept, so its id stays its own
        return kept[1]


class Stage:
    """One ruleset of the C module, with one primed state that every lot re-uses.

    Priming matters: the module frees a pointer that is only set once an action of that state has run.
    """

    def __init__(self, name: str, start: int, paths: Sequence[Sequence[Test]]) -> None:
        check_keys({key for path in paths for _, key, _ in path})
        definition: dict[str, object] = {
            f"r{start + n}": {"all": [{"m": {"$and": [{_LOT: 1}, *map(_written, path)]}}], "pri": n}
            for n, path in enumerate(paths)
        }
        definition["prime"] = {"all": [{"m": {"$and": [{"_prime": 1}]}}]}
        self._handle = dre.create_ruleset(name, msgspec.json.encode(definition).decode())
        weakref.finalize(self, dre.delete_ruleset, self._handle).atexit = False
        if self._fired({"_prime": 1}) != ["prime"]:
            raise InternalFault(f"the rule engine did not start for {name!r}")

    def run(self, lot: dict[str, str]) -> list[int]:
        """Indexes of the rules that hold for a lot, in the order they fired (that of the file)."""
        return [int(rule[1:]) for rule in self._fired({_LOT: 1, **lot})]

    def _fired(self, fact: dict[str, str | int]) -> list[str]:
        message = msgspec.json.encode({**fact, "sid": _STATE, "id": "f0"}).decode()
        fired: list[str] = []
        try:
            taken, offset = dre.assert_fact(self._handle, message)
            if taken not in (0, 1):  # 1: no rule holds
                raise InternalFault(f"the rule engine refused a fact ({taken})")
            first = dre.start_action_for_state(self._handle, offset)
            action = first[1] if first else None
            while action:
                fired.extend(msgspec.json.decode(action))  # one key: the rule
                action = dre.complete_and_start_action(self._handle, offset)
            return fired
        finally:
            with contextlib.suppress(dre.error):  # the fact was refused: there is no state
                dre.delete_state(self._handle, _STATE)


def conjunctions(decision: Decision) -> list[list[Test]]:
    """Each rule as tests that must all hold; equalities come first, as they keep the net narrow."""
    labels = {axis.fact: axis.labels for axis in decision.axes}
    paths = []
    for rule in decision.rules:
        equal: list[Test] = []
        others: list[Test] = []
        for condition in rule.when:
            wanted, key = condition.labels, _key(condition.fact)
            if len(wanted) == 1:
                equal.append(("$eq", key, wanted[0]))
            else:
                every = labels[condition.fact]
                others += [("$neq", key, label) for label in every if label not in wanted]
        paths.append(equal + others)
    return paths


def _key(fact: str) -> str:
    """A fact as a key of the module, to which a dot means a map within a map."""
    return fact.replace(".", "__")


def check_keys(keys: Iterable[str]) -> None:
    """Refuse keys that the module cannot tell apart: it compares 32-bit FNV-1a hashes of names."""
    names = sorted({*keys, _LOT, "_prime", "sid", "id", "$s"})
    if len(names) > _MOST_KEYS:
        raise InternalFault(f"a decision tests {len(names)} facts; the rule engine takes {_MOST_KEYS}")
    seen: dict[int, str] = {}
    for name in names:
        other = seen.setdefault(fnv1a(name), name)
        if other != name:
            raise InternalFault(
                f"the rule engine takes {name!r} for {other!r}", mend="Rename one of the two facts."
            )


def fnv1a(name: str) -> int:
    """The 32-bit FNV-1a hash of a name in UTF-8 (Fowler, Noll and Vo): ``fnv1a("a") == 0xE40C292C``."""
    value = 0x811C9DC5
    for byte in name.encode():
        value = (value ^ byte) * 0x01000193 & 0xFFFFFFFF
    return value


def _written(test: Test) -> dict[str, object]:
    kind, key, label = test
    return {key: label} if kind == "$eq" else {"$neq": {key: label}}
