"""From rule files to a rule book: read, check, order, cut; or take what was compiled before."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Sequence
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING, Union

from msgspec import Struct

from coldspell import kept, shipped
from coldspell.errors import ColdspellError, Place
from coldspell.rules.book import RuleBook
from coldspell.rules.model import Finding

if TYPE_CHECKING:
    from coldspell.rules.contract import Contract

RuleFile = tuple[str, bytes]  # name and content
Asked = Union[Callable[[], "Contract"], None]  # noqa: UP007  (a name in quotes cannot stand beside |)


class BuiltRules(Struct, frozen=True, array_like=True):
    """The rule book of some files, and a text that changes whenever one of them does."""

    digest: str
    book: RuleBook


def load_rules(
    paths: Sequence[Path], known_sources: Collection[str] | None = None, asked: Asked = None
) -> RuleBook:
    """The rule book of all files under the paths; as :func:`built_rules`."""
    return built_rules(paths, known_sources, asked).book


def built_rules(
    paths: Sequence[Path], known_sources: Collection[str] | None = None, asked: Asked = None
) -> BuiltRules:
    """The rule book of all files under the paths, compiled once and kept until one of them changes.

    Parameters
    ----------
    paths
        Directories (every ``*.yaml`` below them) or single files.
    known_sources
        Ids of the bibliography; a cite of anything else is then an error.
    asked
        Gives the names that the program asks for, held against the files where they are compiled; the
        compiled rules that an installed package carries were held against them when it was built.

    Raises
    ------
    ColdspellError
        The first mistake, with its place and how to mend it.
    """
    shipped_ones = asked is not None and [*paths][:1] == [shipped.find("rules")]
    found = kept.carried("rules", BuiltRules) if shipped_ones else None
    if found is None:
        files: list[str | Path] = [*kept.own_code("", "rules", "decide", "lot", "yaml"), *rule_files(paths)]
        name = "rules" if asked is not None else "tables"
        found = kept.kept(name, paths, files, lambda: compile_rules(paths, None, asked), BuiltRules)
    if known_sources is not None and not cited_sources(found.book) <= set(known_sources):
        compile_rules(paths, known_sources, asked)  # raises, and says where
    return found


def compile_rules(
    paths: Sequence[Path], known_sources: Collection[str] | None = None, asked: Asked = None
) -> BuiltRules:
    """Read and compile the rules, whatever is kept; as :func:`built_rules`."""
    from coldspell.rules.compiler import compile_files

    files = _read(paths)
    book, findings = compile_files(files, known_sources, asked() if asked else None)
    errors = [f for f in findings if f.severity == "error"]
    if errors:
        first = errors[0]
        more = f" (and {len(errors) - 1} more)" if len(errors) > 1 else ""
        mend = first.mend or "see all with: coldspell rules check --rules DIR"
        raise ColdspellError(first.message + more, first.where, mend)
    return BuiltRules(_digest(files), book)


def check_rules(
    paths: Sequence[Path], known_sources: Collection[str] | None = None, asked: Asked = None
) -> list[Finding]:
    """Every mistake in the files under the paths, in order of file and line."""
    from coldspell.rules.compiler import compile_files

    return compile_files(_read(paths), known_sources, asked() if asked else None)[1]


def cited_sources(book: RuleBook) -> set[str]:
    """The ids of all sources that rules and numbers of practice cite."""
    rules = (rule for decision in book.decisions.values() for rule in decision.rules)
    cites = [cite for rule in rules for cite in rule.cites]
    cites += [cite for number in book.practice.values() for cite in number.cites]
    return {cite.source for cite in cites if cite.source}


MOST_FILES = 500
"""Files of a set of rules (the shipped one has some seventy): nobody waits for a whole disk to be read."""


def rule_files(paths: Sequence[Path]) -> list[Path]:
    """All rule files under the paths, sorted.

    Raises
    ------
    ColdspellError
        A path does not exist, or no rule file is there, or far too many for a folder of rules.
    """
    found: dict[Path, None] = {}
    for path in paths:
        if not path.exists():
            raise ColdspellError("no such rule file or directory", Place(str(path)), "Check the path.")
        below = islice(path.rglob("*.yaml"), MOST_FILES + 1) if path.is_dir() else [path]
        found.update(dict.fromkeys(below))
        if len(found) > MOST_FILES:
            what = f"more than {MOST_FILES} YAML files are no folder of rules"
            raise ColdspellError(what, Place(str(path)), "Name the folder that holds the rules alone.")
    if not found:
        where = ", ".join(map(str, paths))
        raise ColdspellError("no rule files are here", where, "Rules are files named *.yaml.")
    return sorted(found)


def _read(paths: Sequence[Path]) -> list[RuleFile]:
    from coldspell.yaml.bytes import read_bytes  # installed rules are compiled already

    return [(str(path), read_bytes(path)) for path in rule_files(paths)]


def _digest(files: Sequence[RuleFile]) -> str:
    """The same text for the same files, wherever their folder lies."""
    from hashlib import sha256

    whole = sha256()
    for name, data in files:
        for part in (os.path.basename(name).encode(), data):
            whole.update(len(part).to_bytes(8, "big") + part)
    return whole.hexdigest()[:16]
