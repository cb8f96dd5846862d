"""A garden book as plain nested values under the keys of the schema, SI throughout."""

from __future__ import annotations

from bedwright.model.book import (
    Bed,
    Feature,
    GardenBook,
    Goals,
    HelpingHands,
    History,
    NeighbourWish,
    SeedLot,
    Site,
    SoilTest,
    StatedFrost,
    Stock,
    Variety,
    Wish,
)
from bedwright.model.ground import Circle, Polygon, Rectangle
from bedwright.store.book.build import ALL_SIDES
from bedwright.store.book.pins import pin_document
from bedwright.store.book.plain import Plain, given
from bedwright.store.book.safety import lead_rule_document, manure_document
from bedwright.store.book.schema import BOOK_VERSION, WEEKDAYS
from bedwright.store.book.supplies import propagation_document, supplier_document
from bedwright.store.book.water import water_limit_document
from bedwright.store.book.workdays import labour_rate_document, workday_document

_STOCK_KEYS = {"L": "quantity_l", "kg": "quantity_kg", "m": "quantity_m", "pieces": "pieces"}


def to_document(book: GardenBook) -> dict[str, Plain]:
    """The book under the schema's keys; what equals the value of a left-out key is left out."""
    weather: dict[str, Plain] = given(file=book.weather_file)
    if book.stated_frost is not None:
        weather["stated_frost"] = _frost(book.stated_frost)
    return given(
        garden_book=BOOK_VERSION,
        site=_site(book.site),
        season=given(
            start=book.season_start,
            frost_risk_pct=book.frost_risk_pct,
            chance_wanted_pct=book.chance_wanted_pct,
        ),
        weather=weather,
        beds=tuple(_bed(bed) for bed in book.beds),
        history=tuple(_history(entry) for entry in book.history) or None,
        wishes=tuple(_wish(wish) for wish in book.wishes),
        neighbours=tuple(_neighbours(entry) for entry in book.neighbours) or None,
        goals=_goals(book.goals) or None,
        people=tuple(_hands(entry) for entry in book.people) or None,
        seed_drawer=tuple(_lot(lot) for lot in book.seed_drawer) or None,
        stock=tuple(_stock(entry) for entry in book.stock) or None,
        water=None if book.can_l is None else given(can_l=book.can_l),
        water_limits=tuple(water_limit_document(entry) for entry in book.water_limits) or None,
        manure=tuple(manure_document(entry) for entry in book.manure) or None,
        lead_rule=lead_rule_document(book.lead_rule) if book.lead_rule else None,
        workdays=tuple(workday_document(entry) for entry in book.workdays) or None,
        labour_rates=tuple(labour_rate_document(entry) for entry in book.labour_rates) or None,
        propagation=propagation_document(book.propagation) if book.propagation else None,
        suppliers=tuple(supplier_document(entry) for entry in book.suppliers) or None,
        pins=tuple(pin_document(pin) for pin in book.pins) or None,
        leave_alone=book.leave_alone or None,
        note=book.note or None,
    )


def _site(site: Site) -> dict[str, Plain]:
    return given(
        name=site.name,
        latitude_deg=site.latitude_deg,
        longitude_deg=site.longitude_deg,
        elevation_m=site.elevation_m,
        time_zone=site.time_zone,
        units=site.units,
        paper=site.paper,
        coordinator=site.coordinator or None,
        slope=given(slope_deg=site.slope_deg, aspect_deg=site.aspect_deg) if site.slope_deg else None,
        features=tuple(_feature(feature) for feature in site.features) or None,
    )


def _feature(feature: Feature) -> dict[str, Plain]:
    is_tree, is_point = feature.kind == "tree", len(feature.vertices_m) == 1
    return given(
        code=feature.code,
        kind=feature.kind,
        name=feature.name,
        at_m=feature.vertices_m[0] if is_point else None,
        vertices_m=None if is_point else feature.vertices_m,
        height_m=feature.height_m or None,
        crown_radius_m=feature.radius_m if is_tree and feature.radius_m else None,
        width_m=2 * feature.radius_m if not is_tree and feature.radius_m else None,
        crown_base_m=feature.crown_base_m or None,
        leafless_months=feature.leafless_months or None,
        flow_l_min=feature.flow_l_min,
        volume_l=feature.volume_l,
        roof_m2=feature.roof_m2,
    )


def _frost(frost: StatedFrost) -> dict[str, Plain]:
    return given(
        last_spring=f"{frost.last_spring[0]:02}-{frost.last_spring[1]:02}",
        first_autumn=f"{frost.first_autumn[0]:02}-{frost.first_autumn[1]:02}",
    )


