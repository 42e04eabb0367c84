"""``coldspell schema [NAME]``: the JSON Schema of what the program reads and writes."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Annotated, Any

import typer

from coldspell.cli.output import write
from coldspell.cli.parameters import offer
from coldspell.errors import ColdspellError
from coldspell.near import did_you_mean


def _recipe() -> dict[str, Any]:
    from coldspell.rulebook import load_tables
    from coldspell.rules.plain import PlainEngine
    from coldspell.write.recipe_schema import recipe_schema

    return recipe_schema(load_tables(PlainEngine()).book)


def _lot() -> dict[str, Any]:
    from coldspell.lot.schema import lot_schema

    return lot_schema()


def _settings() -> dict[str, Any]:
    from coldspell.settings.keys import settings_schema

    return settings_schema()


def _office() -> dict[str, Any]:
    from coldspell.office.schema import office_schema

    return office_schema()


def _error() -> dict[str, Any]:
    from coldspell.cli.line_schemas import error_schema

    return error_schema()


def _row() -> dict[str, Any]:
    from coldspell.cli.line_schemas import row_schema

    return row_schema()


def _of_library(name: str) -> Callable[[], dict[str, Any]]:
    def made() -> dict[str, Any]:
        from coldspell.library.schema import shipped_schema

        return shipped_schema(name)

    return made


SCHEMAS: dict[str, tuple[str, Callable[[], dict[str, Any]]]] = {
    "recipe": ("an answer: recipe --format json", _recipe),
    "row": ("a line of recipe --lots", _row),
    "error": ("an error where the answer would have been JSON", _error),
    "lot": ("a file with the facts of a lot: recipe --lot", _lot),
    "record": ("a species record", _of_library("record")),
    "csl-data": ("bibliography.yaml of a library", _of_library("csl-data")),
    "poisonous": ("poisonous.yaml of a library", _of_library("poisonous")),
    "common-words": ("common-words.yaml of a library", _of_library("common-words")),
    "beside-names": ("beside-names.yaml of a library", _of_library("beside-names")),
    "settings": ("the settings", _settings),
    "office": ("the folder of an office", _office),
}
"""What each schema is of, and how it is made; docs/schemas holds the same."""


def command(
    name: Annotated[
        str | None,
        typer.Argument(
            help="Which one; without it they are listed.", show_default=False, autocompletion=offer(SCHEMAS)
        ),
    ] = None,
) -> None:
    """Print the JSON Schema of a recipe, a lot file, a record: for programs and editors."""
    if name is None:
        write("".join(f"{one:<14}{says}\n" for one, (says, _) in SCHEMAS.items()))
        return
    if name not in SCHEMAS:
        mend = did_you_mean(name, SCHEMAS, f"one of: {', '.join(SCHEMAS)}")
        raise ColdspellError(f"there is no schema of {name[:60]!r}", mend=mend)
    write(json.dumps(SCHEMAS[name][1](), indent=1, ensure_ascii=False) + "\n", json=True)
