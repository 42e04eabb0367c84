"""``--why``: in sentences, what hangs on the lot first, and who told it."""

from __future__ import annotations

import pytest
import typer
from typer.testing import CliRunner

from coldspell.cli.recipe import recipe


def _why(*arguments: str) -> str:
    typed = [*arguments, "--today", "2026-11-30", "--why"]
    app = typer.Typer()
    app.command()(recipe(typed))
    done = CliRunner().invoke(app, typed, env={"COLUMNS": "200"})
    assert done.exit_code == 0, done.output
    return " ".join(done.output[done.output.index("\nWhy\n") :].split())


@pytest.mark.parametrize(
    ("name", "said", "first"),
    [
        ("Quercus rubra", ["--moisture", "dried", "--seeds", "40"], "You said: moisture dried"),
        ("Malus domestica", ["--fridge-celsius", "12", "--seeds", "15"], "You said: fridge celsius 12"),
        ("Juglans nigra", ["--mould", "kernel", "--seeds", "15"], "You said: mould kernel"),
        (
            "Aesculus hippocastanum",
            ["--no-fridge", "--winter", "cold", "--seeds", "15"],
            "You said: refrigerator none",
        ),
    ],
)
def test_what_the_grower_told_comes_first(name: str, said: list[str], first: str) -> None:
    lines = [line.strip() for line in _why(name, *said).split("•")[1:]]
    assert any(first in line for line in lines[:2]), lines[:3]


def test_what_nobody_told_is_said_to_be_taken() -> None:
    assert "Nobody said; taken:" in _why("Quercus rubra", "--seeds", "40", "--moisture", "fresh")


def test_it_reads_as_sentences() -> None:
    """No answer by its bare name, no fact with an underline, and each ends with a stop and its source."""
    for line in _why("Cercis canadensis", "--seeds", "40", "--moisture", "dried").split("•")[1:]:
        text = " ".join(line.split())
        assert "_" not in text.replace("why-not", "")
        assert text[0].isupper()
