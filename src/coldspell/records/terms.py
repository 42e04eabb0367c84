"""The closed lists of words in a species record, each with what it means.

A list and its meanings stand together; the schema cannot be made when one has a word that the other lacks.
The words of ``do`` are in :mod:`coldspell.records.do`.
"""

from typing import Any, Literal

from coldspell.records.do import DO, Do

Version = Literal[1, 2]
VERSION: dict[Version, str] = {
    1: "The first format; read when the key is absent.",
    2: "Has taxon, sold_as_food, live_seed, bulk, handling, emergence, test_days and more besides.",
}

Rank = Literal["species", "subspecies", "variety", "hybrid", "genus"]
RANK: dict[Rank, str] = {
    "species": "A species.",
    "subspecies": "A subspecies (subsp.).",
    "variety": "A variety (var.), not a cultivar.",
    "hybrid": "A named hybrid (×).",
    "genus": "A genus: fills in what the records of its species leave out, or asks which species it is.",
}

Plant = Literal[
    "nut tree", "fruit tree", "broadleaf tree", "conifer", "shrub", "vine", "perennial", "annual", "grass",
    "palm", "cycad",
]  # fmt: skip
PLANT: dict[Plant, str] = {
    "nut tree": "A tree with large seed in a shell or cup: oak, walnut, chestnut.",
    "fruit tree": "A tree of the pome, stone and other fruits, its wild kin included.",
    "broadleaf tree": "Any other broad-leaved tree.",
    "conifer": "A conifer, or a tree handled like one (ginkgo, yew).",
    "shrub": "Woody, many stems.",
    "vine": "Climbing, woody or not.",
    "perennial": "Not woody, lives for years.",
    "annual": "Lives one or two seasons.",
    "grass": "A grass, sedge or rush.",
    "palm": "A palm.",
    "cycad": "A cycad.",
}

Unit = Literal[
    "nut", "acorn", "stone", "pip", "samara", "seed", "achene", "nutlet", "grain", "berry", "fruit",
    "spore",
]
UNIT: dict[Unit, str] = {
    "nut": "A whole nut in its shell.",
    "acorn": "An acorn without its cup.",
    "stone": "A stone: the hard shell with the kernel inside.",
    "pip": "A pip of a pome or berry.",
    "samara": "A winged fruit.",
    "seed": "A true seed.",
    "achene": "A small dry fruit with one seed.",
    "nutlet": "A small nut.",
    "grain": "A grain of a grass.",
    "berry": "A whole berry, sown with its flesh dried on.",
    "fruit": "Another whole fruit.",
    "spore": "A spore of a fern: dust, which nobody counts.",
}

Size = Literal["fine", "small", "medium", "large"]
SIZE: dict[Size, str] = {
    "fine": "Under 2 mm: like dust or grit.",
    "small": "2 to 10 mm: handled in a towel.",
    "medium": "5 to 15 mm: sieved out of a medium, or in a pouch.",
    "large": "Laid one by one.",
}

Behaviour = Literal["orthodox", "intermediate", "recalcitrant"]
BEHAVIOUR: dict[Behaviour, str] = {
    "orthodox": "Can be dried to 5 % moisture and frozen, and lives for years.",
    "intermediate": "Bears drying to 10 or 12 % moisture, but no further, nor a freezer when dry.",
    "recalcitrant": "Dies when it dries; is kept moist and cool and soon sown.",
}

DormancyClass = Literal[
    "none", "physiological", "morphological", "morphophysiological", "physical", "combinational"
]
DORMANCY_CLASS: dict[DormancyClass, str] = {
    "none": "Sprouts as soon as it is moist and warm enough.",
    "physiological": "The embryo is held back; cold, warmth or after-ripening ends it.",
    "morphological": "The embryo is not grown out and only needs time, moist and warm.",
    "morphophysiological": "The embryo is not grown out and is held back besides.",
    "physical": "The coat keeps water out until it is opened.",
    "combinational": "The coat keeps water out, and the embryo is held back besides.",
}

DormancyLevel = Literal["nondeep", "intermediate", "deep"]
DORMANCY_LEVEL: dict[DormancyLevel, str] = {
    "nondeep": "A short cold, some warmth, dry storage or gibberellic acid ends it.",
    "intermediate": "Weeks to months of cold; an embryo taken out grows.",
    "deep": "Three to four months of cold or more; an embryo taken out does not grow well.",
}

Need = Literal["required", "optional"]
NEED: dict[Need, str] = {
    "required": "Without it little or nothing sprouts (this is meant when the key is absent).",
    "optional": "The seed also sprouts without it; it makes it faster, more even or more.",
}

Until = Literal["ready", "rooted", "sprouted"]
UNTIL: dict[Until, str] = {
    "ready": "The days end with seed that is ready to sow (this is meant when the key is absent).",
    "rooted": "The days end with roots to be seen.",
    "sprouted": "The days end with shoots to be seen.",
}

TestLight = Literal["required", "helpful", "indifferent", "inhibits"]
TEST_LIGHT: dict[TestLight, str] = {
    "required": "Does not germinate in the dark.",
    "helpful": "Germinates better or faster in light.",
    "indifferent": "Light makes no difference.",
    "inhibits": "Germinates better in the dark.",
}

SowLight = Literal["cover", "surface"]
SOW_LIGHT: dict[SowLight, str] = {
    "cover": "Covered with soil or grit.",
    "surface": "Sown on the surface and not covered.",
}

