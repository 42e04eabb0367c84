"""``coldspell species new``: begin a record, from options or from answers, and say what is still missing."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from coldspell import shipped
from coldspell.cli import output
from coldspell.cli.retype import quoted
from coldspell.cli.species_options import Libraries, load
from coldspell.errors import ColdspellError
from coldspell.library.library import Library
from coldspell.library.load import shipped_dirs
from coldspell.library.names import Found, look_up
from coldspell.library.one import one_record
from coldspell.library.template import Draft, Moist, write_record
from coldspell.near import did_you_mean
from coldspell.placed import put
from coldspell.records.name import genus_of, slug
from coldspell.records.terms import PLANT, SIZE, UNIT

NO_TREATMENT = "no-treatment-for-a-moisture"
"""The one check that a record may fail that is only begun."""


class Basis(StrEnum):
    """How a source was used."""

    read = "read"
    recalled = "recalled"
    practice = "practice"


_WORDS: dict[str, Iterable[str]] = {"plant": PLANT, "unit": UNIT, "size": SIZE}


def new(
    words: Annotated[list[str], typer.Argument(metavar="NAME...", help="Botanical name without author.")],
    family: Annotated[str | None, typer.Option(help="Else that of the genus.")] = None,
    plant: Annotated[str | None, typer.Option(help="As 'broadleaf tree'; else that of the genus.")] = None,
    unit: Annotated[
        str | None, typer.Option(help="As 'nut', 'stone', 'seed'; else that of the genus.")
    ] = None,
    size: Annotated[str | None, typer.Option(help="fine, small, medium or large")] = None,
    author: Annotated[str, typer.Option(help="Author of the name.")] = "",
    common: Annotated[list[str] | None, typer.Option(help="English name; repeatable, or as de:Name.")] = None,
    warm_days: Annotated[str | None, typer.Option(help="Days moist and warm, as 60 or 60-90.")] = None,
    cold_days: Annotated[str | None, typer.Option(help="Days moist and cold, as 90 or 60-90.")] = None,
    scarify: Annotated[bool, typer.Option("--scarify", help="The coat is opened first.")] = False,
    nothing: Annotated[
        bool, typer.Option("--no-pretreatment", help="A source says that the seed needs nothing.")
    ] = False,
    source: Annotated[str, typer.Option(help="Id of the source in a bibliography.")] = "",
    at: Annotated[str, typer.Option(help="Page or table in the source.")] = "",
    basis: Annotated[Basis | None, typer.Option(help="read, recalled or practice")] = None,
    into: Annotated[Path | None, typer.Option(metavar="DIR", help="Library directory to write into.")] = None,
    replace: Annotated[
        bool,
        typer.Option("--replace", help="Begin as a copy of the shipped record, in whose place yours stands."),
    ] = False,
    guided: Annotated[bool, typer.Option("--guided", help="Ask for what the options leave out.")] = False,
    libraries: Libraries = None,
) -> None:
    """Begin a record: a commented file, checked before it is written; never overwrites one."""
    name = " ".join(words)
    if replace:
        told = (family, plant, unit, size, author, common, warm_days, cold_days, source, at, basis)
        if any(told) or scarify or nothing or guided:
            what = "a record that replaces another begins as a copy of it"
            raise ColdspellError(what, mend="Leave the other options out, and change the file.")
        output.write(_copied(name, into, load(libraries)))
        return
    _refuse_no_name(name)
    folder = _folder(into)
    library = load([*(libraries or ()), *([into] if into and into.is_dir() else [])])
    _refuse_known(library, name, into)
    genus = library.genus(name)
    ask = _prompt if guided else _nothing
    treatment = None
    warm = warm_days or ask("Days moist and warm first (empty: none)", None)
    cold = cold_days or ask("Days moist and cold (empty: none)", None)
    if warm or cold or scarify or nothing:
        treatment = Moist(_days(warm, "--warm-days"), _days(cold, "--cold-days"), scarify)
    cited = source or ask("Id of the source (empty: common practice)", None)
    draft = Draft(
        name=name,
        family=_need("family", family, genus.family if genus else None, ask),
        plant=_word("plant", _need("plant", plant, genus.plant if genus else None, ask)),
        unit=_word("unit", _need("unit", unit, genus.unit if genus else None, ask)),
        rank=_rank(name),
        author=author or ask("Author of the name (empty: not known)", None),
        size=_word(
            "size",
            size or ask("Size: fine, small, medium, large (empty: later)", genus.size if genus else None),
        ),
        common_names=_common(common or ()),
        treatment=treatment,
        source=cited,
        at=at or (ask("Page or table", None) if cited else ""),
        basis=(basis or (Basis.read if cited and at else Basis.recalled if cited else Basis.practice)).value,
        genus=genus if genus and genus.name != name else None,
    )
    path = folder / slug(genus_of(draft.name)) / f"{slug(draft.name)}.yaml"
    hint = (folder.absolute().parent / "docs" / "schemas" / "record-2.json").is_file()
    text = write_record(draft, hint=hint)
    missing = _missing(text, path, library, [*(libraries or ()), folder])
    _write(text, path)
    output.write(f"{path}\n{missing}")


_WORD = r"[a-zäëïöü]+(?:-[a-zäëïöü]+)*"
BOTANICAL = re.compile(
    rf"(?:× ?)?[A-Z][a-zëïöü]+(?:-[a-zëïöü]+)?(?: (?:× )?{_WORD})?"
    rf"(?: (?:subsp\.|var\.|f\.|nothosubsp\.|nothovar\.) {_WORD})*"
)
"""A genus, a species or what is below it, by the rules of the code for algae, fungi and plants (ICN 2018)."""


def _refuse_no_name(name: str) -> None:
    if not BOTANICAL.fullmatch(name):
        mend = "Write genus and epithet, without author and variety in quotation marks: Quercus rubra."
        if BOTANICAL.fullmatch(capital := name[:1].upper() + name[1:]):
            mend = f"The genus begins with a capital: {capital}."
        raise ColdspellError(f"{name[:60]!r} is no botanical name", mend=mend)


def _folder(into: Path | None) -> Path:
    if into is None and shipped.is_installed("species"):
        what = "a record in the installed program would be lost with the next version of it"
        mend = "Name your library: --into DIR (in a clone of the repository: --into species)."
        raise ColdspellError(what, mend=mend)
    return into or shipped.find("species")


def _refuse_known(library: Library, name: str, into: Path | None) -> None:
    found = look_up(library, name)
    if isinstance(found, Found) and found.whole and " " in name and found.record.rank != "genus":
        file = library.file(found.record.name)
        mend = "Mend that record."
        if into is None or into.resolve() not in file.resolve().parents:
            command = f'coldspell species new "{found.record.name}" --replace --into {into or "DIR"}'
            first = "For" if shipped.is_installed("species") else "Mend that record; for"
            mend = f"{first} one of your own in its place type: {command}"
        raise ColdspellError(f"'{name}' is in the library: {found.record.name}", str(file), mend)


def _copied(name: str, into: Path | None, library: Library) -> str:
    """Put a copy of a record into another library, where it replaces it, and say where.

    Raises
    ------
    ColdspellError
        No library is named, or it has the record already; the name means no record, or several.
    """
    if into is None:
        what = "a record that replaces another stands in a library of your own"
        raise ColdspellError(what, mend="Name it: --into DIR")
    own = quoted(str(into))
    record = one_record(library, name, command=f"coldspell species new --replace --into {own}")
    text = library.file(record.name).read_text("utf-8")
    text = re.sub(r"\A# yaml-language-server:.*\n", "", text)
    path = into / slug(genus_of(record.name)) / f"{slug(record.name)}.yaml"
    missing = _missing(text, path, library, [into])
    _write(text, path)
    return (
        f"{path}\n{missing}It is what coldspell knows of {record.name}, to be changed by you; with --library "
        f"{own} it is read in place of that.\n"
    )


def _nothing(question: str, default: str | None) -> str:
    return ""


def _prompt(question: str, default: str | None) -> str:
    answer: str = typer.prompt(question, default=default or "", show_default=bool(default), err=True)
    return answer.strip()


def _need(what: str, given: str | None, genus: str | None, ask: Callable[[str, str | None], str]) -> str:
    value = given or ask(what.capitalize(), genus) or genus
    if not value:
        raise ColdspellError(f"the {what} is not known", mend=f"Give --{what}, or answer with --guided.")
    return value


def _word(key: str, value: str) -> str:
    """Refuse a word that the record format does not list."""
    allowed = list(_WORDS[key])
    if value and value not in allowed:
        mend = did_you_mean(value, allowed)
        raise ColdspellError(f"--{key}: '{value}' is not an allowed word", mend=mend)
    return value


def _rank(name: str) -> str:
    words = name.split()
    if len(words) == 1:
        return "genus"
    for mark, rank in (("subsp.", "subspecies"), ("var.", "variety"), ("×", "hybrid")):
        if mark in words:
            return rank
    return "species"


def _common(names: list[str] | tuple[str, ...]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for given in names:
        language, colon, name = given.partition(":")
        if not colon:
            language, name = "en", given
        found.setdefault(language.strip(), []).append(name.strip())
    return found


def _days(text: str | None, option: str) -> tuple[float, ...]:
    if not text:
        return ()
    try:
        numbers = tuple(float(part) for part in text.replace("–", "-").split("-"))
    except ValueError:
        numbers = ()
    if len(numbers) not in (1, 2, 3) or list(numbers) != sorted(numbers):
        raise ColdspellError(f"{option}: '{text[:40]}' is not days", mend="As 90, or low-high: 60-90.")
    return numbers


def _missing(text: str, path: Path, library: Library, libraries: list[Path]) -> str:
    """Check a record that is not written yet, and say what it lacks.

    Raises
    ------
    ColdspellError
        What was given would be a fault, so that nothing is to be written.
    """
    from coldspell.check.reports import summary
    from coldspell.check.scope import check_text

    folders = list(dict.fromkeys([*shipped_dirs(), *libraries]))
    found = check_text(text, path, library, folders, date.today())
    wrong = [one for one in found.findings if one.severity == "error" and one.check != NO_TREATMENT]
    if wrong:
        said = "\n  ".join(f"{one.what} [{one.check}]: {one.mend}" for one in wrong)
        raise ColdspellError(f"nothing is written: {said}", mend="Correct the options.")
    later = [f"{one.place}: still to do: {one.what}\n  {one.mend}" for one in found.findings]
    return "\n".join([*later, "" if later else summary(found)]).rstrip("\n") + "\n"


def _write(text: str, path: Path) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        put(path, text.encode(), new=True)
    except FileExistsError:
        raise ColdspellError("the file exists already", str(path), "Mend that record.") from None
    except OSError as error:
        raise ColdspellError(f"cannot be written: {error.strerror}", str(path), "Name --into DIR.") from None
