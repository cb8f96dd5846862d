"""Ground as it is being drawn, before it is saved, read for its shade.

Saving goes through the reader of the garden book, which names every problem. Here the
question is only where light falls this very moment, twenty times in a second if a tree is
being dragged; entries come from our own page and are refused as a whole if they are not sound.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, cast, get_args

from bedwright.model import bounds
from bedwright.model.book import Bed, Feature, FeatureKind, Site
from bedwright.model.bounds import Bounds
from bedwright.model.ground import Circle, Outline, Point, Polygon, Rectangle

Entry = Mapping[str, Any]
"""`Any`: it comes from a script."""


class UnsoundDraftError(ValueError):
    """An entry is not of the form in which the page draws it."""


def drafted(site: Site, features: object, beds: object) -> tuple[Site, tuple[Bed, ...]]:
    """A site and its beds with the features and outlines of a draft.

    Parameters
    ----------
    site
        As last saved: place and name stay.
    features, beds
        Lists under the keys of the garden book, SI.

    Raises
    ------
    UnsoundDraftError
        At the first entry that cannot be drawn.
    """
    read_features = tuple(_feature(entry) for entry in _entries(features, bounds.N_FEATURES))
    return (
        replace(site, features=read_features),
        tuple(_bed(entry) for entry in _entries(beds, bounds.N_BEDS)),
    )


def _entries(value: object, count: Bounds) -> Sequence[Entry]:
    if not isinstance(value, list) or len(value) > count.high:
        raise UnsoundDraftError(f"expected a list of at most {count.high:g} entries")
    if not all(isinstance(entry, dict) for entry in value):
        raise UnsoundDraftError("expected a list of records")
    return value


def _number(entry: Entry, key: str, within: Bounds, left_out: float | None = None) -> float:
    value = entry.get(key, left_out)
    if isinstance(value, bool) or not isinstance(value, int | float) or value not in within:
        raise UnsoundDraftError(f"{key}: expected {within}")
    return float(value)


def _point(value: object) -> Point:
    if not isinstance(value, list) or len(value) != 2:
        raise UnsoundDraftError("expected a position [east, north]")
    east_m, north_m = value
    here = {"east": east_m, "north": north_m}
    return _number(here, "east", bounds.POSITION_M), _number(here, "north", bounds.POSITION_M)


def _points(value: object, count: Bounds) -> tuple[Point, ...]:
    if not isinstance(value, list) or len(value) not in count:
        raise UnsoundDraftError(f"expected {count}")
    return tuple(_point(vertex) for vertex in value)


def _feature(entry: Entry) -> Feature:
    kind = entry.get("kind")
    if kind not in get_args(FeatureKind):
        raise UnsoundDraftError("kind: not one that is drawn")
    at_m = entry.get("at_m")
    months = entry.get("leafless_months", [])
    if not isinstance(months, list) or not all(type(month) is int and 1 <= month <= 12 for month in months):
        raise UnsoundDraftError("leafless_months: expected months 1 to 12")
    vertices_m = entry.get("vertices_m")
    half_width_m = _number(entry, "width_m", Bounds(0, bounds.PATH_WIDTH_M.high, "m"), 0.0) / 2
    return Feature(
        code=str(entry.get("code", "")),
        kind=cast("FeatureKind", kind),
        name="",
        vertices_m=(_point(at_m),) if at_m is not None else _points(vertices_m, bounds.N_FEATURE_VERTICES),
        height_m=_number(entry, "height_m", bounds.FEATURE_HEIGHT_M, 0.0),
        radius_m=_number(entry, "crown_radius_m", Bounds(0, bounds.CROWN_RADIUS_M.high, "m"), half_width_m),
        crown_base_m=_number(entry, "crown_base_m", bounds.CROWN_BASE_M, 0.0),
        leafless_months=tuple(months),
    )


def _bed(entry: Entry) -> Bed:
    return Bed(
        code=str(entry.get("code", "")),
        name="",
        outline=_outline(entry),
        texture="loam",  # says nothing about light
        raised_m=_number(entry, "raised_m", bounds.BED_HEIGHT_M, 0.0),
    )


def _outline(entry: Entry) -> Outline:
    for key in ("rectangle", "polygon", "circle"):
        shape = entry.get(key)
        if isinstance(shape, dict):
            return _OUTLINES[key](shape)
    raise UnsoundDraftError("a bed without an outline")


def _rectangle(shape: Entry) -> Rectangle:
    return Rectangle(
        length_m=_number(shape, "length_m", bounds.BED_LENGTH_M),
        width_m=_number(shape, "width_m", bounds.BED_WIDTH_M),
        east_m=_number(shape, "east_m", bounds.POSITION_M),
        north_m=_number(shape, "north_m", bounds.POSITION_M),
        bearing_deg=_number(shape, "bearing_deg", bounds.BEARING_DEG),
    )


def _polygon(shape: Entry) -> Polygon:
    vertices_m = _points(shape.get("vertices_m"), bounds.N_VERTICES)
    if math.isclose(_twice_area_m2(vertices_m), 0):
        raise UnsoundDraftError("a bed without area")
    return Polygon(vertices_m, _number(shape, "bearing_deg", bounds.BEARING_DEG))


def _circle(shape: Entry) -> Circle:
    return Circle(
        radius_m=_number(shape, "radius_m", bounds.BED_RADIUS_M),
        east_m=_number(shape, "east_m", bounds.POSITION_M),
        north_m=_number(shape, "north_m", bounds.POSITION_M),
        bearing_deg=_number(shape, "bearing_deg", bounds.BEARING_DEG, 0.0),
    )


_OUTLINES: Mapping[str, Callable[[Entry], Outline]] = {
    "rectangle": _rectangle,
    "polygon": _polygon,
    "circle": _circle,
}


def _twice_area_m2(vertices_m: Sequence[Point]) -> float:
    following = (*vertices_m[1:], vertices_m[0])
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(vertices_m, following, strict=True)))
