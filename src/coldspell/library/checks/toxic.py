"""Plants whose seed or seedlings are known to be dangerous, with what they do.

Sources: Canadian Poisonous Plants Information System (``cppis``), Nelson, Shih & Balick 2007
(``nelson-shih-balick-2007``) and the veterinary sources under ``species/bibliography.yaml`` for most;
Arum, Brugmansia, Colchicum, Heracleum, Anacardium and Mangifera from common knowledge of the trade. The list
only asks that a record says something; what it says carries its own footnote.
"""

from __future__ import annotations

TOXIC_GENERA: dict[str, str] = {
    "Abrus": "seed deadly to people",
    "Aconitum": "whole plant deadly",
    "Actaea": "berries and seed poisonous",
    "Aesculus": "seed poisonous to people and animals",
    "Anacardium": "shell burns the skin",
    "Arisaema": "raw parts burn mouth and skin",
    "Arum": "berries burn the mouth",
    "Brugmansia": "seed poisonous to people",
    "Caulophyllum": "berries and roots poisonous",
    "Colchicum": "seed deadly to people",
    "Convallaria": "whole plant poisonous to the heart",
    "Cycas": "seed poisonous to people and animals",
    "Cydonia": "kernels give off cyanide",
    "Daphne": "fruit deadly to people",
    "Datura": "seed poisonous to people",
    "Delphinium": "seed and seedlings poisonous to cattle",
    "Digitalis": "seed and leaves poisonous to the heart",
    "Encephalartos": "seed poisonous to people and animals",
    "Eriobotrya": "kernels give off cyanide",
    "Euonymus": "fruit and seed poisonous",
    "Euphorbia": "sap burns skin and eyes",
    "Ginkgo": "pulp burns the skin, kernels poisonous in number",
    "Gymnocladus": "raw seed poisonous",
    "Helleborus": "whole plant poisonous",
    "Heracleum": "sap burns the skin in sunlight",
    "Ilex": "berries poisonous to children",
    "Juglans": "stains the skin; mouldy husks poison dogs, shavings lame horses",
    "Laburnum": "seed poisonous to children",
    "Lupinus": "seed poisonous to people and stock",
    "Malus": "kernels give off cyanide when crushed",
    "Mangifera": "sap and skin raise blisters",
    "Melia": "fruit poisonous to people and animals",
    "Nerium": "whole plant poisonous to the heart",
    "Nicotiana": "whole plant poisonous",
    "Phytolacca": "seed and roots poisonous",
    "Podophyllum": "seed and roots poisonous",
    "Prunus": "kernels give off cyanide when crushed",
    "Pyrus": "kernels give off cyanide when crushed",
    "Quercus": "acorns poison horses and cattle",
    "Ricinus": "seed deadly to people",
    "Robinia": "bark and seed poisonous to horses and people",
    "Sophora": "seed poisonous to people",
    "Taxus": "seed and leaves deadly to people and animals",
    "Toxicodendron": "sap raises blisters",
    "Wisteria": "seed poisonous to children",
    "Zamia": "seed poisonous to people and animals",
}

TOXIC_SPECIES: dict[str, str] = {
    "Acer negundo": "seed and seedlings poison horses",
    "Acer pseudoplatanus": "seed and seedlings poison horses",
    "Acer rubrum": "wilted leaves poison horses",
}
