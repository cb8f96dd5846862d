"""Five gardens written by hand as such gardens are: names invented, measures and wishes of the usual kind."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bedwright.engine.climate import fill_gaps, season_years
from bedwright.engine.sunlight import bed_light
from bedwright.engine.timing import plan_dates
from bedwright.model.book import Amount, Bed, Feature, History, Support, Wish
from bedwright.model.ground import Circle, Outline, Polygon, Rectangle, Side
from benchmarks.quality.gardens import TODAY, Garden, dated_crops, example_record


@dataclass(frozen=True, slots=True)
class Written:
    """One garden as written down: beds, wishes and what is around it."""

    name: str
    beds: tuple[tuple[str, Outline], ...]
    wishes: tuple[tuple[str, int, int, int], ...]
    """Crop, plants, priority, successions."""
    supports: tuple[tuple[str, Side], ...] = ()
    """Bed and the side its trellis stands on."""
    history: tuple[tuple[str, int, str], ...] = ()
    features: tuple[Feature, ...] = ()


def _box(
    length_m: float, width_m: float, east_m: float, north_m: float, bearing_deg: float = 0.0
) -> Rectangle:
    return Rectangle(length_m, width_m, east_m, north_m, bearing_deg)


SITES = (
    Written(
        "school yard: four raised beds by a wall, quiet in August",
        tuple((f"S{n + 1}", _box(2.4, 1.2, 3.0 * n, 0.0, 90.0)) for n in range(4)),
        (
            ("radish", 60, 4, 3), ("lettuce", 24, 4, 3), ("pea", 80, 4, 1), ("carrot", 120, 5, 1),
            ("potato", 12, 5, 1), ("sunflower", 6, 3, 1), ("strawberry", 10, 3, 1), ("bush bean", 30, 4, 1),
            ("onion", 40, 2, 1), ("chives", 4, 2, 1), ("marigold", 10, 2, 1), ("kale", 6, 3, 1),
        ),
        supports=(("S4", "north"),),
        history=(("S1", 2026, "potato"), ("S2", 2026, "kale"), ("S3", 2026, "pea"), ("S4", 2026, "carrot")),
        features=(Feature("W", "wall", "wall", ((-1.0, 2.5), (12.0, 2.5)), height_m=3.0),),
    ),
    Written(
        "food-bank plot: eight long beds, few crops in quantity",
        tuple((f"F{n + 1}", _box(10.0, 1.2, 1.8 * n, 0.0)) for n in range(8)),
        (
            ("potato", 120, 5, 2), ("cabbage", 60, 5, 2), ("carrot", 900, 5, 2), ("onion", 500, 5, 1),
            ("kale", 40, 4, 1), ("beet", 400, 4, 2), ("leek", 160, 4, 1), ("winter squash", 12, 4, 1),
            ("summer squash", 8, 3, 1), ("bush bean", 300, 4, 2), ("chard", 60, 3, 1), ("garlic", 150, 3, 1),
            ("spinach", 200, 3, 2), ("turnip", 150, 2, 1), ("parsnip", 200, 3, 1),
        ),
        history=tuple(
            (f"F{n + 1}", 2026, crop)
            for n, crop in enumerate(
                ("cabbage", "potato", "onion", "bush bean", "carrot", "leek", "beet", "winter squash")
            )
        ),
    ),
    Written(
        "demonstration garden: round, angled and straight beds",
        (
            ("D1", Circle(1.2, 0.0, 0.0, 90.0)),
            ("D2", Polygon(((3.0, 0.0), (7.0, 0.0), (7.0, 1.2), (4.2, 1.2), (4.2, 3.0), (3.0, 3.0)), 90.0)),
            ("D3", _box(4.0, 1.2, 9.0, 0.0, 90.0)),
            ("D4", _box(4.0, 1.2, 9.0, 2.5, 90.0)),
            ("D5", Polygon(((14.0, 0.0), (17.0, 0.0), (15.5, 2.6)), 90.0)),
            ("D6", _box(6.0, 0.8, 0.0, 5.0, 90.0)),
        ),
        (
            ("tomato", 6, 5, 1), ("basil", 10, 4, 1), ("lettuce", 30, 4, 4), ("pole bean", 16, 4, 1),
            ("sweet corn", 16, 3, 1), ("summer squash", 2, 3, 1), ("carrot", 150, 4, 2), ("beet", 90, 3, 2),
            ("onion", 60, 3, 1), ("broccoli", 8, 3, 1), ("cucumber", 6, 4, 1), ("parsley", 12, 2, 1),
            ("cilantro", 20, 2, 2), ("calendula", 8, 2, 1), ("nasturtium", 6, 2, 1), ("thyme", 4, 2, 1),
        ),
        supports=(("D6", "north"),),
    ),
    Written(
        "allotment strip: one plot in three, half of it under a tree",
        tuple((f"P{n + 1}", _box(5.0, 1.2, 0.0, 1.7 * n, 90.0)) for n in range(10)),
        (
            ("potato", 60, 4, 1), ("broad bean", 40, 3, 1), ("pea", 150, 4, 2), ("cabbage", 14, 3, 1),
            ("brussels sprouts", 10, 3, 1), ("kale", 12, 3, 1), ("leek", 60, 4, 1), ("onion", 150, 4, 1),
            ("garlic", 60, 4, 1), ("carrot", 250, 4, 2), ("parsnip", 80, 3, 1), ("beet", 120, 3, 2),
            ("lettuce", 40, 4, 5), ("spinach", 80, 3, 2), ("winter squash", 4, 3, 1),
            ("summer squash", 3, 4, 1), ("sweet corn", 24, 3, 1), ("bush bean", 60, 3, 2),
            ("rhubarb", 2, 3, 1), ("strawberry", 24, 4, 1),
        ),
        history=tuple(
            (f"P{n + 1}", 2026, crop) for n, crop in enumerate(("potato", "pea", "cabbage", "onion") * 2)
        ),
        features=(
            Feature("T", "tree", "old apple", ((2.5, 19.0),), height_m=6.0, radius_m=3.0, crown_base_m=1.8),
        ),
    ),
    Written(
        "balcony terrace: six small troughs, herbs and salad",
        tuple((f"T{n + 1}", _box(1.2, 0.4, 1.5 * n, 0.0, 90.0)) for n in range(6)),
        (
            ("lettuce", 12, 5, 4), ("radish", 40, 4, 3), ("chives", 3, 3, 1), ("parsley", 4, 3, 1),
            ("basil", 4, 4, 1), ("arugula", 30, 4, 2), ("spinach", 16, 3, 1), ("scallion", 60, 3, 2),
            ("thyme", 2, 3, 1), ("strawberry", 3, 3, 1), ("tomato", 2, 5, 1), ("nasturtium", 3, 2, 1),
        ),
        supports=(("T6", "north"),),
    ),
)  # fmt: skip


def written_gardens() -> tuple[Garden, ...]:
    """The five gardens, each with its dates and light worked out."""
    return tuple(_garden(written) for written in SITES)


def _garden(written: Written) -> Garden:
    book, _, catalogue = dated_crops()
    record = example_record()
    sides = dict(written.supports)
    beds = tuple(
        Bed(
            code=code,
            name=code,
            outline=outline,
            texture="loam",
            supports=(Support("trellis", sides[code], 1.8),) if code in sides else (),
        )
        for code, outline in written.beds
    )
    wishes = tuple(
        Wish(f"{crop}-1", crop, Amount(n_plants, "plants"), priority=priority, successions=successions)
        for crop, n_plants, priority, successions in written.wishes
    )
    garden = replace(
        book,
        site=replace(book.site, features=written.features),
        beds=beds,
        wishes=wishes,
        history=tuple(History(code, year, (crop,)) for code, year, crop in written.history),
        neighbours=(),
        people=(),
    )
    years = season_years(fill_gaps(record)[0], garden.season_start)
    asked = plan_dates(garden, catalogue.crops, years, today=TODAY)
    light = tuple(bed_light(garden.site, garden.beds))
    return Garden(written.name, garden, tuple(asked), light, catalogue)
