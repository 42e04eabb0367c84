"""One example of each key of a record, invented: for the reference of fields and new records.

Footnotes in them are called ``note``.
"""

from __future__ import annotations

EXAMPLES: dict[str, str] = {
    "schema": "schema: 2",
    "name": "name: Exemplum arboreum",
    "author": "author: L.",
    "family": "family: Exemplaceae",
    "rank": "rank: species",
    "taxon": "taxon: {wfo: wfo-0000000000, gbif: 1}",
    "common_names": "common_names: {en: [a name, another name]}",
    "synonyms": "synonyms: [Older name]",
    "plant": "plant: broadleaf tree",
    "unit": "unit: stone",
    "size": "size: small",
    "sold_as_food": "sold_as_food: true",
    "seed_mm": "seed_mm: {length: [7, 9], width: [6, 8], cite: note}",
    "seeds_per_kg": "seeds_per_kg: {value: [2800, 4240, 6040], cite: note}",
    "bulk": "bulk: {class: round, grams_per_litre: [600, 700], cite: note}",
    "handling": "handling: {one_layer: true, cite: note}",
    "filled_percent": "filled_percent: {value: [60, 90], cite: note}",
    "live_seed": "live_seed: {looks: brown and heavy, cut: white and firm, cite: note}",
    "storage": "storage: {behaviour: orthodox, years: 8, moisture_percent: [4, 6], cite: note}",
    "dormancy": "dormancy: {class: physiological, level: deep, cite: note}",
    "treatments": (
        "treatments:\n"
        "  - name: cold\n"
        "    when: {moisture: fresh}\n"
        "    steps:\n"
        "      - {do: soak, hours: [24, 48]}\n"
        "      - {do: cold_moist, days: [90, 120], celsius: [1, 5]}\n"
        "    hold: {days: 60, celsius: [0, 2], cite: note}\n"
        "    percent: [60, 80]\n"
        "    cite: note\n"
        "    because: Two tables agree."
    ),
    "not_used": (
        "not_used:\n"
        "  - {says: what another source says, cite: note, because: why it is not followed}"
    ),
    "germination": "germination: {celsius: [10, 26], light: indifferent, days: [14, 45], cite: note}",
    "emergence": "emergence: {days: [20, 40], celsius: [10, 18], cite: note}",
    "sowing": "sowing: {depth_mm: [5, 10], celsius_max: 20, cite: note}",
    "harvest": (
        "harvest: {months: [9, 11], signs: what is seen when it is ripe, cleaning: [remove_pulp], cite: note}"
    ),
    "killed_by": "killed_by: {moisture_percent_below: 3, frost_celsius: -3, cite: note}",
    "hazards": "hazards: [{kind: poison, to: people, part: seed, says: one plain line, cite: note}]",
    "offspring": "offspring: {true_to_type: no, use: rootstock, cite: note}",
    "law": (
        "law: [{place: Country, about: growing, says: what is regulated; ask locally, "
        "checked: 2026-01-31, cite: note}]"
    ),
    "asks": (
        "asks:\n"
        "  question: Did the seed ripen in spring or in autumn?\n"
        "  answers:\n"
        "    - {if: in spring, then: [Exemplum vernum], says: Sow at once.}\n"
        "    - {if: in autumn, says: Then it needs a winter.}"
    ),
    "accept": "accept: {thin-sourcing: nobody has published on it}",
    "cites": 'cites:\n  note: {source: bonner-karrfalt-2008, at: "Table 3, p. 882", basis: read}',
}  # fmt: skip


def commented(key: str) -> str:
    """Return the example of a key as comment lines."""
    return "\n".join(f"# {line}" for line in EXAMPLES[key].split("\n"))
