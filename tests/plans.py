"""A made-up season plan to try the papers on: invented garden, invented numbers."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from bedwright.model.book import (
    Amount,
    Bed,
    Feature,
    GardenBook,
    HelpingHands,
    Site,
    Support,
    Variety,
    Way,
    Wish,
)
from bedwright.model.crop import Crop, Fact, GerminationPoint
from bedwright.model.ground import Circle, Polygon, Rectangle
from bedwright.model.season import (
    BedSun,
    Climate,
    DateChoice,
    DrawerUse,
    FrostQuantile,
    FrostTable,
    MonthClimate,
    OrderLine,
    Planting,
    Reason,
    Row,
    RowDirection,
    SeasonPlan,
    Shortfall,
    Task,
)
from bedwright.model.source import Origin, Source, Standing

SOURCES = {
    "TRIAL_A": Source("TRIAL_A", "Invented Growers' Bulletin 12, table 3 (made up for tests)", "made up"),
    "TRIAL_B": Source("TRIAL_B", "Invented Extension Leaflet 7 (made up for tests)", "made up"),
    "PRACTICE": Source("PRACTICE", "Common practice, no source", "nothing to see"),
    "MEMORY": Source("MEMORY", "From memory, no copy seen: a first guess", "nothing to see"),
}


def fact(quantity: str, value: float, unit: str, source: str, standing: Standing, used: bool = True) -> Fact:
    return Fact(quantity, value, value, "", unit, source, "table 3", standing, used)


def crop(  # noqa: PLR0917
    name: str,
    latin: str,
    code: str,
    group: str,
    in_row_m: float,
    row_m: float,
    depth_mm: float,
    spread_m: float,
    ways: tuple[Way, ...] = ("sow",),
    **changes: object,
) -> Crop:
    base = Crop(
        name=name,
        latin_name=latin,
        plan_code=code,
        kind="vegetable",
        family=group,
        rotation_group=group,
        life_cycle="annual",
        ways=ways,
        in_row_spacing_m=in_row_m,
        row_spacing_m=row_m,
        sow_depth_mm=depth_mm,
        seeds_per_station=2,
        weeks_raised=6.0 if ways[0] != "sow" else None,
        germination=(GerminationPoint(10.0, 15.0, 80.0, True), GerminationPoint(20.0, 7.0, 92.0, True)),
        soil_temp_min_c=7.0,
        soil_temp_max_c=30.0,
        days_to_maturity_days=(55.0, 70.0),
        maturity_basis="sowing" if ways[0] == "sow" else "setting out",
        harvest_span_days=30.0,
        degree_day_base_c=None,
        degree_days_to_maturity=None,
        frost_class="half-hardy",
        frost_kill_c=-2.0,
        heat_limit_c=None,
        height_m=0.6,
        spread_m=spread_m,
        support="none",
        climbs=False,
        roots="tease",
        stem_depth="level with the cell",
        soak_cell=True,
        yield_kg_per_m_row=2.0,
        yield_kg_per_plant=None,
        seeds_per_gram=60.0,
        seed_life_years=4.0,
        federal_germination_pct=65.0,
        min_sun_h=5.0,
        edible_parts=("roots", "leaves"),
        poisonous_parts=(),
        water=None,
        facts=(
            fact("sow_depth_mm", depth_mm, "mm", "TRIAL_A", "read"),
            fact("sow_depth_mm", depth_mm + 6, "mm", "PRACTICE", "practice", used=False),
            fact("in_row_spacing_cm", in_row_m * 100, "cm", "TRIAL_B", "read"),
            fact("row_spacing_cm", row_m * 100, "cm", "MEMORY", "memory"),
        ),
    )
    return replace(base, **changes)  # type: ignore[arg-type]


BEET = crop("beet", "Beta vulgaris", "BET", "goosefoot", 0.10, 0.30, 13, 0.25)
CARROT = crop("carrot", "Daucus carota subsp. sativus", "CAR", "umbellifer", 0.05, 0.25, 6, 0.15)
BEAN = crop("bush bean", "Phaseolus vulgaris", "BEA", "legume", 0.10, 0.45, 25, 0.35)
POLE = crop(
    "pole bean", "Phaseolus vulgaris", "POL", "legume", 0.20, 0.6, 25, 0.4,
    climbs=True, support="trellis", poisonous_parts=("raw beans",), edible_parts=("cooked pods",),
)  # fmt: skip
TOMATO = crop(
    "tomato", "Solanum lycopersicum", "TOM", "solanum", 0.60, 0.80, 6, 0.60, ("raise", "buy"),
    support="cane", stem_depth="bury to first leaves", poisonous_parts=("leaves", "stems"),
    edible_parts=("ripe fruits",),
)  # fmt: skip
LETTUCE = crop("lettuce", "Lactuca sativa", "LET", "daisy", 0.25, 0.30, 6, 0.28, ("raise", "sow"))
ONION = crop("onion", "Allium cepa", "ONI", "allium", 0.10, 0.25, 10, 0.15, ("buy",))
SQUASH = crop(
    "summer squash", "Cucurbita pepo", "SQU", "cucurbit", 0.90, 1.0, 25, 1.0, ("raise", "sow"),
    roots="leave undisturbed",
)  # fmt: skip
KALE = crop("kale", "Brassica oleracea (Acephala group)", "KAL", "brassica", 0.45, 0.5, 12, 0.5, ("raise",))
CORN = crop("sweet corn", "Zea mays", "COR", "grass", 0.45, 0.45, 25, 0.4)


def bed(code: str, name: str, outline: Rectangle | Circle | Polygon, **changes: object) -> Bed:
    base = Bed(code=code, name=name, outline=outline, texture="loam", raised_m=0.25)
    return replace(base, **changes)  # type: ignore[arg-type]


def beds() -> tuple[Bed, ...]:
    ell = ((9.0, 0.0), (12.0, 0.0), (12.0, 1.2), (10.2, 1.2), (10.2, 3.6), (9.0, 3.6))
    return (
        bed("A", "Long bed", Rectangle(4.8, 1.2, 0.0, 0.0, 0.0)),
        bed("B", "School bed", Rectangle(4.8, 1.2, 2.4, 4.8, 180.0), use="school bed"),
        bed(
            "C",
            "Slant bed",
            Rectangle(3.6, 1.2, 4.6, 0.5, 30.0),
            supports=(Support("trellis", "north", 1.8),),
        ),
        bed("D", "Herb round", Circle(1.2, 6.0, 5.6, 90.0)),
        bed("E", "Corner bed", Polygon(ell, 0.0)),
    )


def features() -> tuple[Feature, ...]:
    return (
        Feature("F1", "building", "Barn", ((-1.0, 7.5), (5.0, 7.5), (5.0, 10.0), (-1.0, 10.0)), height_m=5.0),
        Feature("F2", "wall", "South wall", ((-1.5, -1.5), (13.0, -1.5)), height_m=1.8),
        Feature("F3", "tree", "Old pear", ((10.5, 7.0),), height_m=7.0, radius_m=1.8),
        Feature("F4", "path", "Main path", ((3.2, -1.4), (3.2, 7.4)), radius_m=0.4),
        Feature("F5", "tap", "Tap", ((5.6, 7.2),)),
        Feature("F6", "utility", "Water pipe", ((5.6, 7.2), (8.2, 4.0), (8.2, -1.5))),
        Feature("F7", "hedge", "Beech hedge", ((13.0, -1.5), (13.0, 9.0)), height_m=1.5, radius_m=0.3),
    )


def choice(in_ground: date, until: date, raised_weeks: int = 0) -> DateChoice:
    first = in_ground + (until - in_ground) * 2 // 3
    return DateChoice(
        sow_under_cover=in_ground - timedelta(weeks=raised_weeks) if raised_weeks else None,
        harden_off_from=in_ground - timedelta(days=10) if raised_weeks else None,
        in_ground=in_ground,
        emerges=None if raised_weeks else in_ground + timedelta(days=9),
        first_pick=first,
        first_pick_early=first - timedelta(days=4),
        first_pick_late=first + timedelta(days=6),
        last_pick=until - timedelta(days=3),
        clear_by=until,
        chance=0.87,
        n_years=30,
        failures=(("killing frost", 0.1), ("heat", 0.03)),
    )


class _Rows:
    """Numbers the rows of each bed in the order they are asked for."""

    def __init__(self) -> None:
        self.used: dict[str, int] = {}

    def code(self, bed_code: str) -> str:
        self.used[bed_code] = self.used.get(bed_code, 0) + 1
        return f"{bed_code}{self.used[bed_code]}"


def planting(  # noqa: PLR0917
    rows: _Rows,
    code: str,
    what: Crop,
    bed_code: str,
    along_m: tuple[float, float],
    across_m: tuple[float, float],
    dates: DateChoice,
    variety: str = "",
    direction: RowDirection = "along",
) -> Planting:
    (a0, a1), (c0, c1) = along_m, across_m
    run_from, run_to, side_from, side_to = (a0, a1, c0, c1) if direction == "along" else (c0, c1, a0, a1)
    n_rows = max(1, int((side_to - side_from) / what.row_spacing_m + 1e-9))
    n_plants = max(1, int((run_to - run_from) / what.in_row_spacing_m + 1e-9))
    start = run_from + (run_to - run_from - (n_plants - 1) * what.in_row_spacing_m) / 2
    end = start + (n_plants - 1) * what.in_row_spacing_m
    made = []
    for k in range(n_rows):
        side = side_from + (side_to - side_from) * (2 * k + 1) / (2 * n_rows)
        first, last = ((start, side), (end, side)) if direction == "along" else ((side, start), (side, end))
        spacing = what.in_row_spacing_m if n_plants > 1 else 0.0
        made.append(Row(rows.code(bed_code), first, last, n_plants, spacing))
    return Planting(
        code=code,
        wish_code=code.split("/", maxsplit=1)[0],
        crop=what,
        variety=variety,
        way=what.ways[0],
        bed_code=bed_code,
        along_m=along_m,
        across_m=across_m,
        direction=direction,
        rows=tuple(made),
        dates=dates,
        reasons=(Reason("sun", "The bed gets 7.5 h of sun in June; 5 h are needed.", 1.0, ("TRIAL_A",)),),
        origins=(Origin("in_row_spacing_m", what.in_row_spacing_m, "as printed", ("TRIAL_B",), "read"),),
    )


def plantings(year: int = 2026) -> tuple[Planting, ...]:
    rows = _Rows()

    def day(month: int, number: int) -> date:
        return date(year, month, number)

    spring, summer = choice(day(4, 2), day(6, 20)), choice(day(6, 28), day(10, 15))
    tender = choice(day(5, 20), day(10, 5), 6)
    return (
        planting(rows, "beet", BEET, "A", (0.0, 2.4), (0.0, 1.2), spring, "Ruby Globe"),
        planting(
            rows, "carrot", CARROT, "A", (2.4, 4.8), (0.0, 1.2), choice(day(4, 10), day(8, 1)), "Longfield"
        ),
        planting(rows, "bean", BEAN, "A", (0.0, 2.4), (0.0, 1.2), summer, "Bright Pod"),
        planting(rows, "tomato", TOMATO, "B", (0.0, 4.8), (0.0, 0.8), tender, "Market Red"),
        planting(rows, "lettuce", LETTUCE, "B", (0.0, 1.5), (0.8, 1.2), choice(day(4, 15), day(6, 5), 4)),
        planting(rows, "lettuce/2", LETTUCE, "B", (1.5, 3.0), (0.8, 1.2), choice(day(5, 5), day(6, 25), 4)),
        planting(
            rows, "pole", POLE, "C", (0.0, 3.6), (0.0, 0.6), choice(day(5, 15), day(9, 25)), "Tall Green"
        ),
        planting(
            rows, "onion", ONION, "C", (0.0, 3.6), (0.6, 1.2), choice(day(3, 25), day(8, 10)), "Stuttg. Gold"
        ),
        planting(
            rows, "squash", SQUASH, "D", (0.3, 2.1), (0.7, 1.7), choice(day(5, 25), day(9, 20), 3), "Zephyr"
        ),
        planting(rows, "kale", KALE, "E", (0.0, 1.2), (0.0, 2.8), choice(day(7, 5), day(12, 20), 5), "Curly"),
        planting(
            rows, "corn", CORN, "E", (1.2, 3.6), (0.0, 1.2), choice(day(5, 12), day(9, 5)), "", "across"
        ),
    )


def tasks(planted: tuple[Planting, ...]) -> tuple[Task, ...]:
    made = []
    for p in planted:
        d = p.dates
        put_in = "sow" if p.way == "sow" else "set out"
        made.append(
            Task(
                f"{p.code}-{put_in}-1", put_in, d.in_ground, d.in_ground + timedelta(days=4), p.bed_code,
                p.code, f"{put_in.capitalize()} {p.crop.name}, {p.rows[0].code}",
                "Water in; keep the string tight.",
                ("TRIAL_A",),
            )
        )  # fmt: skip
        made.append(
            Task(f"{p.code}-pick-1", "pick", d.first_pick, d.last_pick, p.bed_code, p.code,
                 f"Pick {p.crop.name}", "Wash hands first; clean crates.")
        )  # fmt: skip
    first = min(p.dates.in_ground for p in planted)
    made.append(
        Task("order-1", "order", first - timedelta(weeks=6), first - timedelta(weeks=5), None, None,
             "Order seed", "See the order list.")
    )  # fmt: skip
    return tuple(sorted(made, key=lambda task: (task.start, task.code)))


def orders(planted: tuple[Planting, ...]) -> tuple[OrderLine, ...]:
    lines = []
    for p in planted:
        buys = p.way == "buy"
        drawer = (DrawerUse("lot-1", 40, 82.0, 74.0, 88.0, "own test, 100 sown"),) if p.crop is BEET else ()
        needed = 0 if buys else p.n_plants * 2
        lines.append(
            OrderLine(
                p.crop.name, p.variety, p.way, (p.code,), p.n_plants, needed, 0.15, drawer,
                max(0, needed - 40 * len(drawer)), None if buys else needed / 60,
                round(p.n_plants * 1.15) if buys else 0, p.dates.in_ground - timedelta(weeks=5),
                (Origin("germination_pct", 65, "federal minimum standard", ("TRIAL_B",), "read"),),
            )
        )  # fmt: skip
    return tuple(lines)


def climate(year: int = 2026) -> Climate:
    def table(season: str, month: int, at_plant: bool) -> FrostTable:
        quantiles = tuple(
            FrostQuantile(chance, date(year, month, 2 + k * 5))
            for k, chance in enumerate((90, 80, 50, 20, 10))
        )
        return FrostTable(season, 0.0, at_plant, quantiles, 30, 1)  # type: ignore[arg-type]

    lows = (-3, -3, 0, 4, 9, 14, 17, 16, 12, 7, 2, -1)
    months = tuple(
        MonthClimate(
            m + 1, low, low + 9.5, 70.0 + 3 * (m % 4), low + 4.0, 20.0 + 9 * min(m, 11 - m), 12.0 * m
        )
        for m, low in enumerate(lows)
    )
    return Climate(
        station="Testfield", provenance="Invented record for tests", invented=True,
        first_day=date(1995, 1, 1), last_day=date(2024, 12, 31), n_years=30,
        confidence="Thirty years: chances are good to about 6 points.",
        frost=(table("spring", 4, False), table("spring", 5, True), table("autumn", 10, False)),
        frost_free_days={10: 200, 20: 193, 50: 180, 80: 166, 90: 158}, months=months,
        ground_frost_allowance_c=2.0, ground_frost_basis="stated allowance", n_filled=4, n_flagged_dropped=2,
        reference_et_method="Temperature method; tends to read high in humid places.",
        notes=("Two days were missing.",), source_ids=("TRIAL_A",),
    )  # fmt: skip


SUN_H = (2.0, 3.1, 4.8, 6.0, 7.2, 7.9, 7.6, 6.5, 5.1, 3.6, 2.3, 1.8)


def demo_plan(year: int = 2026) -> SeasonPlan:
    """Eleven plantings in five beds, among them a circle and an L."""
    planted = plantings(year)
    wishes = tuple(
        Wish(
            p.wish_code,
            p.crop.name,
            Amount(float(p.n_plants), "plants"),
            Variety(p.variety) if p.variety else None,
        )
        for p in planted
        if "/" not in p.code
    )
    book = GardenBook(
        site=Site("Millbrook Common Garden", 51.2, -1.3, 84.0, "Europe/London", features=features(),
                  coordinator="R. Ashdown"),
        season_start=date(year, 1, 1), beds=beds(), wishes=wishes,
        people=(HelpingHands("Saturday group", 12.0, date(year, 3, 1), date(year, 10, 31)),),
    )  # fmt: skip
    return SeasonPlan(
        schema_version=1, revision="3f9a1c2", made_on=date(year, 1, 20), seed=7, book=book,
        climate=climate(year), sun=tuple(BedSun(b.code, SUN_H, False) for b in book.beds),
        plantings=planted, orders=orders(planted), tasks=tasks(planted),
        shortfalls=(Shortfall("kale", "kale", "kale", 20, planted[9].n_plants, 3.2, 14.0,
                              "Bed E is taken by sweet corn until 5 September."),),
        warnings=("Bed D has had no soil test; ask for one before planting roots.",), sources=SOURCES,
    )  # fmt: skip


def big_plan(n_plantings: int = 60, year: int = 2026) -> SeasonPlan:
    """Many plantings in ten beds, in two goes of six blocks along each bed."""
    kinds = (BEET, CARROT, BEAN, LETTUCE, ONION, KALE, TOMATO)
    ground = tuple(
        bed(f"{chr(65 + k)}", f"Bed {chr(65 + k)}", Rectangle(6.0, 1.2, (k % 5) * 1.9, (k // 5) * 7.0, 0.0))
        for k in range(10)
    )
    rows, made = _Rows(), []
    for k in range(n_plantings):
        home = ground[k % 10]
        slot = k // 10
        along = (slot % 3 * 2.0, slot % 3 * 2.0 + 2.0)
        span = (
            choice(date(year, 4, 1) + timedelta(days=3 * (k % 7)), date(year, 6, 25))
            if slot < 3
            else choice(date(year, 7, 1) + timedelta(days=3 * (k % 7)), date(year, 10, 20))
        )
        made.append(
            planting(rows, f"w{k}", kinds[k % len(kinds)], home.code, along, (0.0, 1.2), span, f"Kind {k}")
        )
    plan = demo_plan(year)
    book = replace(plan.book, beds=ground, wishes=())
    planted = tuple(made)
    return replace(
        plan, book=book, plantings=planted, orders=orders(planted), tasks=tasks(planted), shortfalls=()
    )
