"""Copies of the shipped rules with names changed everywhere in them, as a careful editor would.

Rules are taken as plain values, changed by their structure (not by searching texts), and written as JSON,
which is YAML as well.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

from coldspell import shipped
from coldspell.decide.tables import Tables, tables_of
from coldspell.rulebook import asked, rule_paths
from coldspell.rules.load import compile_rules
from coldspell.rules.plain import PlainEngine
from coldspell.yaml import document

Rules = dict[str, Any]
Rename = Callable[[str], str]


def read(folder: Path | None = None) -> Rules:
    """The rule files of a folder, the shipped one by default, as plain values by file name."""
    loaded: Rules = json.loads(_read(folder or shipped.find("rules")))
    return loaded


@cache
def _read(folder: Path) -> str:
    found = {
        path.name: document.plain(document.parse(path.read_text("utf-8"), str(path)))  # ruamel's takes 2 s
        for path in sorted(folder.glob("*.yaml"))
    }
    return json.dumps(found)  # read once, however many copies are changed


def write(rules: Rules, folder: Path) -> Path:
    """Write them to a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in rules.items():
        (folder / name).write_text(json.dumps(content, ensure_ascii=False, indent=1), encoding="utf-8")
    return folder


def tables(rules: Rules, folder: Path) -> Tables:
    """The rules ready to be asked, compiled from a folder that they are written to."""
    return tables_of(compile_rules(rule_paths([write(rules, folder)]), None, asked).book, PlainEngine())


def decisions(rules: Rules) -> Iterator[Any]:
    """Yield every decision."""
    return (content for content in rules.values() if "decision" in content)


def rename_answers(rules: Rules, names: dict[tuple[str, str], str]) -> None:
    """Give answers, keyed by decision and answer, new names wherever they stand."""
    for table in decisions(rules):
        own = {old: new for (decision, old), new in names.items() if decision == table["decision"]}
        table["answers"] = {own.get(name, name): answer for name, answer in table["answers"].items()}
        for rule in table["rules"]:
            for verb in {"choose", "add"} & rule.keys():
                rule[verb] = own.get(rule[verb], rule[verb])
        for when in _conditions(table):
            for fact, test in when.items():
                when[fact] = _in_test(test, lambda word, of=fact: names.get((of, word), word))  # type: ignore[misc]


def rename_words(rules: Rules, rename: Rename, paths: set[str]) -> None:
    """Give the words of fields, by path, new names wherever they stand."""
    for field in rules["fields.yaml"]["fields"]:
        if _paths(field) & paths and "words" in field:
            assert _paths(field) <= paths, "a declaration for several decisions changes for all of them"
            field["words"] = {rename(word): means for word, means in field["words"].items()}
    for table in decisions(rules):
        for answer in table["answers"].values():
            for field in answer if isinstance(answer, dict) else ():
                if f"{table['decision']}.{field}" in paths:
                    answer[field] = rename(answer[field])
        for when in _conditions(table):
            for fact in when.keys() & paths:
                when[fact] = _in_test(when[fact], rename)


def rename_keys(rules: Rules, rename: Rename) -> None:
    """Give facts, decisions and fields new names where rules ask for them; `rename` gets facts and paths."""
    for field in rules["fields.yaml"]["fields"]:
        of = field["of"] if isinstance(field["of"], list) else [field["of"]]
        field["field"] = _last(rename(f"{of[0]}.{field['field']}"))
        field["of"] = [rename(one) for one in of]
    for fact in rules["facts.yaml"]["facts"]:
        fact["fact"] = rename(fact["fact"])
    for table in decisions(rules):
        name = table["decision"]
        table["decision"] = rename(name)
        table["given"] = [rename(fact) for fact in table["given"]]
        for key in {"applies"} & table.keys():
            table[key] = {rename(fact): test for fact, test in table[key].items()}
        for answer, told in table["answers"].items():
            if isinstance(told, dict):
                named = {k if k == "says" else _last(rename(f"{name}.{k}")): v for k, v in told.items()}
                table["answers"][answer] = named
        for rule in table["rules"]:
            rule["when"] = {rename(fact): test for fact, test in rule["when"].items()}
            for key in {"guaranteed_by"} & rule.keys():
                rule[key] = rename(rule[key]) if isinstance(rule[key], str) else list(map(rename, rule[key]))


def rename_in_braces(rules: Rules, rename: Rename) -> None:
    """Give placeholders new names, in their file and in all texts."""
    for one in rules["placeholders.yaml"]["placeholders"]:
        one["placeholder"] = rename(one["placeholder"])
    for table in decisions(rules):
        for answer, told in table["answers"].items():
            if isinstance(told, dict):
                told["says"] = _in_braces(told["says"], rename)
            else:
                table["answers"][answer] = _in_braces(told, rename)
        for rule in table["rules"]:
            for key in {"because", "text"} & rule.keys():
                rule[key] = _in_braces(rule[key], rename)


def _conditions(table: Any) -> Iterator[dict[str, Any]]:
    if "applies" in table:
        yield table["applies"]
    yield from (rule["when"] for rule in table["rules"])


def _in_test(test: Any, rename: Rename) -> Any:
    if isinstance(test, list):
        return [_in_test(one, rename) for one in test]
    if isinstance(test, str) and test.startswith("not "):
        return "not " + rename(test.removeprefix("not "))
    return rename(test) if isinstance(test, str) else test


def _in_braces(text: str, rename: Rename) -> str:
    return re.sub(r"\{(\w+)\}", lambda found: "{" + rename(found[1]) + "}", text)


def _paths(field: Any) -> set[str]:
    of = field["of"] if isinstance(field["of"], list) else [field["of"]]
    return {f"{one}.{field['field']}" for one in of}


def _last(path: str) -> str:
    return path.rpartition(".")[2]
