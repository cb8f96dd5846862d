"""Hypothesis strategies for gardens that the reader accepts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any, TypeVar, get_args

from hypothesis import strategies as st

from bedwright.model import book, bounds
from bedwright.model.bounds import Bounds
from bedwright.model.ground import Circle, Outline, Point, Polygon, Rectangle, Side
from bedwright.model.safety import ManureSpread
from tests.builders import TINY_FAMILIES

T = TypeVar("T")
Draw = Callable[[st.SearchStrategy[Any]], Any]

SEASON_START = date(2027, 1, 1)
CELL_M = 50.0
"""Beds are drawn one to a cell, so that none lies on another."""
ZONES = (("Europe/London", 0.0), ("America/New_York", -75.0), ("Australia/Sydney", 150.0), ("UTC", 0.0))
CROPS = st.sampled_from(sorted(TINY_FAMILIES))
FAMILIES = st.sampled_from(sorted(set(TINY_FAMILIES.values())))
SIDES = st.sampled_from(get_args(Side))


def within(limits: Bounds) -> st.SearchStrategy[float]:
    """Any number of a range."""
    return st.floats(limits.low, limits.high)


def whole_within(limits: Bounds) -> st.SearchStrategy[int]:
    """Any whole number of a range."""
    return st.integers(int(limits.low), int(limits.high))


def names(longest: int = 12) -> st.SearchStrategy[str]:
    """Words in any script, on one line."""
    visible = st.characters(codec="utf-8", categories=("L", "M", "N", "P", "S"))
    rest = st.text(st.one_of(visible, st.just(" ")), max_size=longest - 1)
    return st.tuples(visible, rest).map(lambda parts: "".join(parts).strip())


def notes() -> st.SearchStrategy[str]:
    """Some lines of words, or nothing."""
    lines = st.lists(st.one_of(st.just(""), names(), names().map(lambda line: "  " + line)), max_size=4)
    return lines.map(lambda found: "\n".join(found).strip())


def days(first: date = SEASON_START, n_days: int = 700) -> st.SearchStrategy[date]:
    """Days in reach of the season."""
    return st.integers(0, n_days).map(lambda n: first + timedelta(days=n))


def _maybe(strategy: st.SearchStrategy[T]) -> st.SearchStrategy[T | None]:
    return st.one_of(st.none(), strategy)


def _span() -> st.SearchStrategy[tuple[date, date]]:
    return st.tuples(days(), days()).map(lambda pair: (min(pair), max(pair)))


def outlines(east_m: float = 0.0, north_m: float = 0.0) -> st.SearchStrategy[Outline]:
    """Beds of any shape with their peg or centre near a point, less than half a cell large."""
    bearing_deg = within(bounds.BEARING_DEG)
    arm_m = st.floats(1.2, 5)
    rectangles = st.builds(
        Rectangle, st.floats(0.3, 20), st.floats(0.2, 5), st.just(east_m), st.just(north_m), bearing_deg
    )
    circles = st.builds(
        Circle, st.floats(0.15, 10), st.just(east_m), st.just(north_m), bearing_deg=bearing_deg
    )
    corners = st.tuples(arm_m, arm_m, st.floats(0.3, 1)).map(lambda arms: _two_arms(east_m, north_m, *arms))
    return st.one_of(rectangles, circles, st.builds(Polygon, corners, bearing_deg))


def _two_arms(
    east_m: float, north_m: float, along_m: float, up_m: float, width_m: float
) -> tuple[Point, ...]:
    """Corners of a bed with two arms that meet at a right angle."""
    corners = (
        (0.0, 0.0),
        (along_m, 0.0),
        (along_m, width_m),
        (width_m, width_m),
        (width_m, up_m),
        (0.0, up_m),
    )
    return tuple((east_m + east, north_m + north) for east, north in corners)


def soil_tests() -> st.SearchStrategy[book.SoilTest]:
    """Reports, with or without each figure."""
    return st.builds(
        book.SoilTest,
        sampled_on=days(),
        laboratory=names(),
        ph=_maybe(within(bounds.SOIL_PH)),
        p_mg_kg=_maybe(within(bounds.SOIL_NUTRIENT_MG_KG)),
        k_mg_kg=_maybe(within(bounds.SOIL_NUTRIENT_MG_KG)),
        organic_matter_pct=_maybe(within(bounds.ORGANIC_MATTER_PCT)),
        lead_mg_kg=_maybe(within(bounds.LEAD_MG_KG)),
        extraction=st.one_of(st.just(""), names()),
        lime_g_m2=_maybe(within(bounds.LIME_G_M2)),
    )


def supports() -> st.SearchStrategy[book.Support]:
    """Lasting supports."""
    kinds = st.sampled_from(get_args(book.SupportKind))
    return st.builds(book.Support, kinds, SIDES, within(bounds.SUPPORT_HEIGHT_M))


WATERED: tuple[tuple[book.WateringReach, book.WateringWay | None], ...] = (
    *(("hose", way) for way in (None, *get_args(book.WateringWay))),
    ("can", None),
    ("can", "can"),
    ("none", None),
)
"""What reaches a bed, with the ways that leaves of putting water on."""


@st.composite
def beds(draw: Draw, code: str = "A", east_m: float = 0.0, north_m: float = 0.0) -> book.Bed:
    """A bed near a point."""
    reach, irrigation = draw(st.sampled_from(WATERED))
    made = st.builds(
        book.Bed,
        code=st.just(code),
        name=st.one_of(st.just(""), names()),
        outline=outlines(east_m, north_m),
        texture=st.sampled_from(get_args(book.Texture)),
        raised_m=within(bounds.BED_HEIGHT_M),
        soil_depth_m=_maybe(within(bounds.SOIL_DEPTH_M)),
        supports=st.lists(supports(), max_size=2).map(tuple),
        reach=st.lists(SIDES, min_size=1, max_size=4, unique=True).map(tuple),
        watering_reach=st.just(reach),
        sun_h=_maybe(within(bounds.SUN_H)),
        soil_test=_maybe(soil_tests()),
        use=st.one_of(st.just(""), names()),
        irrigation=st.just(irrigation),
        mulch_planned=st.sampled_from((None, True, False)),
        children=st.booleans(),
        stepping_boards=st.booleans(),
    )
    bed: book.Bed = draw(made)
    return bed


@st.composite
def features(draw: Draw, code: str = "F1") -> book.Feature:
    """Trees and things of other kinds."""
    kind = draw(st.sampled_from(get_args(book.FeatureKind)))
    height_m = draw(within(bounds.FEATURE_HEIGHT_M))
    # Twice a half is exact, so that a width read back gives the same half-width.
    breadth = bounds.CROWN_RADIUS_M if kind == "tree" else Bounds(0.01, 5, "m")
    points = st.tuples(within(bounds.POSITION_M), within(bounds.POSITION_M))
    return book.Feature(
        code=code,
        kind=kind,
        name=draw(names()),
        vertices_m=tuple(draw(st.lists(points, min_size=1, max_size=4))),
        height_m=height_m,
        radius_m=draw(st.one_of(st.just(0.0), within(breadth))),
        crown_base_m=draw(st.floats(0, min(height_m, bounds.CROWN_BASE_M.high))),
        leafless_months=tuple(draw(st.lists(st.integers(1, 12), max_size=3, unique=True))),
        flow_l_min=draw(_maybe(within(bounds.TAP_FLOW_L_MIN))) if kind == "tap" else None,
        volume_l=draw(_maybe(within(bounds.TANK_L))) if kind == "water butt" else None,
        roof_m2=draw(_maybe(within(bounds.ROOF_M2))) if kind == "water butt" else None,
    )


@st.composite
def sites(draw: Draw) -> book.Site:
    """Sites whose longitude suits their clocks."""
    time_zone, meridian_deg = draw(st.sampled_from(ZONES))
    n_features = draw(st.integers(0, 2))
    sloping = draw(st.booleans())
    return book.Site(
        name=draw(names()),
        latitude_deg=draw(within(bounds.LATITUDE_DEG)),
        longitude_deg=draw(st.floats(meridian_deg - 29, meridian_deg + 29)),
        elevation_m=draw(within(bounds.ELEVATION_M)),
        time_zone=time_zone,
        units=draw(st.sampled_from(get_args(book.UnitSystem))),
        paper=draw(st.sampled_from(get_args(book.PaperSize))),
        features=tuple(draw(features(f"F{n}")) for n in range(n_features)),
        coordinator=draw(st.one_of(st.just(""), names())),
        slope_deg=draw(within(bounds.Bounds(0.01, bounds.SLOPE_DEG.high, ""))) if sloping else 0.0,
        aspect_deg=draw(within(bounds.BEARING_DEG)) if sloping else 0.0,
    )


def amounts() -> st.SearchStrategy[book.Amount]:
    """Amounts in each of the three units."""
    return st.one_of(
        st.builds(book.Amount, whole_within(bounds.AMOUNT_PLANTS).map(float), st.just("plants")),
        st.builds(book.Amount, within(bounds.AMOUNT_ROW_M), st.just("row_m")),
        st.builds(book.Amount, within(bounds.AMOUNT_HARVEST_KG), st.just("harvest_kg")),
    )


def varieties() -> st.SearchStrategy[book.Variety]:
    """Packets not too unlike the tiny catalogue's crops."""
    return st.builds(
        book.Variety,
        names(),
        days_to_maturity_days=_maybe(st.floats(30, 200)),
        in_row_spacing_cm=_maybe(st.floats(3, 50)),
        row_spacing_cm=_maybe(st.floats(10, 100)),
        sow_depth_mm=_maybe(st.floats(2, 60)),
        height_cm=_maybe(st.floats(10, 200)),
        packet_seeds=_maybe(whole_within(bounds.PACKET_SEEDS)),
    )


