"""``coldspell count``: seeds, plants, containers, beds and cells as numbers."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from coldspell.arithmetic import plants, samples, sowing, water
from coldspell.arithmetic.containers import Filling, fill
from coldspell.arithmetic.vessels import Bag, Box, Container, Tub
from coldspell.cli import dates, output
from coldspell.cli.output import Form
from coldspell.cli.practice import shipped_practice
from coldspell.errors import ColdspellError
from coldspell.typed import read_millimetres, read_percent, read_share

app = typer.Typer(no_args_is_help=True, help="Seeds, plants, containers, beds, cells, moisture, bleach.")

app.command("dates")(dates.command)

Format = Annotated[Form, typer.Option("--format", help="text or json")]
Percent = Annotated[str | None, typer.Option(help="percent, one number or a range as 70-90")]


@app.command("plants")
def count_plants(
    want: Annotated[int | None, typer.Option(help="plants wanted: how many seeds to start?")] = None,
    seeds: Annotated[int | None, typer.Option(help="seeds at hand: how many plants to expect?")] = None,
    sure: Annotated[float, typer.Option(help="how sure, percent")] = 90.0,
    cut: Annotated[str | None, typer.Option(help="sound of cut, as 8/10")] = None,
    filled: Percent = None,
    germination: Percent = None,
    survival: Percent = None,
    form: Format = Form.text,
) -> None:
    """Seeds to start for the plants wanted, or plants to expect of the seeds at hand."""
    if (want is None) == (seeds is None):
        raise ColdspellError(
            "say either --want or --seeds", mend="as --want 20 --cut 8/10 --germination 70-85"
        )
    stages = _stages(cut, filled, germination, survival)
    share = plants.product(*(stage for _, stage in stages))
    rows = [(name, output.percent(stage.mean)) for name, stage in stages]
    rows.append(("seeds that become plants", output.percent(share.mean)))
    values: dict[str, Any] = {"share": share.mean, "stages": {name: stage.mean for name, stage in stages}}
    if want is not None:
        needed = plants.seeds_for_plants(want, sure / 100, share)
        rows.insert(0, ("seeds to start", f"{needed}, for at least {want} plants with {sure:g} % certainty"))
        values |= {"want": want, "sure_percent": sure, "seeds": needed}
        seeds = needed
    assert seeds is not None
    if seeds > plants.MOST_SEEDS:
        raise ColdspellError(f"{seeds} seeds are more than can be counted", mend="check the number")
    expected = plants.plants_expected(seeds, share, sure / 100)
    rows.insert(1 if want is not None else 0, ("plants to expect", _expected_text(expected)))
    values |= {"seeds": seeds, "expected": expected}
    notes = [] if cut else ["A cut test of ten seeds or more makes this surer: say --cut K/N."]
    output.answer(form, "count-plants", values, rows, notes)


def _stages(
    cut: str | None, filled: str | None, germination: str | None, survival: str | None
) -> list[tuple[str, plants.Share]]:
    stages = []
    if cut is not None and filled is not None:
        raise ColdspellError("--cut and --filled say the same twice", mend="leave --filled out")
    if cut is not None:
        stages.append(("sound when cut", plants.tested_share(*read_share("--cut", cut))))
    for name, given in (("filled", filled), ("sprouting", germination), ("surviving", survival)):
        if given is not None:
            option = {"filled": "--filled", "sprouting": "--germination", "surviving": "--survival"}[name]
            stages.append((name, plants.range_share(*read_percent(option, given))))
    if not stages:
        raise ColdspellError(
            "nothing is said of the seed", mend="say --cut, --filled, --germination, --survival"
        )
    return stages


def _expected_text(expected: plants.Expectation) -> str:
    sure = f"{100 * expected.level:g} %"
    return f"about {output.number(expected.mean)} ({expected.low} to {expected.high} with {sure} certainty)"


@app.command("cut")
def count_cut(
    result: Annotated[str | None, typer.Argument(help="sound of cut, as 8/10")] = None,
    claim: Annotated[float | None, typer.Option(help="percent sound to be shown: how many to cut?")] = None,
    level: Annotated[float, typer.Option(help="confidence, percent")] = 95.0,
    form: Format = Form.text,
) -> None:
    """What a cut or germination test of this size can tell, or how many seeds to cut for a claim."""
    if (result is None) == (claim is None):
        raise ColdspellError("say either a result or --claim", mend="as 8/10, or --claim 90")
    if result is not None:
        values, rows = _cut_result(*read_share("the result", result), level)
    else:
        needed = samples.seeds_to_test((claim or 0) / 100, level / 100)
        values = {"claim_percent": claim, "level_percent": level, "seeds": needed}
        rows = [("cut", f"{needed}, all of them sound: at least {claim:g} %, with {level:g} % confidence")]
    notes = ["Take the seeds at random: floating or picking first makes the number too good or too bad."]
    output.answer(form, "count-cut", values, rows, notes)


def _cut_result(sound: int, tested: int, level: float) -> tuple[dict[str, Any], list[output.Row]]:
    low, high = samples.clopper_pearson(sound, tested, level / 100)
    if not tested <= 1_000_000:
        raise ColdspellError(f"{tested} seeds tested is more than anybody cuts", mend="check the number")
    wide = samples.margin(tested, 0.5, level / 100)
    rows = [
        ("sound", output.percent(sound / tested)),
        ("in the lot", f"{output.percent(low)} to {output.percent(high)}, with {level:g} % confidence"),
        ("at the widest", f"a test of {tested} is good to {output.number(100 * wide, 2)} points either way"),
    ]
    values: dict[str, Any] = {"sound": sound, "tested": tested, "level_percent": level}
    values |= {"low": low, "high": high, "margin": wide}
    if sound == tested:
        least = samples.least_share_if_all_sound(tested, level / 100)
        values["at_least"] = least
        rows.insert(2, ("may be claimed", f"at least {output.percent(least)}, since all were sound"))
    return values, rows


@app.command("seeds")
def count_seeds(
    seeds_per_kg: Annotated[float | None, typer.Option(help="seeds in a kilogram")] = None,
    thousand_grams: Annotated[float | None, typer.Option(help="or the weight of a thousand seeds")] = None,
    kilograms: Annotated[float | None, typer.Option(help="mass at hand")] = None,
    seeds: Annotated[float | None, typer.Option(help="seeds wanted")] = None,
    purity: Annotated[float, typer.Option(help="percent of the mass that is seed")] = 100.0,
    form: Format = Form.text,
) -> None:
    """Seeds in a mass, or the mass that holds so many seeds."""
    if (kilograms is None) == (seeds is None):
        raise ColdspellError("say either --kilograms or --seeds", mend="as: --seeds 500 --seeds-per-kg 2800")
    if thousand_grams is not None and seeds_per_kg is None:
        seeds_per_kg = sowing.seeds_per_kg_from_thousand(thousand_grams)
    elif seeds_per_kg is None or thousand_grams is not None:
        raise ColdspellError(
            "say either --seeds-per-kg or --thousand-grams",
            mend="as: --seeds-per-kg 2800, or --thousand-grams 350",
        )
    if kilograms is not None:
        seeds = sowing.seeds_in(kilograms, seeds_per_kg, purity)
    else:
        assert seeds is not None
        kilograms = sowing.kilograms_of(seeds, seeds_per_kg, purity)
    rows = [("seeds", output.number(seeds)), ("kilograms", output.number(kilograms))]
    output.answer(form, "count-seeds", {"seeds": seeds, "kilograms": kilograms}, rows)


@app.command("live")
def count_live(
    purity: Annotated[float, typer.Option(help="percent of the mass that is seed")],
    germination: Annotated[float, typer.Option(help="percent of the seed that sprouts")],
    kilograms: Annotated[float, typer.Option(help="pure live seed wanted")] = 1.0,
    form: Format = Form.text,
) -> None:
    """Pure live seed, and how much to weigh out for it."""
    live = sowing.pure_live_seed_percent(purity, germination)
    bulk = sowing.bulk_for_pure_live_seed(kilograms, purity, germination)
    rows = [
        ("pure live seed", f"{output.number(live, 4)} % of the mass"),
        ("weigh out", f"{output.number(bulk, 4)} kg for {kilograms:g} kg of pure live seed"),
    ]
    notes = ["Hard and dormant seed is not in the germination figure: ask whether the label added it."]
    output.answer(form, "count-live", {"pure_live_seed_percent": live, "kilograms": bulk}, rows, notes)


@app.command("bed")
def count_bed(
    area: Annotated[float, typer.Option(help="square metres")],
    germination: Annotated[float, typer.Option(help="percent")],
    density: Annotated[float | None, typer.Option(help="plants wanted a square metre")] = None,
    rows_mm: Annotated[str | None, typer.Option(help="or rows apart x plants apart, as 150x50")] = None,
    survival: Annotated[float, typer.Option(help="seedlings that become plants, percent")] = 100.0,
    purity: Annotated[float, typer.Option(help="percent of the mass that is seed")] = 100.0,
    seeds_per_kg: Annotated[float | None, typer.Option(help="seeds in a kilogram")] = None,
    form: Format = Form.text,
) -> None:
    """Seed to sow on a bed."""
    if (density is None) == (rows_mm is None):
        raise ColdspellError("say either --density or --rows-mm", mend="as --density 60, or --rows-mm 150x50")
    if density is None:
        row, apart = read_millimetres("--rows-mm", rows_mm or "", 2)
        density = sowing.density_per_m2(row, apart)
    each = sowing.sowing_per_m2(density, germination, survival)
    values: dict[str, Any] = {"plants": area * density, "seeds_per_m2": each, "seeds": each * area}
    rows = [
        ("plants", output.number(area * density)),
        ("sow", f"{output.number(each)} seeds a square metre, {output.number(each * area)} in all"),
    ]
    if seeds_per_kg is not None:
        mass = sowing.bed_kilograms(area, density, seeds_per_kg, purity, germination, survival)
        values["kilograms"] = mass
        rows.append(("mass", f"{output.number(mass)} kg"))
    output.answer(form, "count-bed", values, rows)


@app.command("cells")
def count_cells(
    germination: Annotated[float, typer.Option(help="percent")],
    filled: Annotated[float, typer.Option(help="cells to be filled, percent")] = 95.0,
    cells: Annotated[int, typer.Option(help="cells or spots")] = 100,
    form: Format = Form.text,
) -> None:
    """Seeds for each cell or spot."""
    chance = germination / 100
    each = sowing.seeds_per_cell(filled / 100, chance)
    full, crowded = sowing.filled_share(chance, each), sowing.crowded_share(chance, each)
    rows = [
        ("seeds a cell", f"{each}, {each * cells} in all"),
        ("filled", output.percent(full)),
        ("to thin", f"{output.percent(crowded)} hold two plants or more"),
    ]
    values = {"seeds_per_cell": each, "seeds": each * cells, "filled": full, "crowded": crowded}
    output.answer(form, "count-cells", values, rows)


@app.command("pack")
def count_pack(
    seeds: Annotated[int, typer.Option(help="seeds")],
    seed_mm: Annotated[float, typer.Option(help="width of a seed")],
    bag: Annotated[str | None, typer.Option(help="flat bag, as 270x280")] = None,
    box: Annotated[str | None, typer.Option(help="box inside, as 300x200x120")] = None,
    tub: Annotated[str | None, typer.Option(help="round tub inside, as 190x150 (across, high)")] = None,
    gap_mm: Annotated[float, typer.Option(help="edge to edge")] = 25.0,
    medium_mm: Annotated[float, typer.Option(help="medium under, between and over, 25-50")] = 25.0,
    material: Annotated[str, typer.Option(help="medium, for the water")] = "vermiculite",
    form: Format = Form.text,
) -> None:
    """Bags, boxes or tubs for moist seed: layers, litres of medium, water."""
    packing = shipped_practice().packing
    filling = fill(seeds, seed_mm, _container(bag, box, tub), packing, gap_mm=gap_mm, medium_mm=medium_mm)
    low, high = water.water_ml(material, filling.medium_litres)
    rows = [
        ("containers", f"{filling.containers}, {filling.per_container} seeds in the fullest"),
        *_how(filling),
    ]
    rows.append(("medium", f"{output.number(filling.medium_litres)} litres of {material} in all"))
    rows.append(("water", f"{output.number(low)} to {output.number(high)} ml in all, for dry-ish medium"))
    values = {"filling": filling, "water_ml": (low, high)}
    notes = ["The squeeze test decides: a hard squeeze holds its shape and gives no more than two drops."]
    output.answer(form, "count-pack", values, rows, notes)


def _container(bag: str | None, box: str | None, tub: str | None) -> Container:
    if sum(given is not None for given in (bag, box, tub)) != 1:
        raise ColdspellError("say one of --bag, --box and --tub", mend="as --bag 270x280")
    if bag is not None:
        return Bag(*read_millimetres("--bag", bag, 2))
    if box is not None:
        return Box(*read_millimetres("--box", box, 3))
    return Tub(*read_millimetres("--tub", tub or "", 2))


def _how(filling: Filling) -> list[output.Row]:
    depth = f"{filling.depth_mm:.0f} mm deep"
    if filling.method == "volume":
        return [("mix", f"seed and medium together, {depth}: too many to lay one by one")]
    layers = " + ".join(str(n) for n in filling.layer_counts(0))
    pattern = filling.pattern.kind if filling.pattern else ""
    return [
        ("layers", f"{filling.layers} ({layers} seeds), {depth} with medium under, between and over"),
        ("apart", f"{filling.pitch_mm:.0f} mm from middle to middle, {pattern}"),
    ]


@app.command("towels")
def count_towels(
    seeds: Annotated[int, typer.Option(help="seeds")],
    seed_mm: Annotated[float, typer.Option(help="width of a seed")] = 5.0,
    form: Format = Form.text,
) -> None:
    """Paper towels, rolls and water for small seed."""
    sheet = shipped_practice().sheet
    found = water.towels(seeds, seed_mm, sheet)
    low, high = found.water_ml
    rows = [
        ("sheets", f"{found.sheets}, {found.seeds_per_sheet} seeds along the fold of each"),
        ("rolls", f"{found.rolls}, of {sheet.per_roll} sheets at most"),
        ("water", f"{low:g} to {high:g} ml in all ({sheet.water_ml[0]:g} to {sheet.water_ml[1]:g} a sheet)"),
    ]
    output.answer(form, "count-towels", {"towels": found}, rows)


@app.command("moisture")
def count_moisture(
    wet: Annotated[float | None, typer.Option("--wet-basis", help="percent of the fresh weight")] = None,
    dry: Annotated[float | None, typer.Option("--dry-basis", help="percent of the dry weight")] = None,
    fresh_grams: Annotated[float | None, typer.Option(help="or a sample weighed fresh")] = None,
    dry_grams: Annotated[float | None, typer.Option(help="and after the oven")] = None,
    form: Format = Form.text,
) -> None:
    """Moisture of seed by fresh and by dry weight: sources give one or the other."""
    given = [wet, dry, fresh_grams]
    if sum(each is not None for each in given) != 1 or (fresh_grams is None) != (dry_grams is None):
        raise ColdspellError(
            "say one of --wet-basis, --dry-basis, and --fresh-grams with --dry-grams",
            mend="as --dry-basis 43",
        )
    if fresh_grams is not None and dry_grams is not None:
        wet = water.moisture_percent(fresh_grams, dry_grams)
    if wet is None:
        wet = water.wet_basis_percent(dry or 0.0)
    if dry is None:
        dry = water.dry_basis_percent(wet)
    rows = [
        ("wet basis", f"{output.number(wet)} % of the fresh weight"),
        ("dry basis", f"{output.number(dry)} % of the dry weight"),
    ]
    notes = ["Ask which of the two a source means before you dry seed down to its figure."]
    output.answer(form, "count-moisture", {"wet_basis_percent": wet, "dry_basis_percent": dry}, rows, notes)


@app.command("bleach")
def count_bleach(
    label: Annotated[float, typer.Option(help="hypochlorite on the label, percent")],
    percent: Annotated[float, typer.Option(help="hypochlorite wanted in the bath, percent")] = 0.25,
    litres: Annotated[float, typer.Option(help="water")] = 1.0,
    form: Format = Form.text,
) -> None:
    """Household bleach for a bath that frees seed of mould."""
    if not 0 < litres <= 10_000:
        raise ColdspellError(f"--litres {litres:g} cannot be", mend="give the litres of water")
    bleach = water.bleach_ml_per_litre(label, percent) * litres
    rows = [("bleach", f"{output.number(bleach)} ml into {litres:g} l of water: {percent:g} %")]
    values = {"bleach_ml": bleach, "litres": litres, "percent": percent, "label_percent": label}
    notes = [
        "Plain bleach only; never with vinegar, another acid or ammonia: the gas is poisonous. Gloves, "
        "goggles, open window; bleach into water, not water into bleach. Rinse the seed well.",
        "The label and local law come first. Old bleach is weaker than its label says.",
    ]
    output.answer(form, "count-bleach", values, rows, notes)
