"""A third reading of rule files, sharing no code with the tool: raw values, straight from the YAML.

It knows nothing of labels, axes, boxes or engines, and is as slow and plain as the rules read.
Policies are those of the decision tables of the OMG's DMN standard (hit policies Unique, First, Collect).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from ruamel.yaml import YAML


class ImpossibleRowError(Exception):
    """A row that says it cannot be reached."""


class Oracle:
    """Rules of one folder, evaluated on raw values.

    What a grower may say of a lot is not declared in the folder: `lots`, its published schema, tells which of
    those facts are numbers.
    """

    def __init__(self, folder: Path, lots: Path | None = None) -> None:
        yaml = YAML(typ="safe", pure=True)
        files = [yaml.load(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.yaml"))]
        said = json.loads(lots.read_text(encoding="utf-8"))["properties"] if lots else {}
        facts = {f["fact"]: f for d in files for f in d.get("facts", ())}
        self.numbers = {name for name, of in said.items() if of.get("type") in ("integer", "number")}
        self.numbers = (self.numbers - facts.keys()) | {name for name, f in facts.items() if "bounds" in f}
        self.tables = {d["decision"]: d for d in files if "decision" in d}

    def holds(self, test: Any, value: Any, number: bool) -> bool:
        """Whether a condition as written holds for a value."""
        if number:
            tests = test if isinstance(test, list) else [test]
            limits = [t for t in tests if t != "unknown"]
            if value is None:
                return "unknown" in tests
            return bool(limits) and all(self.within(limit, value) for limit in limits)
        if isinstance(test, list):
            return value in [str(t) for t in test]
        word = str(test)
        if word == "known":
            return bool(value != "unknown")
        return bool(value != word[4:]) if word.startswith("not ") else bool(value == word)

    def within(self, limit: str, value: float) -> bool:
        """``up to n`` includes n, ``over n`` does not."""
        if limit in ("known", "not unknown"):
            return True
        words = limit.split()
        return value <= float(words[2]) if words[0] == "up" else value > float(words[1])

    def all_hold(self, when: dict[str, Any], lot: dict[str, Any]) -> bool:
        """Whether every condition of a row holds."""
        return all(self.holds(test, lot[fact], fact in self.numbers) for fact, test in when.items())

    def decide(self, name: str, lot: dict[str, Any]) -> tuple[list[str], list[str]] | None:
        """Rules that answer and their answers; None where the decision is not asked."""
        table = self.tables[name]
        if not self.all_hold(table.get("applies", {}), lot):
            return None
        rows = [r for r in table["rules"] if self.all_hold(r["when"], lot)]
        if table["policy"] == "first":
            rows = rows[:1]
        elif table["policy"] == "unique":
            assert len(rows) == 1, (name, [r["rule"] for r in rows], lot)
        if any(r.get("choose") == "impossible" for r in rows):
            raise ImpossibleRowError(name)
        return [r["rule"] for r in rows], [r.get("choose") or r["add"] for r in rows]

    def told(self, name: str, answer: str) -> dict[str, str]:
        """An answer and its fields as facts, by path; a field reads ``not_asked`` like its decision."""
        answers = self.tables[name]["answers"]
        first = next(iter(answers.values()))
        fields = {k for k in first if k != "says"} if isinstance(first, dict) else set()
        if answer == "not_asked":
            return {name: answer, **{f"{name}.{field}": answer for field in fields}}
        return {name: answer, **{f"{name}.{field}": str(answers[answer][field]) for field in fields}}

    def run(self, lot: dict[str, Any]) -> dict[str, tuple[list[str], list[str]] | None]:
        """All decisions, each as soon as everything it looks at is known."""
        values, out = dict(lot), {}
        waiting = dict(self.tables)
        while waiting:
            ready = [
                n for n, t in waiting.items()
                if not {f.partition(".")[0] for f in (*t["given"], *t.get("applies", {}))} & waiting.keys()
            ]  # fmt: skip
            for name in ready:
                out[name] = self.decide(name, values)
                table = waiting.pop(name)
                if table["policy"] != "collect":
                    answer = out[name]
                    values |= self.told(name, "not_asked" if answer is None else answer[1][0])
            assert ready, "a circle"
        return out