@st.composite
def wishes(draw: Draw, code: str, bed_codes: tuple[str, ...]) -> book.Wish:
    """A wish with some of its beds wanted and others refused."""
    order = draw(st.permutations(bed_codes))
    n_only = draw(st.integers(0, len(order)))
    harvest = draw(_maybe(_span()))
    successions = st.one_of(whole_within(bounds.SUCCESSIONS), st.just("keep picking"))
    return book.Wish(
        code=code,
        crop=draw(CROPS),
        amount=draw(amounts()),
        variety=draw(_maybe(varieties())),
        priority=draw(whole_within(bounds.PRIORITY)),
        way=draw(st.sampled_from((None, *get_args(book.Way)))),
        only_beds=tuple(order[:n_only]),
        not_beds=tuple(order[n_only:]) if draw(st.booleans()) else (),
        harvest_from=harvest[0] if harvest and draw(st.booleans()) else None,
        harvest_to=harvest[1] if harvest and draw(st.booleans()) else None,
        successions=draw(successions),
        note=draw(notes()),
        layout=draw(st.sampled_from(get_args(book.Layout))),
    )


def histories(bed_codes: tuple[str, ...]) -> st.SearchStrategy[book.History]:
    """Earlier years; a family alone now and then."""
    return st.builds(
        book.History,
        st.sampled_from(bed_codes),
        st.integers(int(bounds.YEAR.low), SEASON_START.year - 1),
        st.lists(CROPS, max_size=2, unique=True).map(tuple),
        families=st.lists(FAMILIES, max_size=2, unique=True).map(tuple),
    ).filter(lambda entry: bool(entry.crops or entry.families))


