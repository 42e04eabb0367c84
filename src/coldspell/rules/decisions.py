"""Read decision files: first the head of each (so that others may name its answers), then its rules."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from coldspell.errors import Place
from coldspell.rules.answers import read_answer
from coldspell.rules.cites import cites_of
from coldspell.rules.conditions import read_condition
from coldspell.rules.findings import Findings, nearest
from coldspell.rules.model import (
    IMPOSSIBLE,
    NOT_ASKED,
    POLICIES,
    Answer,
    Condition,
    Decision,
    Fact,
    Field,
    Rule,
    Rules,
)
from coldspell.rules.reader import Node
from coldspell.rules.shape import Map, check_name, texts_of
from coldspell.rules.texts import check_text

_PER = ("lot", "candidate", "step", "hazard", "plan", "trial", "arm", "caller")


@dataclass(frozen=True, slots=True)
class Head:
    """The part of a decision that does not depend on the facts: name, policy, answers."""

    name: str
    entry: Map
    policy: str
    per: str | None
    answers: dict[str, Answer]
    fields: tuple[Field, ...] = ()

    @property
    def fact(self) -> Fact:
        """The answer as a fact for later decisions."""
        values = (*self.answers, NOT_ASKED) if "applies" in self.entry.entries else tuple(self.answers)
        return Fact(self.name, "decision", self.entry.text("asks"), self.entry.at("decision"), values=values)

    @property
    def field_facts(self) -> dict[str, Fact]:
        """The fields of closed words as facts for later decisions, by name (``route.lies``)."""
        asked = (NOT_ASKED,) if "applies" in self.entry.entries else ()
        return {
            f.path: Fact(f.path, "decision", f.means, f.place, values=(*f.words, *asked))
            for f in self.fields
            if f.words
        }


def read_head(root: Node, fields: Mapping[str, Field], out: Findings) -> Head | None:
    """Name, policy and answers of a decision file, each answer with the fields that are declared for it."""
    entry = Map(
        root,
        "a decision",
        ("decision", "asks", "policy", "given", "answers", "rules"),
        ("applies", "per"),
        out,
    )
    name = entry.text("decision")
    if not name or not check_name(name, "a decision", entry.at("decision"), out):
        return None
    policy = entry.choice("policy", POLICIES, "unique")
    per = entry.choice("per", _PER, "candidate") if "per" in entry.entries else None
    own = tuple(f for f in fields.values() if f.decision == name)
    answers: dict[str, Answer] = {}
    node = entry.get("answers")
    if node is not None and not node.entries:
        out.error(node.place, "shape", "'answers' must map each answer to its text")
    for word, (place, value) in ((node.entries if node else None) or {}).items():
        check_name(word, "an answer", place, out)
        answers[word] = read_answer(word, value, own, out)
    entry.text("asks")
    return Head(name, entry, policy, per, answers, own)


class Reader:
    """Reads the rest of a decision against all facts and the heads of all decisions."""

    def __init__(self, facts: dict[str, Fact], heads: dict[str, Head], out: Findings) -> None:
        self.facts, self.heads, self.out = facts, heads, out
        self.words = {name for name, fact in facts.items() if fact.text}
        self.fields = {name: (f, head) for head in heads.values() for name, f in head.field_facts.items()}
        self.mistaken: set[str] = set()

    def decision(self, head: Head) -> Decision:
        """The decision with its rules; axes are cut later."""
        entry, out = head.entry, self.out
        named = entry.texts("given")
        given = tuple(n.text or "" for n in named if self.usable(n.text or "", n.place, head))
        self.mistaken = {n.text or "" for n in named} - set(given)  # said once, not again at each rule
        applies = self._when(entry.get("applies"), None, head)
        answers = entry.get("answers")
        for _, value in ((answers.entries if answers else None) or {}).values():
            says = value if value.entries is None else value.entries.get("says", (None, value))[1]
            check_text(says.text or "", says.place, self.words, out)
        node = entry.get("rules")
        if node is not None and not node.items:
            out.error(node.place, "shape", "'rules' must be a list of rules")
        rules: list[Rule] = []
        for item in (node.items if node else None) or ():
            rule = self._rule(item, given, head)
            if rule and rule.name in [r.name for r in rules]:
                out.error(rule.place, "twice", f"two rules are named {rule.name!r}")
            elif rule:
                rules.append(rule)
        self._ending(head, rules)
        return Decision(
            head.name,
            entry.text("asks"),
            head.policy,
            given,
            head.answers,
            Rules(rules),
            entry.at("decision"),
            applies=applies,
            per=head.per,
        )

    def usable(self, name: str, place: Place, head: Head) -> bool:
        """Whether a name is a fact or an earlier answer that conditions may test."""
        other = self.heads.get(name.partition(".")[0])
        if name in self.facts and self.facts[name].text:
            self.out.error(place, "text-fact", f"{name!r} is words for texts and cannot be tested")
        elif other and other.policy == "collect":
            self.out.error(
                place, "collect-fact", f"the answers of {name!r} are collected and cannot be a fact"
            )
        elif other and other.per:
            self.out.error(place, "per-fact", f"{name!r} is decided for each candidate and cannot be a fact")
        elif not self._known(name, head):
            names = [n for n in (*self.facts, *self.heads, *self.fields) if self._known(n, head)]
            self.out.error(
                place, "undeclared-fact", f"no fact or decision is named {name!r}", nearest(name, names)
            )
        else:
            return True
        return False

    def _known(self, name: str, head: Head) -> bool:
        """Whether a name is that of a fact that is no text, or of another decision or a field of one."""
        if name in self.facts:
            return not self.facts[name].text
        if name in self.heads:
            return name != head.name
        return name in self.fields and self.fields[name][1] is not head

    def _fact(self, name: str) -> Fact:
        if "." in name:
            return self.fields[name][0]
        return self.heads[name].fact if name in self.heads else self.facts[name]

    def _when(self, node: Node | None, given: tuple[str, ...] | None, head: Head) -> tuple[Condition, ...]:
        if node is None:
            return ()
        if node.entries is None or (given is None and not node.entries):
            self.out.error(node.place, "shape", "conditions must be a map of fact: condition")
            return ()
        made = []
        for name, (place, value) in node.entries.items():
            if given is not None and name in self.mistaken:
                continue
            known = name in self.facts or name.partition(".")[0] in self.heads
            if given is not None and name not in given and known:
                self.out.error(
                    place,
                    "not-given",
                    f"the rule tests {name!r}, which is not in 'given'",
                    f"Add {name} to given.",
                )
            elif given is not None and name not in given:
                self.out.error(
                    place, "undeclared-fact", f"no fact or decision is named {name!r}", nearest(name, given)
                )
            elif given is not None or self.usable(name, place, head):
                made.append(read_condition(self._fact(name), value, self.out))
        return tuple(c for c in made if c)

    def _rule(self, node: Node, given: tuple[str, ...], head: Head) -> Rule | None:
        verb = "add" if head.policy == "collect" else "choose"
        entry = Map(
            node, "a rule", ("rule", "when", verb, "because"), ("cite", "text", "guaranteed_by"), self.out
        )
        name, answer = entry.text("rule"), entry.text(verb)
        if not name:
            return None
        if answer and answer != IMPOSSIBLE and answer not in head.answers:
            self.out.error(
                entry.at(verb),
                "undeclared-answer",
                f"{head.name} has no answer {answer!r}",
                nearest(answer, head.answers),
            )
        check_text(entry.text("because"), entry.at("because"), self.words, self.out, reason=True)
        check_text(entry.text("text"), entry.at("text"), self.words, self.out)
        return Rule(
            name,
            answer,
            entry.text("because"),
            cites_of(entry, self.out),
            self._when(entry.get("when"), given, head),
            entry.at("rule"),
            text=entry.text("text") or None,
            guaranteed_by=self._guarantee(entry, answer),
        )

    def _guarantee(self, entry: Map, answer: str) -> tuple[str, ...]:
        node = entry.get("guaranteed_by")
        if answer == IMPOSSIBLE and node is None:
            self.out.error(
                entry.at("rule"),
                "unguaranteed",
                "an impossible row needs 'guaranteed_by'",
                "Name the check or the decision that rules it out.",
            )
        if answer != IMPOSSIBLE and node is not None:
            self.out.error(
                node.place, "unguaranteed", "'guaranteed_by' belongs to rows that choose impossible"
            )
        if node is None:
            return ()
        return tuple(
            n.text or ""
            for n in ((node,) if node.items is None else texts_of(node, "guaranteed_by", self.out))
        )

    def _ending(self, head: Head, rules: list[Rule]) -> None:
        """`first` must end with a rule for everything else, and only the last may be such a rule."""
        for rule in rules if head.policy == "first" else ():
            last, free = rule is rules[-1], not rule.when
            if last and not (free and rule.name.startswith("otherwise")):
                self.out.error(
                    rule.place,
                    "otherwise",
                    f"{head.name} must end with a rule for everything else",
                    "Add a last rule named otherwise … with when: {}.",
                )
            if free and not last:
                self.out.error(
                    rule.place, "otherwise", f"no rule after {rule.name!r} can hold", "Move it to the end."
                )
