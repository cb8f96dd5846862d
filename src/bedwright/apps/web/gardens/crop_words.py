"""Names of crops and of their parts in the language of the page; the book keeps the catalogue's names."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any, get_args

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.reading import catalogue
from bedwright.catalogue.quantities import QUANTITIES
from bedwright.model.source import Standing

CROP_KEYS = frozenset({"crop", "crops", "together", "apart"})
"""Keys of the book whose values name crops."""


def crop_word(name: str) -> str:
    """The name of a crop as people call it in the language of the page."""
    return _(name) if name else ""


def as_shown(key: str, value: Any) -> Any:
    """A value of the book as a box shows it."""
    if key not in CROP_KEYS:
        return value
    if isinstance(value, tuple | list):
        return tuple(crop_word(str(each)) for each in value)
    return crop_word(value) if isinstance(value, str) else value


def as_in_book(key: str, value: Any) -> Any:
    """What was typed into a box, with names of crops as the catalogue has them; others stay."""
    if key not in CROP_KEYS:
        return value
    known = _names(get_language() or "en")
    if isinstance(value, tuple | list):
        return tuple(known.get(str(each).casefold(), each) for each in value)
    return known.get(value.casefold(), value) if isinstance(value, str) else value


@lru_cache(maxsize=8)
def _names(_language: str) -> dict[str, str]:
    # The language is the key: what `_` gives depends on it.
    return {crop_word(name).casefold(): name for name in catalogue().crops}


def catalogue_words() -> Iterator[str]:
    """Every word of the catalogue that a page may show: the translations must have each."""
    for crop in catalogue().crops.values():
        yield crop.name
        yield from crop.edible_parts
        yield from crop.poisonous_parts
    for quantity in QUANTITIES.values():
        yield quantity.meaning
    yield from get_args(Standing)
