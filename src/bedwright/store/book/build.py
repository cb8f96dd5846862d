"""Sound rows turned into the records of the model, field by field."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import cast

from bedwright.model.book import (
    Amount,
    Bed,
    Feature,
    FeatureKind,
    Goals,
    HelpingHands,
    History,
    Layout,
    NeighbourWish,
    PaperSize,
    Period,
    SeedLot,
    Site,
    SoilTest,
    StatedFrost,
    Stock,
    Support,
    SupportKind,
    Texture,
    UnitSystem,
    Variety,
    WateringReach,
    WateringWay,
    Way,
    Wish,
)
from bedwright.model.ground import Circle, Outline, Point, Polygon, Rectangle, Side
from bedwright.model.units import K_PER_K2O, P_PER_P2O5
from bedwright.store.book.read import Row
from bedwright.store.book.schema import WEEKDAYS

ALL_SIDES: tuple[Side, ...] = ("north", "east", "south", "west")


def site(row: Row) -> Site:
    """The site."""
    slope = row.maybe("slope", Row)
    return Site(
        name=row.one("name", str),
        latitude_deg=row.one("latitude_deg", float),
        longitude_deg=row.one("longitude_deg", float),
        elevation_m=row.one("elevation_m", float),
        time_zone=row.one("time_zone", str),
        units=cast("UnitSystem", row.maybe("units", str, "metric")),
        paper=cast("PaperSize", row.maybe("paper", str, "a4")),
        features=tuple(feature(entry) for entry in row.rows("features")),
        coordinator=row.maybe("coordinator", str, ""),
        slope_deg=slope.one("slope_deg", float) if slope else 0.0,
        aspect_deg=slope.one("aspect_deg", float) if slope else 0.0,
    )


def feature(row: Row) -> Feature:
    """Something on the site that is not a bed."""
    vertices_m = _points(row, "vertices_m") or (_point(row.one("at_m", tuple)),)
    width_m = row.maybe("width_m", float, 0.0)
    return Feature(
        code=row.one("code", str),
        kind=cast("FeatureKind", row.one("kind", str)),
        name=row.maybe("name", str, row.one("kind", str)),
        vertices_m=vertices_m,
        height_m=row.maybe("height_m", float, 0.0),
        radius_m=row.maybe("crown_radius_m", float, width_m / 2),
        crown_base_m=row.maybe("crown_base_m", float, 0.0),
        leafless_months=row.items("leafless_months", int),
        flow_l_min=row.maybe("flow_l_min", float),
        volume_l=row.maybe("volume_l", float),
        roof_m2=row.maybe("roof_m2", float),
    )


def stated_frost(row: Row) -> StatedFrost:
    """Frost dates by hand."""
    return StatedFrost(
        last_spring=_month_day(row.one("last_spring", tuple)),
        first_autumn=_month_day(row.one("first_autumn", tuple)),
    )


def outline(row: Row) -> Outline:
    """The outline of a bed."""
    if "rectangle" in row:
        shape = row.one("rectangle", Row)
        return Rectangle(
            length_m=shape.one("length_m", float),
            width_m=shape.one("width_m", float),
            east_m=shape.one("east_m", float),
            north_m=shape.one("north_m", float),
            bearing_deg=shape.one("bearing_deg", float),
        )
    if "polygon" in row:
        shape = row.one("polygon", Row)
        vertices_m = _points(shape, "vertices_m")
        closed = len(vertices_m) > 3 and vertices_m[0] == vertices_m[-1]
        return Polygon(vertices_m[:-1] if closed else vertices_m, shape.one("bearing_deg", float))
    shape = row.one("circle", Row)
    return Circle(
        radius_m=shape.one("radius_m", float),
        east_m=shape.one("east_m", float),
        north_m=shape.one("north_m", float),
        bearing_deg=shape.maybe("bearing_deg", float, 0.0),
    )


def bed(row: Row) -> Bed:
    """A bed."""
    soil_row = row.maybe("soil_test", Row)
    sides = cast("tuple[Side, ...]", row.items("reach", str))
    return Bed(
        code=row.one("code", str),
        name=row.maybe("name", str, ""),
        outline=outline(row),
        texture=cast("Texture", row.one("texture", str)),
        raised_m=row.maybe("raised_m", float, 0.0),
        soil_depth_m=row.maybe("soil_depth_m", float),
        supports=tuple(support(entry) for entry in row.rows("supports")),
        reach=sides or ALL_SIDES,
        watering_reach=cast("WateringReach", row.maybe("watering", str, "hose")),
        sun_h=row.maybe("sun_h", float),
        soil_test=soil_test(soil_row) if soil_row else None,
        use=row.maybe("use", str, ""),
        irrigation=cast("WateringWay | None", row.maybe("irrigation", str)),
        mulch_planned=row.maybe("mulch", bool),
        children=row.maybe("children", bool, False),
        stepping_boards=row.maybe("stepping_boards", bool, False),
    )


def support(row: Row) -> Support:
    """A lasting support."""
    return Support(
        kind=cast("SupportKind", row.one("kind", str)),
        side=cast("Side", row.one("side", str)),
        height_m=row.one("height_m", float),
    )


def soil_test(row: Row) -> SoilTest:
    """A laboratory's report."""
    return SoilTest(
        sampled_on=row.one("sampled_on", date),
        laboratory=row.one("laboratory", str),
        ph=row.maybe("ph", float),
        p_mg_kg=_element(row, "p_mg_kg", "p2o5_mg_kg", P_PER_P2O5),
        k_mg_kg=_element(row, "k_mg_kg", "k2o_mg_kg", K_PER_K2O),
        organic_matter_pct=row.maybe("organic_matter_pct", float),
        lead_mg_kg=row.maybe("lead_mg_kg", float),
        extraction=row.maybe("extraction", str, ""),
        lime_g_m2=row.maybe("lime_g_m2", float),
    )