def goals() -> st.SearchStrategy[book.Goals]:
    """Goals with any of their parts."""
    periods = st.builds(lambda name, span: book.Period(name, span[0], span[1]), names(), _span())
    return st.builds(
        book.Goals,
        teaching=notes(),
        donation_kg=within(bounds.DONATION_KG),
        donation_weekdays=st.lists(st.integers(1, 7), max_size=3, unique=True).map(tuple),
        quiet_weeks=st.lists(periods, max_size=2).map(tuple),
    )


def hands() -> st.SearchStrategy[book.HelpingHands]:
    """Hours promised."""
    return st.builds(
        lambda name, hours, span, paid: book.HelpingHands(name, hours, span[0], span[1], paid),
        names(),
        within(bounds.HOURS_PER_WEEK),
        _span(),
        st.booleans(),
    )


@st.composite
def seed_lots(draw: Draw, code: str) -> book.SeedLot:
    """Packets with or without a test of their own."""
    sown = draw(_maybe(whole_within(bounds.GERMINATION_TEST_SEEDS)))
    return book.SeedLot(
        code=code,
        crop=draw(CROPS),
        variety=draw(st.one_of(st.just(""), names())),
        packed_year=draw(st.integers(1990, SEASON_START.year)),
        mass_g=draw(_maybe(within(bounds.SEED_MASS_G))),
        count=draw(_maybe(whole_within(bounds.SEED_COUNT))),
        tested_sown=sown,
        tested_sprouted=None if sown is None else draw(st.integers(0, sown)),
    )


def stocks() -> st.SearchStrategy[book.Stock]:
    """Materials in any unit."""
    units = st.sampled_from(("L", "kg", "m", "pieces"))
    return st.builds(book.Stock, names(), within(bounds.STOCK_M), units)


