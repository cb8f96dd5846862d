"""Finding a crop by what people call it, in British and American English."""

from __future__ import annotations

from difflib import get_close_matches

from bedwright.model.crop import Catalogue, Crop

ALIASES: dict[str, str] = {
    alias: crop
    for crop, aliases in {
        "arugula": "rocket, roquette, rucola, salad rocket, garden rocket",
        "alyssum": "sweet alyssum",
        "artichoke": "globe artichoke",
        "basil": "sweet basil",
        "beet": "beetroot, table beet, red beet, garden beet",
        "bok choy": "pak choi, pak choy, bok choi, pac choi, tatsoi",
        "broad bean": "fava bean, faba bean, field bean, windsor bean",
        "broccoli": "calabrese",
        "brussels sprouts": "brussels sprout, brussel sprout, sprouts",
        "bush bean": "dwarf bean, dwarf french bean, french bean, green bean, snap bean, string bean, bean, "
        "haricot bean",
        "cabbage": "white cabbage, head cabbage",
        "calendula": "pot marigold, english marigold",
        "chard": "swiss chard, leaf beet, silverbeet, silver beet, rainbow chard",
        "cilantro": "coriander, leaf coriander",
        "collards": "collard, collard greens",
        "cucumber": "gherkin",
        "dill": "dill weed",
        "eggplant": "aubergine, brinjal",
        "fennel": "florence fennel, bulb fennel",
        "hairy vetch": "winter vetch, vetch",
        "kale": "borecole, curly kale",
        "lettuce": "salad lettuce, leaf lettuce, head lettuce",
        "lima bean": "butter bean",
        "marigold": "french marigold, african marigold, tagetes",
        "melon": "muskmelon, cantaloupe, canteloupe, honeydew",
        "mint": "spearmint, peppermint",
        "mustard": "mustard greens, indian mustard",
        "nasturtium": "indian cress",
        "oats": "oat",
        "okra": "ladies' fingers, lady's fingers",
        "onion": "bulb onion, red onion",
        "oregano": "wild marjoram",
        "parsley": "flat parsley, curly parsley",
        "pea": "garden pea, shelling pea, english pea, sugar snap pea, snow pea, mangetout",
        "pole bean": "climbing bean, climbing french bean, climbing green bean",
        "potato": "irish potato",
        "radish": "salad radish, summer radish",
        "rutabaga": "swede, swedish turnip, neep",
        "scallion": "spring onion, green onion, bunching onion, salad onion, welsh onion",
        "summer squash": "courgette, zucchini, marrow, pattypan, patty pan squash, crookneck squash",
        "sweet corn": "sweetcorn, corn, maize, corn on the cob",
        "sweet pepper": "bell pepper, capsicum, pepper, paprika pepper",
        "sweet potato": "kumara, yam",
        "tomatillo": "husk tomato",
        "winter rye": "cereal rye, rye, grazing rye",
        "winter squash": "butternut, butternut squash, acorn squash, hubbard squash, kabocha",
    }.items()
    for alias in aliases.split(", ")
}
"""Other name: crop name. Runner bean is left out on purpose: it is another species."""

_HOW_ALIKE = 0.6
_HOW_MANY = 3


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").replace("_", " ").replace("’", "'").split())


def _singulars(name: str) -> tuple[str, ...]:
    endings = (("ies", "y"), ("oes", "o"), ("es", ""), ("s", ""))
    return tuple(name[: -len(end)] + new for end, new in endings if name.endswith(end))


def crop_named(name: str, catalogue: Catalogue) -> Crop | None:
    """The crop of that name, whatever its case, plural or other English name; None if unknown.

    Limits
    ------
    A name that means several crops ("bean", "pepper") gives the commonest in gardens.
    """
    plain = _plain(name)
    for form in (plain, *_singulars(plain)):
        crop = catalogue.crops.get(form) or catalogue.crops.get(ALIASES.get(form, ""))
        if crop is not None:
            return crop
    return None


def crop_name(name: str, catalogue: Catalogue) -> str | None:
    """The catalogue's own name of the crop that `crop_named` finds; None if unknown."""
    crop = crop_named(name, catalogue)
    return None if crop is None else crop.name


def nearest_crops(name: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Up to three crop names spelt most like a name that was not found, most alike first.

    Other English names are tried too, and give the catalogue's name for that crop.
    """
    crop = crop_named(name, catalogue)
    if crop is not None:
        return (crop.name,)
    known = {alias: target for alias, target in ALIASES.items() if target in catalogue.crops}
    known.update({own: own for own in catalogue.crops})
    matches = get_close_matches(_plain(name), sorted(known), n=4 * _HOW_MANY, cutoff=_HOW_ALIKE)
    return tuple(dict.fromkeys(known[match] for match in matches))[:_HOW_MANY]
