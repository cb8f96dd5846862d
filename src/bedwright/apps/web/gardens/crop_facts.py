"""What the catalogue knows of a crop, laid out for a page: each value with where it comes from."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.crop_words import crop_word
from bedwright.apps.web.sentences import part_in_language
from bedwright.catalogue.quantities import QUANTITIES
from bedwright.catalogue.sheet import fact_value
from bedwright.model.book import UnitSystem
from bedwright.model.crop import Catalogue, Crop, Fact, NeighbourFinding
from bedwright.model.source import Source


@dataclass(frozen=True, slots=True)
class ShownFact:
    """One value of one quantity."""

    value: str
    standing: str
    source: Source | None
    locator: str
    reason: str
    used: bool


@dataclass(frozen=True, slots=True)
class ShownQuantity:
    """One quantity: the value in use, and those left aside."""

    meaning: str
    used: tuple[ShownFact, ...]
    others: tuple[ShownFact, ...]


def quantities_of(crop: Crop, catalogue: Catalogue, units: UnitSystem) -> list[ShownQuantity]:
    """Every quantity of a crop that has a value, in the catalogue's order."""
    shown: list[ShownQuantity] = []
    for quantity in QUANTITIES.values():
        facts = [_shown(fact, catalogue, units) for fact in crop.facts_of(quantity.name)]
        if facts:
            used = tuple(fact for fact in facts if fact.used)
            others = tuple(fact for fact in facts if not fact.used)
            shown.append(ShownQuantity(_(quantity.meaning), used, others))
    return shown


def _shown(fact: Fact, catalogue: Catalogue, units: UnitSystem) -> ShownFact:
    return ShownFact(
        _in_words(fact_value(fact, units)),
        _(fact.standing),
        catalogue.sources.get(fact.source_id),
        fact.locator,
        fact.reason,
        fact.used,
    )


def _in_words(value: str) -> str:
    """A value in the language of the page; what has no such words stays."""
    return part_in_language("fact", value) or value


def findings_of(crop: Crop, catalogue: Catalogue) -> list[tuple[NeighbourFinding, Source | None]]:
    """What is known of the crop beside others, best evidence first."""
    found = [each for each in catalogue.neighbours if crop.name in {each.crop_a, each.crop_b}]
    found.sort(key=lambda each: (each.grade, each.crop_a, each.crop_b))
    return [(each, catalogue.sources.get(each.source_id)) for each in found]


def matching(crops: Iterable[Crop], words: str, kind: str, also: str | None) -> list[Crop]:
    """Crops whose name, English, Latin or of the page, or family has all the words in it.

    Parameters
    ----------
    crops
        Crops to look through.
    words
        Parts of names, in any case; empty for all.
    kind
        Only crops of this kind; empty for all.
    also
        Name of a crop that the words are another name of.
    """
    parts = words.casefold().split()

    def has_all(crop: Crop) -> bool:
        text = f"{crop.name} {crop_word(crop.name)} {crop.latin_name} {crop.family}".casefold()
        return crop.name == also or all(part in text for part in parts)

    return [crop for crop in crops if has_all(crop) and kind in {"", crop.kind}]