def neighbour_wishes() -> st.SearchStrategy[book.NeighbourWish]:
    """Rules on two different crops."""
    pairs = st.lists(CROPS, min_size=2, max_size=2, unique=True)
    return st.builds(
        lambda pair, wanted, reason: book.NeighbourWish(pair[0], pair[1], wanted, reason),
        pairs,
        st.booleans(),
        st.one_of(st.just(""), names()),
    )


def manures(bed_codes: tuple[str, ...]) -> st.SearchStrategy[ManureSpread]:
    """Manure of either kind, before the season or in it."""
    first = SEASON_START + timedelta(days=int(bounds.MANURE_REACH_DAYS.low))
    return st.builds(ManureSpread, st.sampled_from(bed_codes), days(first, 1400), names(), st.booleans())


@st.composite
def workdays(draw: Draw) -> book.PlannedWorkday:
    """Workdays over by midnight."""
    start_min = draw(st.integers(0, 1380))
    return book.PlannedWorkday(
        day=draw(days()),
        name=draw(names()),
        start_min=start_min,
        duration_h=draw(st.floats(0.5, min(bounds.WORKDAY_HOURS.high, (1440 - start_min) / 60))),
        n_people=draw(_maybe(whole_within(bounds.WORKDAY_PEOPLE))),
    )


@st.composite
def labour_rates(draw: Draw, job: book.Job) -> book.StatedRate:
    """One figure, or three that do not fall."""
    figures = sorted(draw(st.lists(within(bounds.LABOUR_MIN_EACH), min_size=3, max_size=3)))
    if draw(st.booleans()):
        return book.StatedRate(job, figures[1])
    return book.StatedRate(job, figures[1], figures[0], figures[2])


@st.composite
def water_limits(draw: Draw) -> book.WaterLimit:
    """A limit in a period of the season."""
    start, end = draw(_span())
    return book.WaterLimit(draw(names()), draw(within(bounds.WEEK_WATER_L)), start, end)


@st.composite
def propagations(draw: Draw) -> book.Propagation:
    """Room with at least one limit."""
    return book.Propagation(
        bench_m2=draw(_maybe(within(bounds.BENCH_M2))),
        lamp_m2=draw(_maybe(within(bounds.BENCH_M2))),
        n_trays=draw(whole_within(bounds.TRAYS)),
    )


def packs() -> st.SearchStrategy[book.PackOffer]:
    """Packs of crops and of materials, each in a unit that suits it."""
    seeds = st.tuples(whole_within(bounds.PACK_SEEDS).map(float), st.just("seeds"))
    plants = st.tuples(whole_within(bounds.PACK_PLANTS).map(float), st.just("plants"))
    mass = st.tuples(within(bounds.PACK_G), st.just("g"))
    volume = st.tuples(within(bounds.PACK_L), st.just("L"))
    length = st.tuples(within(bounds.PACK_M), st.just("m"))
    pieces = st.tuples(whole_within(bounds.PACK_PIECES).map(float), st.just("pieces"))
    price = within(bounds.PRICE)
    variety = st.one_of(st.just(""), names())
    of_crops = st.builds(
        lambda crop, size, price, variety: book.PackOffer(crop, True, size[0], size[1], price, variety),
        CROPS,
        st.one_of(seeds, plants, mass),
        price,
        variety,
    )
    of_materials = st.builds(
        lambda name, size, price: book.PackOffer(name, False, size[0], size[1], price),
        names(),
        st.one_of(mass, volume, length, pieces),
        price,
    )
    return st.one_of(of_crops, of_materials)


def _pack_key(pack: book.PackOffer) -> tuple[str, str, str, float]:
    return pack.item.casefold(), pack.variety.casefold(), pack.unit, pack.pack_quantity


def suppliers() -> st.SearchStrategy[book.Supplier]:
    """Suppliers with a few packs."""
    return st.builds(
        book.Supplier,
        names(),
        st.sampled_from(("GBP", "USD", "EUR")),
        st.lists(packs(), min_size=1, max_size=3, unique_by=_pack_key).map(tuple),
        _maybe(whole_within(bounds.LEAD_DAYS)),
    )


@st.composite
def lead_rules(draw: Draw) -> book.StatedLeadRule:
    """Rules whose levels stand in order."""
    low, screening, high = sorted(draw(st.lists(within(bounds.LEAD_LEVEL_MG_KG), min_size=3, max_size=3)))
    return book.StatedLeadRule(
        authority=draw(names()),
        issued=draw(days(date(2020, 1, 1))),
        screening_mg_kg=screening,
        source_text=draw(names()),
        several_sources_mg_kg=low if draw(st.booleans()) else None,
        removal_mg_kg=high if draw(st.booleans()) else None,
    )


