"""What the drawing of a plan needs: beds, features and plantings, in metres."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from bedwright.apps.web.season.drawing.hatches import Pattern
from bedwright.model.book import GardenBook
from bedwright.model.season import Planting, Row
from bedwright.papers.ground_drawing import SYMBOL_SHARE_OF_SPREAD
from bedwright.papers.occupancy import bar_words
from bedwright.store.book.document import to_document


def ground_data(book: GardenBook) -> dict[str, Any]:
    """Beds and features under the keys of the garden book."""
    document = to_document(book)
    site = document["site"]
    return {
        "beds": document["beds"],
        "features": site.get("features", ()) if isinstance(site, Mapping) else (),
    }


def plantings_data(
    plantings: Iterable[Planting], patterns: Iterable[Pattern], pinned: Collection[str]
) -> list[dict[str, Any]]:
    """Every planting as the drawing needs it, offsets in the frame of its bed."""
    keys = {pattern.group: pattern.key for pattern in patterns}
    return [_planting(each, keys, each.code in pinned) for each in plantings]


def _planting(planting: Planting, keys: Mapping[str, str], pinned: bool) -> dict[str, Any]:
    dates = planting.dates
    return {
        "code": planting.code,
        "words": bar_words(planting),
        "crop": name_of(planting),
        "bed": planting.bed_code,
        "along_m": [round(each, 3) for each in planting.along_m],
        "across_m": [round(each, 3) for each in planting.across_m],
        "rows": [_row(row) for row in planting.rows],
        "radius_m": round(planting.crop.spread_m * SYMBOL_SHARE_OF_SPREAD / 2, 3),
        "from": dates.in_ground,
        "to": dates.clear_by,
        "hatch": keys.get(planting.crop.rotation_group, ""),
        "pinned": pinned,
    }


def _row(row: Row) -> list[float]:
    return [*(round(each, 3) for each in (*row.start_m, *row.end_m)), row.n_plants]


def name_of(planting: Planting) -> str:
    """Crop and variety."""
    return f"{planting.crop.name} {planting.variety}".strip()