def _element(row: Row, key: str, oxide_key: str, element_share: float) -> float | None:
    """A content as the element, whether it was printed so or as the oxide."""
    oxide = row.maybe(oxide_key, float)
    return row.maybe(key, float) if oxide is None else oxide * element_share


def history(row: Row, crops: tuple[str, ...], families: tuple[str, ...]) -> History:
    """What stood in a bed, with the catalogue's names."""
    return History(row.one("bed", str), row.one("year", int), crops, families)


def wish(row: Row, code: str, crop: str) -> Wish:
    """A wish, with its code settled and the catalogue's name of its crop."""
    beds, harvest = row.maybe("beds", Row), row.maybe("harvest", Row)
    successions: object = row.values["successions"].value if "successions" in row else 1
    return Wish(
        code=code,
        crop=crop,
        amount=amount(row),
        variety=variety(row),
        priority=row.maybe("priority", int, 3),
        way=cast("Way | None", row.maybe("way", str)),
        only_beds=beds.items("only", str) if beds else (),
        not_beds=beds.items("not", str) if beds else (),
        harvest_from=harvest.maybe("from", date) if harvest else None,
        harvest_to=harvest.maybe("to", date) if harvest else None,
        successions=successions if isinstance(successions, int) else "keep picking",
        note=row.maybe("note", str, ""),
        layout=cast("Layout", row.maybe("layout", str, "rows")),
    )


def amount(row: Row) -> Amount:
    """How much is wanted."""
    if "plants" in row:
        return Amount(float(row.one("plants", int)), "plants")
    if "row_m" in row:
        return Amount(row.one("row_m", float), "row_m")
    return Amount(row.one("harvest_kg", float), "harvest_kg")


def variety(row: Row) -> Variety | None:
    """The variety of a wish; None where any will do."""
    if "variety" not in row:
        return None
    stated = row.values["variety"].value
    if not isinstance(stated, Row):
        return Variety(str(stated))
    return Variety(
        name=stated.one("name", str),
        days_to_maturity_days=stated.maybe("days_to_maturity_days", float),
        in_row_spacing_cm=stated.maybe("in_row_spacing_cm", float),
        row_spacing_cm=stated.maybe("row_spacing_cm", float),
        sow_depth_mm=stated.maybe("sow_depth_mm", float),
        height_cm=stated.maybe("height_cm", float),
        packet_seeds=stated.maybe("packet_seeds", int),
    )


def neighbours(row: Row, crop_a: str, crop_b: str) -> NeighbourWish:
    """A rule of the coordinator's own, with the catalogue's names."""
    return NeighbourWish(crop_a, crop_b, "together" in row, row.maybe("reason", str, ""))


def goals(row: Row) -> Goals:
    """What the season is for."""
    return Goals(
        teaching=row.maybe("teaching", str, ""),
        donation_kg=row.maybe("donation_kg", float, 0.0),
        donation_weekdays=tuple(WEEKDAYS.index(day) + 1 for day in row.items("donation_weekdays", str)),
        quiet_weeks=tuple(
            Period(entry.one("name", str), entry.one("start", date), entry.one("end", date))
            for entry in row.rows("quiet_weeks")
        ),
    )


def hands(row: Row) -> HelpingHands:
    """Hours promised."""
    return HelpingHands(
        name=row.one("name", str),
        hours_per_week=row.one("hours_per_week", float),
        start=row.one("start", date),
        end=row.one("end", date),
        paid=row.maybe("paid", bool, False),
    )


def seed_lot(row: Row, crop: str) -> SeedLot:
    """A packet or tin, with the catalogue's name of its crop."""
    test = row.maybe("germination_test", Row)
    return SeedLot(
        code=row.one("code", str),
        crop=crop,
        variety=row.maybe("variety", str, ""),
        packed_year=row.one("packed_year", int),
        mass_g=row.maybe("mass_g", float),
        count=row.maybe("count", int),
        tested_sown=test.one("sown", int) if test else None,
        tested_sprouted=test.one("sprouted", int) if test else None,
    )


def stock(row: Row) -> Stock:
    """A material on hand."""
    material = row.one("material", str)
    if "quantity_l" in row:
        return Stock(material, row.one("quantity_l", float), "L")
    if "quantity_kg" in row:
        return Stock(material, row.one("quantity_kg", float), "kg")
    if "quantity_m" in row:
        return Stock(material, row.one("quantity_m", float), "m")
    return Stock(material, row.one("pieces", float), "pieces")


def _points(row: Row, key: str) -> tuple[Point, ...]:
    return tuple(_point(vertex) for vertex in row.items(key, tuple))


def _point(value: Iterable[object]) -> Point:
    east_m, north_m = (part for part in value if isinstance(part, float))
    return (east_m, north_m)


def _month_day(value: Iterable[object]) -> tuple[int, int]:
    month, day = (part for part in value if isinstance(part, int))
    return (month, day)