def _bed(bed: Bed) -> dict[str, Plain]:
    outline = bed.outline
    return given(
        code=bed.code,
        name=bed.name or None,
        rectangle=_rectangle(outline) if isinstance(outline, Rectangle) else None,
        polygon=given(vertices_m=outline.vertices_m, bearing_deg=outline.bearing_deg)
        if isinstance(outline, Polygon)
        else None,
        circle=_circle(outline) if isinstance(outline, Circle) else None,
        texture=bed.texture,
        raised_m=bed.raised_m or None,
        soil_depth_m=bed.soil_depth_m,
        supports=tuple(
            given(kind=support.kind, side=support.side, height_m=support.height_m) for support in bed.supports
        )
        or None,
        reach=None if bed.reach == ALL_SIDES else bed.reach,
        stepping_boards=bed.stepping_boards or None,
        watering=None if bed.watering_reach == "hose" else bed.watering_reach,
        irrigation=bed.irrigation,
        mulch=bed.mulch_planned,
        sun_h=bed.sun_h,
        soil_test=_soil_test(bed.soil_test) if bed.soil_test else None,
        use=bed.use or None,
        children=bed.children or None,
    )


def _rectangle(shape: Rectangle) -> dict[str, Plain]:
    return given(
        length_m=shape.length_m,
        width_m=shape.width_m,
        east_m=shape.east_m,
        north_m=shape.north_m,
        bearing_deg=shape.bearing_deg,
    )


def _circle(shape: Circle) -> dict[str, Plain]:
    return given(
        radius_m=shape.radius_m,
        east_m=shape.east_m,
        north_m=shape.north_m,
        bearing_deg=shape.bearing_deg,
    )


def _soil_test(test: SoilTest) -> dict[str, Plain]:
    return given(
        sampled_on=test.sampled_on,
        laboratory=test.laboratory,
        ph=test.ph,
        p_mg_kg=test.p_mg_kg,
        k_mg_kg=test.k_mg_kg,
        organic_matter_pct=test.organic_matter_pct,
        lead_mg_kg=test.lead_mg_kg,
        extraction=test.extraction or None,
        lime_g_m2=test.lime_g_m2,
    )


def _history(entry: History) -> dict[str, Plain]:
    nothing = not entry.crops and not entry.families
    return given(
        bed=entry.bed_code,
        year=entry.year,
        crops=entry.crops if entry.crops or nothing else None,
        families=entry.families or None,
    )


def _wish(wish: Wish) -> dict[str, Plain]:
    amount = wish.amount
    document = given(code=wish.code, crop=wish.crop)
    document[amount.unit] = amount.value
    return document | given(
        variety=_variety(wish.variety) if wish.variety else None,
        priority=wish.priority,
        way=wish.way,
        beds=given(only=wish.only_beds or None, not_=wish.not_beds or None) or None,
        harvest=given(from_=wish.harvest_from, to=wish.harvest_to) or None,
        successions=None if wish.successions == 1 else wish.successions,
        layout=None if wish.layout == "rows" else wish.layout,
        note=wish.note or None,
    )


def _variety(variety: Variety) -> Plain:
    document = given(
        name=variety.name,
        days_to_maturity_days=variety.days_to_maturity_days,
        in_row_spacing_cm=variety.in_row_spacing_cm,
        row_spacing_cm=variety.row_spacing_cm,
        sow_depth_mm=variety.sow_depth_mm,
        height_cm=variety.height_cm,
        packet_seeds=variety.packet_seeds,
    )
    return variety.name if len(document) == 1 else document


def _neighbours(entry: NeighbourWish) -> dict[str, Plain]:
    pair = (entry.crop_a, entry.crop_b)
    return given(
        together=pair if entry.wanted else None,
        apart=None if entry.wanted else pair,
        reason=entry.reason or None,
    )


def _goals(goals: Goals) -> dict[str, Plain]:
    return given(
        teaching=goals.teaching or None,
        donation_kg=goals.donation_kg or None,
        donation_weekdays=tuple(WEEKDAYS[number - 1] for number in goals.donation_weekdays) or None,
        quiet_weeks=tuple(
            given(name=period.name, start=period.start, end=period.end) for period in goals.quiet_weeks
        )
        or None,
    )


def _hands(entry: HelpingHands) -> dict[str, Plain]:
    return given(
        name=entry.name,
        hours_per_week=entry.hours_per_week,
        start=entry.start,
        end=entry.end,
        paid=entry.paid or None,
    )


def _lot(lot: SeedLot) -> dict[str, Plain]:
    tested = lot.tested_sown is not None and lot.tested_sprouted is not None
    return given(
        code=lot.code,
        crop=lot.crop,
        variety=lot.variety or None,
        packed_year=lot.packed_year,
        mass_g=lot.mass_g,
        count=lot.count,
        germination_test=given(sown=lot.tested_sown, sprouted=lot.tested_sprouted) if tested else None,
    )


def _stock(entry: Stock) -> dict[str, Plain]:
    document = given(material=entry.material)
    document[_STOCK_KEYS[entry.unit]] = entry.quantity
    return document
