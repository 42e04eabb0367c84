"""The shipped rules and sentences, or those of a folder, loaded and held against the names of the program."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from coldspell import shipped
from coldspell.decide.tables import Tables, tables_of
from coldspell.rules import Engine
from coldspell.rules.load import BuiltRules, built_rules
from coldspell.texts import ENGLISH

if TYPE_CHECKING:
    from coldspell.rules.contract import Contract


def rule_paths(folders: Sequence[Path] = ()) -> list[Path]:
    """The folders of rules, the shipped one by default, and the sentences of the program."""
    return [*(folders or [shipped.find("rules")]), ENGLISH]


def asked() -> Contract:
    """The names that the program asks for."""
    from coldspell.decide.contract import contract  # wanted only where rules are compiled

    return contract()


def load_rulebook(folders: Sequence[Path] = ()) -> BuiltRules:
    """The rule book with its digest; raises ColdspellError at the first fault, with its place."""
    return built_rules(rule_paths(folders), None, asked)


def load_tables(engine: Engine, folders: Sequence[Path] = ()) -> Tables:
    """The tables that decide, ready to be asked."""
    return tables_of(load_rulebook(folders).book, engine)