SownIn = Literal["early", "spring", "summer", "autumn", "either"]
SOWN_IN: dict[SownIn, str] = {
    "early": "Indoors, two months and more before the last frost: what frost kills and is long in fruit.",
    "spring": "In spring.",
    "summer": "From late spring to midsummer, to flower the year after.",
    "autumn": "In autumn; small plants stand the winter.",
    "either": "In autumn or in spring.",
}

Laid = Literal["broad_end_down"]
LAID: dict[Laid, str] = {
    "broad_end_down": "Upright, the broad end down and the tip at the surface.",
}

ColdCounted = Literal["narrow", "wide"]
COLD_COUNTED: dict[ColdCounted, str] = {
    "narrow": "Nothing counts above about 9 °C, as measured in two crab apples.",
    "wide": "The colder the better, and some to about 16 °C, as measured in horse-chestnut.",
}

Ground = Literal["wet", "water"]
GROUND: dict[Ground, str] = {
    "wet": "Mud, bog, or a pot that stands in water.",
    "water": "Mud under some centimetres of water.",
}

Cleaning = Literal["clean", "remove_pulp", "remove_husk", "remove_wings", "ferment", "crack_shell"]
CLEANING: dict[Cleaning, str] = {
    "clean": DO["clean"].says,
    "remove_pulp": DO["remove_pulp"].says,
    "remove_husk": DO["remove_husk"].says,
    "remove_wings": DO["remove_wings"].says,
    "ferment": DO["ferment"].says,
    "crack_shell": DO["crack_shell"].says,
}

HazardKind = Literal[
    "cyanide", "poison", "skin", "allergy", "dust", "infection", "stains", "choking", "look_alike"
]
HAZARD_KIND: dict[HazardKind, str] = {
    "cyanide": "Gives off hydrogen cyanide when it is crushed or chewed.",
    "poison": "Poisonous when eaten.",
    "skin": "Burns, blisters or irritates skin or eyes.",
    "allergy": "Sets off allergies.",
    "dust": "Dust that harms when it is breathed in.",
    "infection": "Carries germs that make ill.",
    "stains": "Stains skin and cloth.",
    "choking": "A child or animal may choke on it.",
    "look_alike": "Is taken for something that is eaten, or for a harmless plant.",
}

NO_FOOD: frozenset[HazardKind] = frozenset({"cyanide", "poison", "infection"})
"""Kinds of hazard that lie in eating it."""

HazardTo = Literal["people", "animals"]
HAZARD_TO: dict[HazardTo, str] = {"people": "People.", "animals": "Pets or livestock."}

BulkClass = Literal["round", "flat", "winged", "plumed", "chaffy", "dust"]
BULK_CLASS: dict[BulkClass, str] = {
    "round": "Rolls and pours: acorns, stones, peas.",
    "flat": "Lies flat and packs closely: discs and scales without a wing.",
    "winged": "Has a wing that keeps the seeds apart.",
    "plumed": "Has hairs or a plume: fluffy, hardly pours.",
    "chaffy": "Mixed with bracts, awns or chaff that cannot be cleaned off.",
    "dust": "Too fine to be seen one by one.",
}

TrueToType = Literal["yes", "no", "nearly", "varies"]
TRUE_TO_TYPE: dict[TrueToType, str] = {
    "yes": "Seedlings are like the parent.",
    "no": "Seedlings differ from the parent: no named variety comes from seed.",
    "nearly": "Most seedlings are like the parent.",
    "varies": "It depends on the parent or on what pollinated it.",
}

OffspringUse = Literal["rootstock", "tree", "plant"]
OFFSPRING_USE: dict[OffspringUse, str] = {
    "rootstock": "Raised to be grafted.",
    "tree": "Grown on as a tree.",
    "plant": "Grown on as it is.",
}

Sexes = Literal["separate", "together", "mostly separate"]
SEXES: dict[Sexes, str] = {
    "separate": "Male and female plants: only females bear, and seedlings are of either sex.",
    "together": "Each plant has both sexes.",
    "mostly separate": "Male and female plants, with some that have both.",
}

Basis = Literal["read", "recalled", "practice"]
BASIS: dict[Basis, str] = {
    "read": "The value stood in that source's text, and was read there.",
    "recalled": "From memory of that source; nobody looked.",
    "practice": "Common practice of the trade; nobody in particular says so.",
}

LawAbout = Literal["growing", "moving", "collecting", "border"]
LAW_ABOUT: dict[LawAbout, str] = {
    "growing": "Sowing, growing, keeping or selling it, or letting it spread.",
    "moving": "Moving its seed, plants or wood from place to place.",
    "collecting": "Collecting its seed in the wild.",
    "border": "Carrying its seed or plants over a border.",
}

MEANINGS: dict[Any, dict[Any, str]] = {
    Version: VERSION, Rank: RANK, Plant: PLANT, Unit: UNIT, Size: SIZE, Behaviour: BEHAVIOUR,
    DormancyClass: DORMANCY_CLASS, DormancyLevel: DORMANCY_LEVEL, Need: NEED, Until: UNTIL,
    TestLight: TEST_LIGHT, SowLight: SOW_LIGHT, SownIn: SOWN_IN, Ground: GROUND, Laid: LAID,
    Cleaning: CLEANING, ColdCounted: COLD_COUNTED,
    HazardKind: HAZARD_KIND, HazardTo: HAZARD_TO, BulkClass: BULK_CLASS, TrueToType: TRUE_TO_TYPE,
    OffspringUse: OFFSPRING_USE,
    Sexes: SEXES, Basis: BASIS, LawAbout: LAW_ABOUT, Do: {do: word.meaning for do, word in DO.items()},
}  # fmt: skip
"""What each word means, by the list it belongs to."""
