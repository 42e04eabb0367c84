"""From the cells of a row to a lot; every fault of the row at once, each with its column."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.lot.read import EITHER, check_fact, make_lot
from coldspell.lot.table import FACTS
from coldspell.near import nearest
from coldspell.tables.cells import as_said, plain_text
from coldspell.tables.heading import Headings
from coldspell.tables.raw import RawRow
from coldspell.tables.rows import Fault, Own, Refused, Row, TableForm

_ORIGIN = FACTS["origin"]


class Understanding:
    """Rows of one table become lots.

    Parameters
    ----------
    file
        Its name, for messages.
    form
        What is stated about it.
    defaults
        Facts for the rows that do not say them, nor what cannot go with them.
    """

    def __init__(self, file: str, form: TableForm, defaults: Mapping[str, Any]) -> None:
        self._file, self._form, self._defaults = file, form, defaults
        self._rivals: dict[str, set[str]] = {}
        for one, other in EITHER:
            self._rivals.setdefault(one, set()).add(other)
            self._rivals.setdefault(other, set()).add(one)

    def row(self, raw: RawRow, headings: Headings) -> Row | Refused:
        """One row as a lot, or all that is wrong with it."""
        if raw.broken:
            return self._refused(raw, [Fault("", raw.broken, "mend or delete the row")])
        faults: list[Fault] = []
        texts = self._texts(raw, headings, faults)
        said = self._said(raw, headings, faults)
        grams = self._own(raw, headings, said, texts, faults)
        if not texts["name"]:
            told = any(fault.column == headings.own.get("name") for fault in faults)
            if not told:
                faults.append(Fault(headings.own.get("name", "name"), "no plant is named", "name it"))
        carried = {h: raw.cells.get(h) for h in headings.carried}
        for heading, cell in carried.items():
            if type(cell) is str and not cell.isprintable():
                self._text(heading, heading, cell, faults)
        try:
            lot = make_lot(self._with_defaults(said))
        except ColdspellError as error:
            faults += self._by_column(said, headings) or [Fault("", error.what, error.mend)]
        if faults:
            return self._refused(raw, faults, texts["name"], texts["lot"])
        own = Own(texts["lot"], grams, texts["supplier"], texts["origin"], texts["note"], texts["shelf"])
        return Row(raw.number, texts["name"], lot, own, said, carried, raw.cells)

    def _texts(self, raw: RawRow, headings: Headings, faults: list[Fault]) -> dict[str, str]:
        found = dict.fromkeys(("lot", "name", "supplier", "origin", "note", "shelf"), "")
        for key in found:
            heading = headings.own.get(key)
            cell = raw.cells.get(heading) if heading is not None else None
            if heading is not None and cell is not None and cell != "":
                found[key] = self._text(key, heading, cell, faults)
        return found

    def _text(self, key: str, heading: str, cell: Any, faults: list[Fault]) -> str:
        try:
            return plain_text(key, cell)
        except ColdspellError as error:
            faults.append(Fault(heading, error.what, error.mend))
            return ""

    def _said(self, raw: RawRow, headings: Headings, faults: list[Fault]) -> dict[str, Any]:
        """The facts that the row says; an empty cell says nothing."""
        said: dict[str, Any] = {}
        for heading, fact in headings.facts:
            cell = raw.cells.get(heading)
            if cell is None or cell == "" or cell != cell:
                continue
            try:
                said[fact.name] = as_said(fact, cell, self._form)
            except ColdspellError as error:
                faults.append(Fault(heading, error.what, error.mend))
        return said

    def _own(
        self,
        raw: RawRow,
        headings: Headings,
        said: dict[str, Any],
        texts: Mapping[str, str],
        faults: list[Fault],
    ) -> float | None:
        """Origin and grams, which are facts where they can be."""
        origin = texts["origin"].casefold()
        if origin in _ORIGIN.words:
            said["origin"] = origin
        elif near := nearest(origin, _ORIGIN.words) if origin else None:
            mend = f"write {near}; or say more of where it comes from"
            faults.append(Fault(headings.own["origin"], f"origin is nearly {near}: {origin[:40]!r}", mend))
        heading = headings.own.get("grams")
        cell = raw.cells.get(heading) if heading is not None else None
        if heading is None or cell is None or cell == "" or cell != cell:
            return None
        try:
            kilograms = check_fact("kilograms", as_said(FACTS["kilograms"], cell, self._form))
            grams = float(kilograms)
            if "seeds" not in said and "kilograms" not in said:
                said["kilograms"] = grams / 1000
            return grams
        except ColdspellError as error:
            what = error.what.replace("kilograms", "grams")
            faults.append(Fault(heading, what, error.mend.replace("kilograms", "grams")))
            return None

    def _with_defaults(self, said: Mapping[str, Any]) -> dict[str, Any]:
        if not self._defaults:
            return dict(said)
        barred = {rival for key in said for rival in self._rivals.get(key, ())}
        if said.get("refrigerator") == "none":
            barred.add("fridge_celsius")
        if "fridge_celsius" in said and self._defaults.get("refrigerator") == "none":
            barred.add("refrigerator")  # who measures a refrigerator has one
        if "southern" in said:
            barred.add("usual_frost")  # it belongs to the hemisphere of the default
        return {**{k: v for k, v in self._defaults.items() if k not in barred}, **said}

    def _by_column(self, said: Mapping[str, Any], headings: Headings) -> list[Fault]:
        """Which cells are at fault; none where each by itself is right."""
        faults = []
        for heading, fact in headings.facts:
            if fact.name in said:
                try:
                    check_fact(fact.name, said[fact.name])
                except ColdspellError as error:
                    faults.append(Fault(heading, error.what, error.mend))
        return faults

    def _refused(self, raw: RawRow, faults: Sequence[Fault], name: str = "", lot: str = "") -> Refused:
        return Refused(Place(self._file, raw.number), tuple(faults), raw.cells, name, lot)
