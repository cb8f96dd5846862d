"""What keys and words of the schema are called on pages; translated where they are shown."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.model.units import UNITS
from bedwright.store.book.kinds import Choice, Either, Field, Kind, ListOf, Number, Record
from bedwright.store.book.schema import GARDEN_BOOK

_LABELS: dict[str, str] = {
    "at_m": "Place",
    "vertices_m": "Corners",
    "ph": "pH",
    "p_mg_kg": "Phosphorus",
    "k_mg_kg": "Potassium",
    "lead_mg_kg": "Lead",
    "sun_h": "Sun as seen",
    "east_m": "East",
    "north_m": "North",
    "latitude_deg": "Latitude",
    "longitude_deg": "Longitude",
    "bearing_deg": "Bearing",
    "days_to_maturity_days": "Days to maturity",
    "row_m": "Metres of row",
    "harvest_kg": "Harvest",
    "sprouted": "Sprouted",
    "hours_per_week": "Hours a week",
    "frost_risk_pct": "Frost risk",
    "chance_wanted_pct": "Chance wanted",
    "only": "Only in",
    "not": "Not in",
    "quantity_l": "Volume",
    "quantity_kg": "Mass",
    "quantity_m": "Length",
    "organic_matter_pct": "Organic matter",
    "use": "Purpose",
    "reach": "Worked from",
    "file": "Weather record",
    "soil_depth_m": "Depth of soil",
    "raised_m": "Height of sides",
    "in_row_spacing_cm": "In-row spacing",
    "p2o5_mg_kg": "Phosphorus as P2O5",
    "k2o_mg_kg": "Potassium as K2O",
    "min_per_m2": "Minutes per m²",
    "min_per_row_m": "Minutes per metre of row",
    "min_per_kg": "Minutes per kilogram",
    "min_per_plant": "Minutes per plant",
    "min_per_tray": "Minutes per tray",
    "min_per_visit": "Minutes per visit",
    "min_per_order": "Minutes per order",
    "packet_seeds": "Seeds in a packet",
    "last_spring": "Last frost of spring",
    "first_autumn": "First frost of autumn",
    "stated_frost": "Frost dates by hand",
    "sampled_on": "Sampled on",
    "tested": "Tested",
    "successions": "Sowings",
    "packed_year": "Packed for",
    "week_l": "Water in a week",
    "slope_deg": "Angle to the level",
    "aspect_deg": "Aspect",
}
"""Where the key without its unit does not read well."""

_SUFFIXES = sorted(
    {f"_{unit.suffix}" for unit in UNITS} | {"_pct", "_deg", "_h", "_days"}, key=len, reverse=True
)

_RECORDS: dict[str, str] = {
    "beds of a wish": "Where it may stand",
    "harvest": "When it is wanted",
    "variety": "Variety",
    "rectangle": "Rectangle",
    "polygon": "Polygon",
    "circle": "Circle",
}


def label_of(field: Field) -> str:
    """The label of a box, in English."""
    if isinstance(field.kind, Record) and field.kind.name in _RECORDS:
        return _RECORDS[field.kind.name]
    if field.key in _LABELS:
        return _LABELS[field.key]
    stem = next(
        (field.key.removesuffix(suffix) for suffix in _SUFFIXES if field.key.endswith(suffix)), field.key
    )
    words = stem.replace("_", " ")
    return words[:1].upper() + words[1:]


def name_of(record: Record) -> str:
    """What one entry is called, in English, as a heading begins with it."""
    return record.name[:1].upper() + record.name[1:]


def all_words() -> frozenset[str]:
    """Every word of the schema that a page may show: the translations must have each."""
    return frozenset(_words(GARDEN_BOOK))


def _words(kind: Kind) -> Iterator[str]:
    if isinstance(kind, Record):
        yield name_of(kind)
        for field in kind.fields:
            yield label_of(field)
            yield field.meaning
            if field.left_out and not field.left_out.replace(".", "").isdigit():
                yield field.left_out
            yield from _words(field.kind)
    elif isinstance(kind, Number) and kind.bounds.unit.replace(" ", "").isalpha():
        yield kind.bounds.unit
    elif isinstance(kind, ListOf):
        yield from _words(kind.item)
    elif isinstance(kind, Either):
        yield from _words(kind.short)
        yield from _words(kind.full)
    elif isinstance(kind, Choice):
        yield from kind.options
