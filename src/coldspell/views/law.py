"""Notes on the law: those of the grower's place and of all countries, and what is noted for other places."""

from __future__ import annotations

from collections.abc import Iterator

from coldspell.lot.place import is_noted_for
from coldspell.texts import Texts
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import LawNote

_ABOUT = {
    "growing": "law_about_growing",
    "moving": "law_about_moving",
    "collecting": "law_about_collecting",
    "border": "law_about_border",
    None: "law_about_any",
}
_EVERYWHERE = ("cites", "everywhere", "worldwide", "international")


def law_lines(recipe: Recipe, texts: Texts) -> list[tuple[str, tuple[int, ...]]]:
    """Each line with its sources; a place is never named without what its note is about."""
    place = str(recipe.lot.said["place"] or "").casefold()
    here = [n for n in recipe.law if n.local or is_noted_for(place, n.place)]
    whole = [n for n in recipe.law if n in here or _is_everywhere(n)]
    lines = [(note.text, note.cites) for note in whole]
    if place and not here:
        said = str(recipe.lot.said["place"])
        lines.append((texts.say("law_none", place=said), ()))
    if not here:
        lines += _elsewhere([note for note in recipe.law if note not in whole], texts, told=bool(place))
    return lines


def _elsewhere(notes: list[LawNote], texts: Texts, *, told: bool) -> Iterator[tuple[str, tuple[int, ...]]]:
    """What may be restricted, and where, of each plant; then whom to ask."""
    places: dict[tuple[str | None, str], list[str]] = {}
    for note in notes:
        places.setdefault((note.about, note.whom), []).append(note.place)
    clauses: dict[str | None, str] = {}
    already: dict[str | None, set[str]] = {}
    for (about, whom), of in places.items():
        seen = already.setdefault(about, set())
        new = [place for place in _widest(of) if place not in seen]
        seen.update(of)
        if not new:  # named already for the plant itself
            continue
        named = "; ".join(_by_country(new))
        if about in clauses and about != "border":  # of another plant, the same
            more = texts.say("law_also", whom=whom, places=named)
            clauses[about] = clauses[about].removesuffix(".") + more
        elif about in clauses:
            clauses[about] += " " + texts.say(_ABOUT[about], whom=whom, places=named)
        else:
            clauses[about] = texts.say(_ABOUT[about], whom=whom, places=named)
    if clauses:
        yield " ".join([*clauses.values(), texts.say("law_ask_locally" if told else "law_ask")]), ()


def _widest(places: list[str]) -> list[str]:
    """Places, each once, without parts of one that is named as a whole, as "Exampleland (east)" is."""
    return [one for one in dict.fromkeys(places) if not any(one.startswith(f"{of} (") for of in places)]


def _by_country(places: list[str]) -> list[str]:
    """Parts of one country behind its name: California, USA and Arizona, USA as USA (California, Arizona)."""
    parts: dict[str, list[str]] = {}
    for place in places:
        part, _, country = place.rpartition(", ")
        parts.setdefault(country, []).extend([part] if part else [])
    told = {country: len(named) for country, named in parts.items()}
    return [
        f"{country} ({', '.join(named)})" if told[country] > 1 else ", ".join([*named, country])
        for country, named in parts.items()
    ]


def _is_everywhere(note: LawNote) -> bool:
    return note.place.casefold().startswith(_EVERYWHERE)
