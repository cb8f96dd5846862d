"""What forms need to know of a garden: its beds, the crops there are, time zones."""

from __future__ import annotations

from functools import cache
from zoneinfo import available_timezones

from bedwright.apps.web.gardens.crop_words import crop_word
from bedwright.apps.web.gardens.entry.boxes import Surroundings
from bedwright.apps.web.gardens.reading import catalogue
from bedwright.model.book import GardenBook, UnitSystem


def _crops() -> tuple[str, ...]:
    return tuple(sorted((crop_word(name) for name in catalogue().crops), key=str.casefold))


@cache
def _families() -> tuple[str, ...]:
    return tuple(sorted({crop.family for crop in catalogue().crops.values()}))


@cache
def _zones() -> tuple[str, ...]:
    return tuple(
        sorted(zone for zone in available_timezones() if "/" in zone and not zone.startswith("Etc/"))
    )


def surroundings_of(book: GardenBook) -> Surroundings:
    """For the pages of a book."""
    beds = tuple((bed.code, f"{bed.code} {bed.name}".strip()) for bed in book.beds)
    return Surroundings(
        units=book.site.units,
        beds=beds,
        suggestions=_suggestions(),
    )


def surroundings_of_new(units: UnitSystem = "metric") -> Surroundings:
    """For a book that is not there yet."""
    return Surroundings(units=units, suggestions=_suggestions())


def _suggestions() -> dict[str, tuple[str, ...]]:
    return {"crop": _crops(), "crops": _crops(), "families": _families(), "time_zone": _zones()}
