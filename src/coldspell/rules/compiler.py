"""Compile rule files to a rule book, noting every mistake on the way."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from coldspell.errors import ColdspellError, Place
from coldspell.rules.axes import cut_axes
from coldspell.rules.book import RuleBook
from coldspell.rules.cites import cites_of
from coldspell.rules.contract import Contract
from coldspell.rules.decisions import Head, Reader, read_head
from coldspell.rules.extras import read_practice, read_texts
from coldspell.rules.facts import read_facts, read_placeholders
from coldspell.rules.fields import read_fields
from coldspell.rules.findings import Findings, nearest
from coldspell.rules.model import IMPOSSIBLE, Decision, DecisionsByName, Finding, Number, Rule
from coldspell.rules.order import computed_order
from coldspell.rules.reader import Node, parse
from coldspell.rules.scope import scope_of
from coldspell.rules.texts import placeholders


def compile_files(
    files: Sequence[tuple[str, bytes]],
    known_sources: Collection[str] | None = None,
    contract: Contract | None = None,
) -> tuple[RuleBook, list[Finding]]:
    """The rule book and all findings; the book is only fit for use when none of them is an error.

    With a contract the facts that it declares can be tested, and every name that the program uses is held
    against the files.
    """
    out = Findings()
    declared = {f.name: f for f in contract.declares} if contract else {}
    book = RuleBook(declared, DecisionsByName({}), {}, {}, {})
    heads = _first_pass(files, book, out)
    facts = book.facts
    reader = Reader(facts, heads, out)
    decisions = {name: reader.decision(heads[name]) for name in sorted(heads)}
    all_facts = facts | {name: head.fact for name, head in heads.items()}
    for head in heads.values():
        all_facts |= head.field_facts
    for decision in computed_order(decisions, out):
        scope = scope_of(decision, book.decisions, all_facts)
        table = cut_axes(decision, all_facts, scope)
        book.decisions.add(table)
        if scope is None:
            out.error(decision.place, "never-asked", f"'applies' of {decision.name} can never hold")
    for decision in decisions.values():
        _check_use(decision, out)
        _check_sources(decision.rules, known_sources, out)
    _check_sources(book.practice.values(), known_sources, out)
    _check_unused(book, decisions, contract, out)
    if contract is not None:
        contract.hold(book, decisions, out)
    return book, out.ordered()


def _first_pass(files: Sequence[tuple[str, bytes]], book: RuleBook, out: Findings) -> dict[str, Head]:
    """Fill the book with what is declared; give the heads of the decisions."""
    roots: list[Node] = []
    for file, content in files:
        try:
            root = parse(content, file)
        except ColdspellError as error:
            where = error.where if isinstance(error.where, Place) else Place(file)
            out.error(where, "file", error.what, error.mend)
            continue
        keys = root.entries or {}
        if "facts" in keys:
            read_facts(root, book.facts, out)
        elif "placeholders" in keys:
            read_placeholders(root, book.facts, out)
        elif "fields" in keys:
            read_fields(root, book.fields, out)
        elif "practice" in keys:
            read_practice(root, book.practice, lambda entry: cites_of(entry, out), out)
        elif "texts" in keys:
            read_texts(root, book.texts, out)
        else:
            roots.append(root)
    heads: dict[str, Head] = {}
    for head in (read_head(root, book.fields, out) for root in roots):
        if head is None:
            continue
        if head.name in heads or head.name in book.facts:
            first = heads[head.name].entry.place if head.name in heads else book.facts[head.name].place
            out.error(head.entry.at("decision"), "twice", f"the name {head.name!r} is taken", f"By {first}.")
        else:
            heads[head.name] = head
    for field in book.fields.values():
        if field.decision not in heads:
            mend = nearest(field.decision, heads)
            out.error(field.place, "unknown-field", f"{field.path}: no such decision", mend)
    return heads


def _check_use(decision: Decision, out: Findings) -> None:
    """Answers that no rule gives, facts that no rule tests, rows that say the same."""
    chosen = {rule.answer for rule in decision.rules}
    for answer in decision.answers:
        if answer not in chosen and chosen and "" not in chosen:  # "": a rule whose answer could not be read
            out.error(
                decision.place,
                "unreachable-answer",
                f"{decision.name}: no rule answers {answer!r}",
                "Take the answer out, or write the rule.",
            )
    tested = {condition.fact for rule in decision.rules for condition in rule.when}
    for fact in decision.given:
        if fact not in tested:
            out.warning(
                decision.place,
                "untested-fact",
                f"{decision.name}: no rule tests {fact!r}",
                "Take it out of given.",
            )
    seen: dict[tuple[object, ...], str] = {}
    for rule in decision.rules:
        key = (rule.answer, frozenset(rule.when))
        if key in seen:
            out.error(rule.place, "twice", f"{rule.name!r} says the same as {seen[key]!r}")
        seen[key] = rule.name


def _check_sources(
    cited: Iterable[Rule | Number], known_sources: Collection[str] | None, out: Findings
) -> None:
    for one in cited:
        for cite in one.cites:
            if cite.source and known_sources is not None and cite.source not in known_sources:
                out.error(
                    one.place,
                    "unknown-source",
                    f"{one.name!r} cites {cite.source!r}, which is not in the bibliography",
                    nearest(cite.source, known_sources),
                )


def _check_unused(
    book: RuleBook, decisions: dict[str, Decision], contract: Contract | None, out: Findings
) -> None:
    used = {fact for decision in decisions.values() for fact in decision.facts}
    used |= {fact.name for fact in contract.declares} if contract else set()
    for decision in decisions.values():
        texts = [answer.says for answer in decision.answers.values()]
        texts += [text for rule in decision.rules for text in (rule.because, rule.text or "")]
        used |= {name for text in texts for name in placeholders(text)}
        if not any(rule.answer != IMPOSSIBLE for rule in decision.rules):
            out.error(decision.place, "no-rules", f"{decision.name} has no rule that answers")
    for fact in book.facts.values():
        if fact.name not in used:
            out.warning(fact.place, "unused-fact", f"no rule or text uses the fact {fact.name!r}")
