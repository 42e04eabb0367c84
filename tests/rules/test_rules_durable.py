"""The adapter of the C module: what it must refuse, free and survive (faults found by experiment)."""

from __future__ import annotations

import gc
import sys
import threading
import types
from collections.abc import Callable

import pytest
from rules_lots import GOOD

from coldspell.errors import InternalFault
from coldspell.rules import Session, best_engine, load_rules
from coldspell.rules.engine import about_engine
from coldspell.rules.plain import PlainEngine

durable = pytest.importorskip("coldspell.rules.durable", reason="no C module", exc_type=ImportError)


@pytest.mark.parametrize(("name", "value"), [("", 0x811C9DC5), ("a", 0xE40C292C), ("foobar", 0xBF9CF968)])
def test_fnv1a_against_published_vectors(name: str, value: int) -> None:
    """Test vectors of the Internet-Draft "The FNV Non-Cryptographic Hash Algorithm" (Eastlake and others)."""
    assert durable.fnv1a(name) == value


def test_names_that_the_module_confuses_are_refused() -> None:
    """These two names share a 32-bit hash: a rule on the one fires for the other."""
    assert durable.fnv1a("lot6691") == durable.fnv1a("lot180940")
    with pytest.raises(InternalFault, match="lot6691"):
        durable.check_keys(["lot6691", "lot180940"])
    durable.check_keys(["size", "plant"])


def test_a_lot_that_no_rule_meets_leaves_the_engine_usable() -> None:
    """Unprimed, the module frees a pointer that was never set."""
    decision = load_rules([GOOD]).decisions["minds"]
    engine, plain = durable.DurableEngine(), PlainEngine()
    nothing = tuple(
        next(label for label in axis.labels
             if not any(c.fact == axis.fact and label in c.labels for r in decision.rules for c in r.when))
        for axis in decision.axes
    )  # fmt: skip
    for _ in range(2_000):
        assert engine.matching(decision, nothing) == plain.matching(decision, nothing) == ()


def test_rulesets_of_a_dead_thread_are_freed() -> None:
    book = load_rules([GOOD])
    engine = durable.DurableEngine()
    freed: list[object] = []
    real = durable.dre.delete_ruleset

    def work() -> None:
        engine.matching(book.decisions["medium"], tuple(a.labels[0] for a in book.decisions["medium"].axes))

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(durable.dre, "delete_ruleset", lambda handle: (freed.append(handle), real(handle)))
        for _ in range(5):
            thread = threading.Thread(target=work)
            thread.start()
            thread.join()
        gc.collect()
    assert len(freed) == 5


def _absent() -> types.ModuleType:
    raise ModuleNotFoundError("No module named 'durable_rules_engine'")


def _broken() -> types.ModuleType:
    raise ImportError("undefined symbol: PyEval_CallObject")  # a build for Python 3.13 without the define


def _failing() -> types.ModuleType:
    raise SystemError("initialization of durable_rules_engine failed")


@pytest.mark.parametrize(("loads", "why"), [(_absent, ""), (_broken, "PyEval"), (_failing, "initialization")])
def test_plain_engine_stands_in_where_the_module_does_not_load(
    monkeypatch: pytest.MonkeyPatch, loads: Callable[[], types.ModuleType], why: str
) -> None:
    class Finder:
        def find_spec(self, name: str, *_: object) -> None:
            if name == "durable_rules_engine":
                loads()

    monkeypatch.setattr(sys, "meta_path", [Finder(), *sys.meta_path])
    monkeypatch.delitem(sys.modules, "durable_rules_engine")
    monkeypatch.delitem(sys.modules, "coldspell.rules.durable")
    assert best_engine().name == "plain"
    assert about_engine().startswith("plain Python")
    assert why in about_engine()
    Session(load_rules([GOOD]), best_engine())


def test_the_c_engine_is_taken_where_it_loads() -> None:
    assert best_engine().name == about_engine() == "durable-rules"


def test_loading_the_adapter_starts_no_thread_and_no_host() -> None:
    """The module ``durable.engine`` holds the timers; the adapter takes the C module alone."""
    assert "durable.engine" not in sys.modules
    book = load_rules([GOOD])
    before = threading.active_count()
    durable.DurableEngine().matching(
        book.decisions["route"], tuple(a.labels[0] for a in book.decisions["route"].axes)
    )
    assert threading.active_count() == before
