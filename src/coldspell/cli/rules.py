"""``coldspell rules``: list the decisions, show one as the table it is, check that they leave no gap."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Annotated

import typer

from coldspell import shipped
from coldspell.cli import output, rules_text
from coldspell.cli.output import Form
from coldspell.cli.parameters import offer
from coldspell.cli.retype import quoted
from coldspell.cli.species_check import Report
from coldspell.errors import ColdspellError
from coldspell.library.files import MAX_BIBLIOGRAPHY_BYTES
from coldspell.near import did_you_mean
from coldspell.rulebook import asked, rule_paths
from coldspell.rules import RuleBook, check_rules, load_rules
from coldspell.rules.audit import audit
from coldspell.rules.findings import Findings
from coldspell.rules.model import FactValue, Finding
from coldspell.rules.numbers import far_from
from coldspell.rules.plain import PlainEngine
from coldspell.yaml import document

app = typer.Typer(help="Show and check the rules that decide.", no_args_is_help=True)

Rules = Annotated[
    list[Path] | None,
    typer.Option("--rules", help="Directory or file of rules; else the shipped."),
]
Library = Annotated[
    list[Path] | None,
    typer.Option("--library", help="Species library whose sources rules may cite, too."),
]
Format = Annotated[Form, typer.Option("--format", help="text or json")]


@app.command("list")
def list_decisions(rules: Rules = None) -> None:
    """List every decision in the order in which they are computed, and what it asks."""
    output.write(rules_text.listing(_book(rules)))


@app.command("show")
def show(
    words: Annotated[
        list[str], typer.Argument(metavar="DECISION_OR_RULE...", help="Name of a decision or rule.")
    ],
    rules: Rules = None,
) -> None:
    """Show a decision as a table, or one rule with its reason and sources."""
    book, name = _book(rules), " ".join(words)
    if name in book.decisions:
        output.write(rules_text.decision(book.decisions[name], output.columns()))
        return
    rows = [(d, r) for d in book.decisions.values() for r in d.rules]
    found = [(d, r) for d, r in rows if name in (r.name, f"{d.name}: {r.name}")]
    if not found:
        known = [*book.decisions, *(r.name for _, r in rows)]
        raise ColdspellError(f"no decision or rule is named {name!r}", mend=did_you_mean(name, known))
    output.write("\n".join(rules_text.rule(d, r) for d, r in found))


@app.command("check")
def check(
    rules: Rules = None,
    library: Library = None,
    form: Annotated[
        Report, typer.Option("--format", help="text, json, github (annotations), sarif (2.1.0) or junit")
    ] = Report.text,
    explain: Annotated[
        str | None,
        typer.Option(
            metavar="ID", help="Say what a check finds.", autocompletion=offer(rules_text.check_ids)
        ),
    ] = None,
    grid: Annotated[
        bool, typer.Option("--grid", help="Also ask of every record with a grid of lots; takes minutes.")
    ] = False,
) -> None:
    """Check form and meaning of all rules and prove that they leave no gap; exit code 1 on faults."""
    if explain is not None:
        output.write(rules_text.explained(explain))
        return
    paths = _paths(rules)
    sources = bibliography_ids([shipped.find("species"), *(library or [])])
    findings = check_rules(paths, sources, asked)
    report = None
    if not any(f.severity == "error" for f in findings):
        book = load_rules(paths, sources, asked)
        findings += _far(book) if rules else []
        report = audit(book, _grid(book, library or []) if grid else None)
        findings += report.findings
    output.write(rules_text.written(form.value, findings, report))
    if any(f.severity == "error" for f in findings):
        raise typer.Exit(1)


@app.command("diff")
def diff(
    old: Annotated[Path, typer.Argument(help="Directory of rules, older; left out: the shipped ones.")],
    new: Annotated[Path | None, typer.Argument(help="Directory of rules, newer.")] = None,
    records: Annotated[
        int, typer.Option(min=1, help="Ask so many kinds, drawn evenly from the library; more take longer.")
    ] = 200,
    form: Format = Form.text,
) -> None:
    """Show which rules differ between two sets of rules, and which recipes change by that.

    Each kind is asked with five lots. That none of them changes does not prove it of the others.
    """
    from coldspell.cli.rules_diff import compared

    before, after = (shipped.find("rules"), old) if new is None else (old, new)
    output.write(compared(before, after, records, form))


@app.command("copy")
def copy(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A new folder for them.")],
) -> None:
    """Copy the shipped rules into a new folder, to be changed there and tried with --rules."""
    import shutil

    if folder.exists():
        raise ColdspellError("this is there already", str(folder), "Name a new folder.")
    files = [path for path in shipped.find("rules").iterdir() if path.suffix == ".yaml"]
    folder.mkdir(parents=True)
    for path in files:
        shutil.copyfile(path, folder / path.name)
    then = f"change one, then type: coldspell rules check --rules {quoted(str(folder))}"
    output.write(output.text([(str(folder), f"{len(files)} files; {then}")]))


def _far(book: RuleBook) -> list[Finding]:
    """Numbers of practice that are far from the shipped ones."""
    found = Findings()
    far_from(book.practice, _book(None).practice, found)
    return found.ordered()


def _grid(book: RuleBook, libraries: list[Path]) -> Iterator[dict[str, FactValue]]:
    from coldspell.decide.tables import tables_of
    from coldspell.library.load import load_library
    from coldspell.trial.grid import grid

    return grid(load_library([shipped.find("species"), *libraries]), tables_of(book, PlainEngine()))


def bibliography_ids(libraries: list[Path]) -> set[str]:
    """The ids of the sources in the bibliographies of some libraries; their records are not read."""
    ids: set[str] = set()
    for path in (library / "bibliography.yaml" for library in libraries):
        if path.is_file():
            file = str(path)
            text = document.decode(document.read_bytes(path, file, MAX_BIBLIOGRAPHY_BYTES), file)
            items = document.plain(document.parse(text, file))
            ids.update(str(item["id"]) for item in items if isinstance(item, dict) and "id" in item)
    return ids


def _paths(rules: list[Path] | None) -> list[Path]:
    return rule_paths(rules or ())


def _book(rules: list[Path] | None) -> RuleBook:
    return load_rules(_paths(rules), None, asked)
