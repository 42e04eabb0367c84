"""The recipe as one page that a grower reads once and does; ``--full`` prints the rest."""

from __future__ import annotations

from collections.abc import Iterable

from coldspell.texts import Texts
from coldspell.views.layout import KEPT, in_ascii, labelled, paragraph
from coldspell.views.short import Row, Short, short_page
from coldspell.views.short_trial import ShortTrial
from coldspell.write.recipe import Recipe

_LABEL = 11
_LOOK = 20
_DAYS, _READ = 18, 30


def render(recipe: Recipe, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width, ending with a newline."""
    return laid_out(short_page(recipe, texts), texts, width, ascii_only=ascii_only)


def laid_out(said: Short, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """What a short page says, wrapped to a width."""
    width = max(32, min(width, 110))
    return _Page(said, texts, width, ascii_only=ascii_only).text()


class _Page:
    """One page being laid out."""

    def __init__(self, said: Short, texts: Texts, width: int, *, ascii_only: bool) -> None:
        self.said, self.texts, self.width, self.ascii_only = said, texts, width, ascii_only

    def text(self) -> str:
        """The whole page."""
        said = self.said
        rows = self._rows(said.lines, _LABEL)
        plan = [self._verdict(), self._asked(), self._rows(said.needs, _LABEL), self._steps()]
        blocks = [
            self._head(),
            *([*plan, [*self._looks(), *rows]] if said.trial is None else [*self._trial(said.trial), rows]),
            self._paragraph(said.sources) if said.sources else [],
        ]
        return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"

    def _paragraph(self, text: str, indent: int = 0, first: str | None = None) -> list[str]:
        """A text wrapped to the width; spelled in ASCII before, since some signs take more room then."""
        return paragraph(self._signs(text), self.width, indent, None if first is None else self._signs(first))

    def _rows(self, rows: Iterable[Row], indent: int) -> list[str]:
        """Labels with their texts in one column."""
        return labelled(((self._signs(a), self._signs(b)) for a, b in rows), self.width, indent)

    def _signs(self, text: str) -> str:
        return in_ascii(text) if self.ascii_only else text

    def _head(self) -> list[str]:
        said = self.said
        called = self._paragraph(said.called) if said.called else []
        if not said.lot:
            return [*self._paragraph(said.title), *self._paragraph(said.printed), *called]
        title, lot = self._signs(said.title), self._signs(said.lot)
        gap = self.width - len(title) - len(lot)
        head = [f"{title}{' ' * gap}{lot}"] if gap >= 2 else self._paragraph(f"{title}: {lot}")
        return [*head, *self._paragraph(said.printed), *called]

    def _verdict(self) -> list[str]:
        said = self.said
        lines = self._paragraph(said.sentence)
        if said.notes:
            lines += self._paragraph(said.notes)
        cells = (cell.replace(" ", KEPT) for cell in said.band)
        band = self._paragraph(self.texts.say("band_gap").join(cells), 1) if said.band else []
        return [*lines, "", *band] if band else lines

    def _asked(self) -> list[str]:
        lines: list[str] = []
        for choice in self.said.choices:
            lines += self._paragraph(choice.text, 4, "  •")
            if choice.then:
                lines += self._paragraph(choice.then, 6)
        return [*lines, "", *self._paragraph(self.said.otherwise)] if self.said.otherwise else lines

    def _trial(self, trial: ShortTrial) -> list[list[str]]:
        """What would harm it, the parts, and what their outcome means."""
        say = self.texts.say
        blocks = [[*self._paragraph(trial.sentence), *self._paragraph(trial.size)], self._asked()]
        blocks.append(self._rows(trial.first, _LABEL))
        for part in trial.parts:
            rows = [(f"   {when}", text) for when, text in part.steps]
            column = max(_DAYS, *(len(when) + 2 for when, _ in rows)) if rows else _DAYS
            blocks.append([*self._rows([(part.letter, part.head)], 3), *self._rows(rows, column)])
        head = self._rows([(say("read_label"), say("read_head"))], _LABEL)
        rows = [(f"  {look_for}", then) for look_for, then in trial.readings]
        return [*blocks, [*head, *self._rows(rows, _READ)]]

    def _steps(self) -> list[str]:
        said = self.said
        labels = [f"{step.number} {step.when}" for step in said.steps]
        column = max(_LABEL, *(len(label) + 2 for label in labels)) if labels else _LABEL
        lines: list[str] = []
        for label, step in zip(labels, said.steps, strict=True):
            lines += self._rows([(label, step.text)], column)
        return lines + self._rows(said.kept, column)

    def _looks(self) -> list[str]:
        looks = self.said.looks
        if looks is None:
            return []
        lines = self._rows([(self.texts.say("look_head"), looks.when)], _LABEL)
        return lines + self._rows([(f"  {name}", then) for name, then in looks.rows], _LOOK)
