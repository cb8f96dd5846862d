"""What the drawing of a plan needs: beds, features and plantings, in metres."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import Any

from shapely import Polygon, box

from bedwright.apps.web.gardens.crop_words import crop_word
from bedwright.apps.web.season.drawing.hatches import Pattern
from bedwright.apps.web.season.logged import days_of, state_of
from bedwright.model.book import Bed, GardenBook
from bedwright.model.ground import Rectangle, local_vertices_m
from bedwright.model.log import PlantingLogged
from bedwright.model.season import Planting, Row
from bedwright.papers.ground_drawing import SYMBOL_SHARE_OF_SPREAD
from bedwright.papers.measures import code_runs
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
    book: GardenBook,
    plantings: Iterable[Planting],
    patterns: Iterable[Pattern],
    pinned: Collection[str],
    logged: Mapping[str, PlantingLogged] | None = None,
) -> list[dict[str, Any]]:
    """Every planting as the drawing needs it, offsets in the frame of its bed; true days where logged."""
    keys = {pattern.group: pattern.key for pattern in patterns}
    beds = {bed.code: bed for bed in book.beds}
    seen = logged or {}
    return [
        _planting(each, beds[each.bed_code], keys, each.code in pinned) | _as_logged(seen.get(each.code))
        for each in plantings
    ]


def _as_logged(each: PlantingLogged | None) -> dict[str, Any]:
    days = days_of(each)
    found: dict[str, Any] = {} if days is None else {"from": days[0], "to": days[1]}
    return found | {"state": state_of(each)}


def _planting(planting: Planting, bed: Bed, keys: Mapping[str, str], pinned: bool) -> dict[str, Any]:
    dates = planting.dates
    return {
        "code": planting.code,
        "words": words_of(planting),
        "plan_code": planting.crop.plan_code,
        "label_code": planting.label_code,
        "crop": name_of(planting),
        "bed": planting.bed_code,
        "along_m": [round(each, 3) for each in planting.along_m],
        "across_m": [round(each, 3) for each in planting.across_m],
        "outline_m": _outline_m(planting, bed),
        "rows": [_row(row) for row in planting.rows],
        "radius_m": round(planting.crop.spread_m * SYMBOL_SHARE_OF_SPREAD / 2, 3),
        "from": dates.in_ground,
        "to": dates.clear_by,
        "hatch": keys.get(planting.crop.rotation_group, ""),
        "pinned": pinned,
    }


def _outline_m(planting: Planting, bed: Bed) -> list[list[float]]:
    """The ground of a planting in the frame of its bed, cut at the edge of an odd one."""
    (a0, a1), (c0, c1) = planting.along_m, planting.across_m
    corners = [(a0, c0), (a1, c0), (a1, c1), (a0, c1)]
    if not isinstance(bed.outline, Rectangle):
        cut = box(a0, c0, a1, c1).intersection(Polygon(local_vertices_m(bed.outline)))
        if isinstance(cut, Polygon) and not cut.is_empty:
            corners = [(along, across) for along, across in cut.exterior.coords[:-1]]
    return [[round(along, 3), round(across, 3)] for along, across in corners]


def _row(row: Row) -> list[float]:
    return [*(round(each, 3) for each in (*row.start_m, *row.end_m)), row.n_plants]


def words_of(planting: Planting) -> str:
    """Plan code and the codes of its rows, as they stand on the pegs."""
    return f"{planting.crop.plan_code} {rows_of(planting)}"


def rows_of(planting: Planting) -> str:
    """Codes of all rows, runs of them drawn together."""
    return code_runs(row.code for row in planting.rows).replace(" to ", "–")


def name_of(planting: Planting) -> str:
    """Crop and variety."""
    return f"{crop_word(planting.crop.name)} {planting.variety}".strip()
