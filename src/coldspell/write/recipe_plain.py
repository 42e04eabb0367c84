"""What the kinds of values in a recipe are made of, without their units, forms and closed words.

All that making a recipe, or reading one back, needs: :mod:`coldspell.write.recipe_kinds` and what it takes in
cost a start some milliseconds.
"""

from __future__ import annotations

Range = tuple[float, float | None, float]
"""Low, usual, high; the usual value is ``None`` where the source has none."""
PlantsRange = tuple[float, float, float]
"""The fewest and the most nine times in ten, and the middle."""

CelsiusRange = DaysRange = MillimetresRange = Range
Celsius = Grams = Litres = Millimetres = float
Count = Counted = DayNumber = Days = Version = int
Lengths = tuple[float, ...]
Cites = DayNumbers = tuple[int, ...]
Millilitres, Points = tuple[float, float], tuple[tuple[float, float], ...]
ArmKind = KnownBy = Wants = str
Basis = Behaviour = Constraint = Day = Do = DormancyClass = Into = LawAbout = Material = str
Need = Packs = str
Pattern = Plant = Rank = Shape = Status = Timings = Unit = Units = Until = str
