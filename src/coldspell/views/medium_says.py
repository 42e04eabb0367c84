"""What seed lies in, as one sentence: the form and what it is made of."""

from __future__ import annotations

from coldspell.write.recipe_work import Medium


def medium_says(medium: Medium) -> str:
    """The form of the medium and its material; seed alone lies in none."""
    says = f"{medium.says[0].upper()}{medium.says[1:]}"
    return f"{says}." if medium.material == "nothing" else f"{says}: {medium.material_says}."
