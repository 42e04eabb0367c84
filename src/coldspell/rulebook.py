"""The shipped rules and sentences, or those of a folder, loaded and held against the names of the program."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from coldspell import shipped
from coldspell.decide.contract import contract
from coldspell.decide.tables import Tables, tables_of
from coldspell.rules import Engine, RuleBook
from coldspell.rules.load import load_rules
from coldspell.texts import ENGLISH


def rule_paths(folders: Sequence[Path] = ()) -> list[Path]:
    """The folders of rules, the shipped one by default, and the sentences of the program."""
    return [*(folders or [shipped.find("rules")]), ENGLISH]


def load_book(folders: Sequence[Path] = ()) -> RuleBook:
    """The rule book; raises ColdspellError at the first fault, with its place."""
    return load_rules(rule_paths(folders), None, contract())


def load_tables(engine: Engine, folders: Sequence[Path] = ()) -> Tables:
    """The tables that decide, ready to be asked."""
    return tables_of(load_book(folders), engine)
