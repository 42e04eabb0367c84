"""Decide over facts: tables of rules, what they answer for a lot, and a proof that they leave no gap."""

from coldspell.rules.book import RuleBook
from coldspell.rules.engine import Engine, best_engine
from coldspell.rules.load import check_rules, load_rules
from coldspell.rules.model import Decided, Decision, Fact, Failed, Finding, Firing, Near, Rule
from coldspell.rules.session import RuleFault, Session

__all__ = [
    "Decided",
    "Decision",
    "Engine",
    "Fact",
    "Failed",
    "Finding",
    "Firing",
    "Near",
    "Rule",
    "RuleBook",
    "RuleFault",
    "Session",
    "best_engine",
    "check_rules",
    "load_rules",
]
