"""Plantings and orders with round numbers, for tests of what follows from them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bedwright.model.book import GardenBook, HelpingHands, Way
from bedwright.model.crop import Crop
from bedwright.model.season import DateChoice, OrderLine, Planting, Row, SeasonPlan, Task
from tests.builders import tiny_book, tiny_crop

DATES = DateChoice(
    sow_under_cover=None,
    harden_off_from=None,
    in_ground=date(2027, 5, 3),
    emerges=date(2027, 5, 13),
    first_pick=date(2027, 7, 12),
    first_pick_early=date(2027, 7, 8),
    first_pick_late=date(2027, 7, 18),
    last_pick=date(2027, 8, 2),
    clear_by=date(2027, 8, 5),
    chance=0.9,
    n_years=30,
    failures=(("season too short", 0.1),),
)
RAISED_DATES = replace(
    DATES, sow_under_cover=date(2027, 3, 29), harden_off_from=date(2027, 4, 23), emerges=None
)


def planting(
    code: str = "carrot-1",
    *,
    crop: Crop | None = None,
    way: Way = "sow",
    n_plants: int = 40,
    bed_code: str = "A",
    row_code: str = "A1",
    variety: str = "",
    dates: DateChoice | None = None,
) -> Planting:
    """One row of plants at 10 cm."""
    crop = crop or tiny_crop()
    if dates is None:
        dates = RAISED_DATES if way == "raise" else DATES
    return Planting(
        code=code,
        wish_code=code,
        crop=crop,
        variety=variety,
        way=way,
        bed_code=bed_code,
        along_m=(0.0, 4.0),
        across_m=(0.0, 0.3),
        direction="along",
        rows=(Row(row_code, (0.05, 0.15), (0.05 + 0.1 * (n_plants - 1), 0.15), n_plants, 0.1),),
        dates=dates,
        reasons=(),
        origins=(),
    )


def season_plan(
    *plantings: Planting,
    tasks: tuple[Task, ...] = (),
    orders: tuple[OrderLine, ...] = (),
    people: tuple[HelpingHands, ...] = (),
    book: GardenBook | None = None,
) -> SeasonPlan:
    """A plan of the tiny book without a climate, with what a test puts into it."""
    return SeasonPlan(
        schema_version=1,
        revision="0" * 8,
        made_on=date(2027, 1, 1),
        seed=1,
        book=replace(book or tiny_book(), people=people),
        climate=None,
        sun=(),
        plantings=plantings,
        shortfalls=(),
        tasks=tasks,
        orders=orders,
        warnings=(),
    )
