"""From rule files to a rule book: read, check, order, cut; or take the compiled one from the cache."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from pathlib import Path

import msgspec

import coldspell
from coldspell.cachefile import cached, content_key, forget
from coldspell.errors import ColdspellError, Place
from coldspell.filebytes import read_bytes
from coldspell.rules.book import RuleBook
from coldspell.rules.contract import Contract
from coldspell.rules.model import Finding

RuleFile = tuple[str, bytes]  # name and content
_FORMAT = "rules-3"  # raise when the compiled form changes without a new version of the tool


def load_rules(
    paths: Sequence[Path],
    known_sources: Collection[str] | None = None,
    contract: Contract | None = None,
) -> RuleBook:
    """The rule book of all files under the paths, compiled once and cached.

    Parameters
    ----------
    paths
        Directories (every ``*.yaml`` below them) or single files.
    known_sources
        Ids of the bibliography; a cite of anything else is then an error.

    Raises
    ------
    ColdspellError
        The first mistake, with its place and how to mend it.
    """
    return book_of(read_files(paths), known_sources, contract)


def book_of(
    files: Sequence[RuleFile],
    known_sources: Collection[str] | None = None,
    contract: Contract | None = None,
) -> RuleBook:
    """The rule book of files that are read already; as :func:`load_rules`."""
    key = content_key(
        coldspell.__version__, _FORMAT, str(contract is not None), *(part for pair in files for part in pair)
    )

    def build() -> bytes:
        return msgspec.json.encode(_build(files, known_sources, contract))

    try:
        book = msgspec.json.decode(cached(key, "rules", build), type=RuleBook)
    except msgspec.MsgspecError:
        forget(key, "rules")
        book = _build(files, known_sources, contract)
    if known_sources is not None and not cited_sources(book) <= set(known_sources):
        book = _build(files, known_sources, contract)  # raises, and says where
    return book


def check_rules(
    paths: Sequence[Path],
    known_sources: Collection[str] | None = None,
    contract: Contract | None = None,
) -> list[Finding]:
    """Every mistake in the files under the paths, in order of file and line."""
    from coldspell.rules.compiler import compile_files

    return compile_files(read_files(paths), known_sources, contract)[1]


def cited_sources(book: RuleBook) -> set[str]:
    """The ids of all sources that rules cite."""
    rules = (rule for decision in book.decisions.values() for rule in decision.rules)
    return {cite.source for rule in rules for cite in rule.cites if cite.source}


def read_files(paths: Sequence[Path]) -> list[RuleFile]:
    """Names and contents of all rule files, sorted by name.

    Raises
    ------
    ColdspellError
        A path does not exist or cannot be read.
    """
    found: dict[Path, None] = {}
    for path in paths:
        if not path.exists():
            raise ColdspellError("no such rule file or directory", Place(str(path)), "Check the path.")
        found.update(dict.fromkeys(path.rglob("*.yaml") if path.is_dir() else [path]))
    if not found:
        where = ", ".join(map(str, paths))
        raise ColdspellError("no rule files are here", where, "Rules are files named *.yaml.")
    return [(str(path), read_bytes(path)) for path in sorted(found)]


def _build(
    files: Sequence[RuleFile], known_sources: Collection[str] | None, contract: Contract | None
) -> RuleBook:
    from coldspell.rules.compiler import compile_files

    book, findings = compile_files(files, known_sources, contract)
    errors = [f for f in findings if f.severity == "error"]
    if errors:
        first = errors[0]
        more = f" (and {len(errors) - 1} more: coldspell rules check)" if len(errors) > 1 else ""
        raise ColdspellError(first.message + more, first.where, first.mend)
    return book
