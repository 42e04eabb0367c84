"""What a picture of a lot in its medium is made from."""

from __future__ import annotations

from msgspec import Struct

from coldspell.texts import Texts
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Layout, Medium
from coldspell.write.units import Units, number, plural


class Lies(Struct, frozen=True):
    """A lot as it lies: layout, medium, one seed [mm], the word for one, the seeds of the lot."""

    layout: Layout
    medium: Medium
    seed_mm: tuple[float, ...]
    unit: str
    seeds: int
    texts: Texts
    units: Units

    def say(self, key: str, **values: object) -> str:
        """A sentence of the program."""
        return self.texts.say(key, **values)

    def length(self, millimetres: float) -> str:
        """A length in whole millimetres, from ten centimetres on in whole centimetres."""
        return self.units.length(round(millimetres, -1 if millimetres >= 100 else None))

    def counted(self, seeds: int) -> str:
        """So many seeds with their word."""
        return f"{number(seeds)} {plural(self.unit, seeds)}"

    @property
    def each(self) -> int:
        """Seeds in the fullest container."""
        return self.layout.per_container or 1

    @property
    def title(self) -> str:
        """How many containers there are, and how many seeds in each."""
        count = self.medium.containers or 1
        many = "" if count == 1 else "_many"
        thing = self.say(f"draw_{self.layout.shape}{many}")
        key = "draw_one" if count == 1 else "draw_many"
        return self.say(key, count=number(count), thing=thing, seeds=self.counted(self.each))


def lies_of(recipe: Recipe, texts: Texts) -> Lies | None:
    """How the lot of a recipe lies; ``None`` where it lies in nothing."""
    if recipe.layout is None or recipe.medium is None:
        return None
    return Lies(
        layout=recipe.layout,
        medium=recipe.medium,
        seed_mm=recipe.lot.seed_mm,
        unit=recipe.species.unit,
        seeds=int(str(recipe.lot.said["seeds"])),
        texts=texts,
        units=Units(recipe.units),
    )