@st.composite
def pins(draw: Draw, wish: book.Wish, garden_beds: tuple[book.Bed, ...]) -> book.Pin | None:
    """A pin that the wish allows; None where it allows no bed."""
    allowed = [
        bed
        for bed in garden_beds
        if bed.code not in wish.not_beds and (not wish.only_beds or bed.code in wish.only_beds)
    ]
    if not allowed:
        return None
    bed = draw(st.sampled_from(allowed))
    ordinals = 20 if wish.successions == "keep picking" else wish.successions
    ordinal = draw(st.integers(1, ordinals))
    place = draw(st.sampled_from(("", "-b", "-2")))
    most = int(wish.amount.value) if wish.amount.unit == "plants" else 100
    length_m = min(bed.frame.length_m, bounds.ALONG_M.high)
    return book.Pin(
        planting_code=f"{wish.code}{f'/{ordinal}' if ordinal > 1 else ''}{place}",
        bed_code=bed.code,
        along_m=draw(_maybe(st.floats(0, length_m, exclude_max=True))),
        in_ground=draw(_maybe(days())),
        n_plants=draw(_maybe(st.integers(1, most))),
    )


def _stated_frost(latitude_deg: float) -> st.SearchStrategy[book.StatedFrost]:
    early = st.tuples(st.integers(1, 6), st.integers(1, 28))
    late = st.tuples(st.integers(7, 12), st.integers(1, 28))
    northern = latitude_deg >= 0
    return st.builds(book.StatedFrost, early if northern else late, late if northern else early)


@st.composite
def books(draw: Draw, most_beds: int = 3) -> book.GardenBook:
    """Whole garden books on the crops of `tiny_catalogue()`."""
    site = draw(sites())
    codes = tuple("ABCDEFGH"[: draw(st.integers(1, most_beds))])
    weather_file = draw(_maybe(st.sampled_from(("weather.csv", "records/station 1.csv"))))
    frost = _stated_frost(site.latitude_deg)
    n_wishes, n_lots = draw(st.integers(0, 3)), draw(st.integers(0, 2))
    entries = draw(st.lists(histories(codes), max_size=2))
    garden_beds = tuple(draw(beds(code, n * CELL_M, 0.0)) for n, code in enumerate(codes))
    garden_wishes = tuple(draw(wishes(f"wish {n}", codes)) for n in range(n_wishes))
    jobs = draw(st.lists(st.sampled_from(get_args(book.Job)), max_size=2, unique=True))
    sellers = st.lists(suppliers(), max_size=2, unique_by=lambda seller: seller.name.casefold())
    dates = st.lists(workdays(), max_size=2, unique_by=lambda entry: (entry.day, entry.name.casefold()))
    pinned = [draw(pins(wish, garden_beds)) for wish in garden_wishes if draw(st.booleans())]
    return book.GardenBook(
        site=site,
        season_start=SEASON_START,
        beds=garden_beds,
        wishes=garden_wishes,
        weather_file=weather_file,
        stated_frost=draw(_maybe(frost) if weather_file else frost),
        frost_risk_pct=draw(within(bounds.FROST_RISK_PCT)),
        chance_wanted_pct=draw(within(bounds.CHANCE_WANTED_PCT)),
        history=tuple(entries),
        neighbours=tuple(draw(st.lists(neighbour_wishes(), max_size=2))),
        goals=draw(goals()),
        people=tuple(draw(st.lists(hands(), max_size=2))),
        seed_drawer=tuple(draw(seed_lots(f"S{n}")) for n in range(n_lots)),
        stock=tuple(draw(st.lists(stocks(), max_size=2))),
        note=draw(notes()),
        can_l=draw(_maybe(within(bounds.CAN_L))),
        manure=tuple(draw(st.lists(manures(codes), max_size=2))),
        workdays=tuple(draw(dates)),
        labour_rates=tuple(draw(labour_rates(job)) for job in jobs),
        propagation=draw(_maybe(propagations())),
        water_limits=tuple(draw(st.lists(water_limits(), max_size=2))),
        suppliers=tuple(draw(sellers)),
        lead_rule=draw(_maybe(lead_rules())),
        pins=tuple(pin for pin in pinned if pin is not None),
        leave_alone=tuple(draw(st.lists(st.sampled_from(codes), max_size=2, unique=True))),
    )
