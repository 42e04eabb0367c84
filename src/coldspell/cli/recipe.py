"""``coldspell recipe NAME``: one seed lot in, one dated, sourced recipe out."""

# Without postponed annotations: typer would compile each of thirty anew at every start.

from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

Opt = typer.Option


def recipe(
    name: Annotated[str, typer.Argument(help="Botanical or common name, in any case.", show_default=False)],
    lot: Annotated[Path | None, Opt(help="File with the facts of the lot (YAML or JSON).")] = None,
    seeds: Annotated[str | None, Opt(help="How many seeds.")] = None,
    kilograms: Annotated[str | None, Opt(help="How many kilograms, instead of seeds.")] = None,
    moisture: Annotated[str | None, Opt(help="fresh (never dried) or dried.")] = None,
    stored_years: Annotated[str | None, Opt(help="Years in store.")] = None,
    collected: Annotated[str | None, Opt(help="Day it was gathered, 2026-10-12.")] = None,
    sow: Annotated[str | None, Opt(help="Day to sow.")] = None,
    last_frost: Annotated[str | None, Opt(help="Day of the last frost, instead of a sowing day.")] = None,
    today: Annotated[str | None, Opt(help="Day that counts as today.")] = None,
    southern: Annotated[bool, Opt("--southern", help="Southern hemisphere.")] = False,
    winter: Annotated[str | None, Opt(help="Your winters: cold, mild or none.")] = None,
    origin: Annotated[str | None, Opt(help="Seed from the north or south of its range.")] = None,
    shell: Annotated[str | None, Opt(help="husk, intact, cracked or kernel.")] = None,
    rooted: Annotated[str | None, Opt(help="How many show a root.")] = None,
    cut: Annotated[str | None, Opt(help="Cut test: sound of cut, 8/10.")] = None,
    float_: Annotated[str | None, Opt("--float", help="Float test: floated of tried, 3/40.")] = None,
    cold_days_done: Annotated[str | None, Opt(help="Days of moist cold it has had.")] = None,
    grow_in: Annotated[str | None, Opt(help="container, bed or site.")] = None,
    medium: Annotated[list[str] | None, Opt(help="Medium at hand; may be given more than once.")] = None,
    container: Annotated[str | None, Opt(help="Box inside, mm: 200x150x100.")] = None,
    bag: Annotated[str | None, Opt(help="Flat bag, mm: 270x280.")] = None,
    fridge_celsius: Annotated[str | None, Opt(help="Temperature where the bag will lie.")] = None,
    no_fridge: Annotated[bool, Opt("--no-fridge", help="There is no refrigerator.")] = False,
    want: Annotated[str | None, Opt(help="Plants wanted.")] = None,
    professional: Annotated[bool, Opt("--professional", help="Show methods for trained people.")] = False,
    units: Annotated[str | None, Opt(help="metric, us or both.")] = None,
    format_: Annotated[str, Opt("--format", help="text or json.")] = "text",
    why: Annotated[bool, Opt("--why", help="Show every rule that held.")] = False,
    why_not: Annotated[str | None, Opt(help="Why not this answer, for example towel_roll?")] = None,
    library: Annotated[list[Path] | None, Opt(help="Further library of records; may be repeated.")] = None,
) -> None:
    """Say what one seed lot needs, with dates, amounts and sources."""
    from coldspell.cli import ask

    said: dict[str, Any] = {
        "seeds": seeds,
        "kilograms": kilograms,
        "moisture": moisture,
        "stored_years": stored_years,
        "collected": collected,
        "sow": sow,
        "last_frost": last_frost,
        "southern": southern or None,
        "winter": winter,
        "origin": origin,
        "shell": shell,
        "rooted": rooted,
        "cut": cut,
        "float": float_,
        "cold_days_done": cold_days_done,
        "grow_in": grow_in,
        "medium": medium or None,
        "container": container,
        "bag": bag,
        "fridge_celsius": fridge_celsius,
        "refrigerator": "none" if no_fridge else None,
        "want": want,
        "professional": professional or None,
        "units": units,
    }
    ask.run(name, lot, said, today or date.today(), format_, why, why_not, library or [])
