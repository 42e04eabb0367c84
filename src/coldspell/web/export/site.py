"""Writes the site: a page for each record, the list, the search, style and drawings."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import Any

import jinja2
from msgspec import Struct

from coldspell import __version__
from coldspell.api import Library
from coldspell.records.model import Record
from coldspell.sheet.unbroken import unbroken
from coldspell.web.export.folder import MARK, whole_folder
from coldspell.web.export.index import Plant, page_of, plant, script
from coldspell.web.export.states import Drawings, dangers, states
from coldspell.web.pages import icon, style
from coldspell.web.shelf import shown
from coldspell.workers import workers

HERE = Path(__file__).parent
_AT_ONCE = 120
"""Records in one task of a process."""


class Made(Struct, frozen=True):
    """What was written: pages of records, files, bytes."""

    plants: int
    files: int
    size: int


class Writer:
    """Writes pages of records into a folder with ``plants`` and ``drawings``; ``names`` are all of them."""

    def __init__(self, library: Library, folder: Path, names: Sequence[str]) -> None:
        self._library, self._folder, self._names = library, folder, frozenset(names)
        self._drawings = Drawings(folder / "drawings")
        self._environment = jinja2.Environment(
            loader=jinja2.FileSystemLoader(HERE / "templates"),
            autoescape=True,
            undefined=jinja2.StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )
        self._environment.filters["unbroken"] = unbroken
        made = library.texts.say(
            "sheet_made", tool=f"coldspell {__version__}", library=library.records.digest[:8]
        )
        self._environment.globals.update(t=library.texts.say, counted=library.texts.count, made=made)

    def page(self, file: str, template: str, **values: Any) -> None:
        """Write one page."""
        text = self._environment.get_template(template).render(**values)
        (self._folder / file).write_text(text, "utf-8", newline="\n")

    def species(self, name: str) -> None:
        """Write the page of one record."""
        records = self._library.records
        record: Record = records.get(name)
        found = states(self._library, record, self._drawings)
        pages = {
            led: page_of(records.get(led))
            for state in found
            for leads in state.leads
            for led in leads
            if led in self._names
        }
        self.page(
            f"plants/{page_of(record)}",
            "species.html",
            root="../",
            record=shown(records, record, public=True),  # whoever comes by reads it
            states=found,
            dangers=dangers(found),
            pages=pages,
        )


def export(
    folder: Path,
    libraries: Sequence[Path],
    names: Sequence[str] = (),
    jobs: int = 1,
    told: Callable[[int, int], None] = lambda done, of: None,
    rules: Path | None = None,
) -> Made:
    """Write the site, whole or not at all; the files are the same with any number of processes.

    Parameters
    ----------
    folder
        Where it stands afterwards; what was exported there before is replaced.
    libraries
        Further libraries of records.
    names
        Botanical or common names of the only plants wanted; all without any.
    jobs
        Processes.
    told
        Is told how many pages of how many are there.
    rules
        A folder of rules in place of the shipped one.

    Raises
    ------
    ColdspellError
        A name means no plant or several; the folder has other files in it, or cannot be written.
    """
    library = Library(*libraries, rules=rules)
    wanted = sorted({library.record(name).name for name in names} if names else library.records.names)
    with whole_folder(folder) as part:
        for name in ("plants", "drawings"):
            (part / name).mkdir()
        done = 0
        for count in _written(part, library, partial(Library, *libraries, rules=rules), wanted, jobs):
            done += count
            told(done, len(wanted))
        _rest(Writer(library, part, wanted), part, [plant(library.records.get(name)) for name in wanted])
        files = [path for path in part.rglob("*") if path.is_file()]
        return Made(len(wanted), len(files), sum(path.stat().st_size for path in files))


def _rest(writer: Writer, folder: Path, plants: Sequence[Plant]) -> None:
    """What belongs to no record: front page, list, search, style, icon, mark."""
    writer.page("index.html", "index.html", root="", count=len(plants))
    writer.page("list.html", "list.html", root="", letters=_letters(plants))
    texts = {
        "site.css": style() + _static("site.css"),
        "search.js": _static("search.js"),
        "plants.js": script(plants),
        "seed.svg": icon(),
        MARK: json.dumps({"made_by": f"coldspell {__version__}", "plants": len(plants)}) + "\n",
    }
    for name, text in texts.items():
        (folder / name).write_text(text, "utf-8", newline="\n")


def _static(name: str) -> str:
    return (HERE / "static" / name).read_text("utf-8")


def _letters(plants: Iterable[Plant]) -> dict[str, list[Plant]]:
    found: dict[str, list[Plant]] = {}
    for one in plants:
        found.setdefault(one.name[0].upper(), []).append(one)
    return found


def _written(
    folder: Path, library: Library, again: Callable[[], Library], names: Sequence[str], jobs: int
) -> Iterator[int]:
    """Write the pages of records; gives how many each task wrote."""
    tasks = [names[i : i + _AT_ONCE] for i in range(0, len(names), _AT_ONCE)]
    if jobs <= 1 or len(tasks) < 2:
        writer = Writer(library, folder, names)
        yield from (_task(writer, task) for task in tasks)
        return
    with workers(jobs) as pool:
        yield from pool.map(partial(_in_process, folder, again, names), tasks)


def _in_process(
    folder: Path, again: Callable[[], Library], names: Sequence[str], task: Sequence[str]
) -> int:
    """One task in a process of its own, which reads the library anew."""
    return _task(Writer(again(), folder, names), task)


def _task(writer: Writer, names: Sequence[str]) -> int:
    for name in names:
        writer.species(name)
    return len(names)
