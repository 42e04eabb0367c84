"""Where labels lie on a sheet of paper."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from coldspell.errors import ColdspellError

Sides = tuple[float, float]


class LabelSheet(Struct, frozen=True):
    """Where labels lie on a sheet: all in mm, width before height, left before top.

    ``margin`` is to the first label; ``None``: the labels are centred.
    """

    form: Literal["bag", "pot"] = "bag"
    label_mm: Sides = (70.0, 37.0)
    paper_mm: Sides = (210.0, 297.0)
    margin_mm: Sides | None = None
    gap_mm: Sides = (0.0, 0.0)

    @property
    def grid(self) -> tuple[int, int]:
        """Columns and rows of a sheet."""
        counts = []
        for side in (0, 1):
            margin = self.margin_mm[side] if self.margin_mm is not None else 0.0
            room = self.paper_mm[side] - margin + self.gap_mm[side]
            counts.append(int((room + 1e-6) // (self.label_mm[side] + self.gap_mm[side])))
        return counts[0], counts[1]

    @property
    def origin_mm(self) -> Sides:
        """Left and top edge of the first label."""
        if self.margin_mm is not None:
            return self.margin_mm
        left, top = (
            (self.paper_mm[i] - n * self.label_mm[i] - (n - 1) * self.gap_mm[i]) / 2
            for i, n in enumerate(self.grid)
        )
        return left, top

    def checked(self) -> LabelSheet:
        """The sheet, if a label has room on it.

        Raises
        ------
        ColdspellError
            No label fits on the paper, or it is too small to be read.
        """
        if min(self.grid) < 1:
            raise ColdspellError(
                f"a label of {self.label_mm[0]:g} × {self.label_mm[1]:g} mm does not fit on the paper",
                mend="--label WIDTHxHEIGHT, --label-paper WIDTHxHEIGHT in mm",
            )
        if self.label_mm[0] < 30 or self.label_mm[1] < 10:
            raise ColdspellError(
                "so small a label cannot be read", mend="at least 30x10 mm; for pots --label-form pot"
            )
        return self
