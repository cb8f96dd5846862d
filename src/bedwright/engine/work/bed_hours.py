"""Hours that ground under a crop takes, before places are known: the labour table by the square metre."""

from __future__ import annotations

import numpy as np

from bedwright.engine.placement import BedHours
from bedwright.engine.work.hours import VOLUNTEER_FACTOR, dry_shares
from bedwright.engine.work.rates import rates_in_use
from bedwright.model.book import GardenBook
from bedwright.model.season import Climate

ROW_M_PER_M2 = 3.3
PLANTS_PER_M2 = 10.0
PICKED_KG_M2_WEEK = 1.0
VISITS_M2_WEEK = 0.6
"""A middling square metre: rows 30 cm apart, half of it sown and half set out, a kilogram picked from it
in a week of picking, two visits a week shared by some three square metres. Common practice, no source."""

GROWING_MONTHS = (4, 5, 6, 7, 8, 9)
SOUTHERN_MONTHS = (10, 11, 12, 1, 2, 3)


def bed_hours(book: GardenBook, climate: Climate | None) -> BedHours | None:
    """What a square metre takes by the labour table, with the people of a book; None if it names none.

    The likely minutes of practised people. Of the hours promised, those of volunteers count by
    what practised people would do in them.

    Parameters
    ----------
    book
        Its people and the rates it states.
    climate
        For the share of weeks that want watering; None: every week does.

    Limits
    ------
    A middling crop on every square metre, so that places can be sought before the hours of
    each planting are known; `season_hours` works those out afterwards.
    """
    if not book.people:
        return None
    minutes = {name: rate.likely_min for name, rate in rates_in_use(book.labour_rates, ()).items()}
    months = SOUTHERN_MONTHS if book.site.southern else GROWING_MONTHS
    dry = float(np.mean([dry_shares(climate, month)[0] for month in months]))
    put_in = (minutes["sow"] * ROW_M_PER_M2 + minutes["set out"] * PLANTS_PER_M2) / 2
    picking = minutes["pick"] * PICKED_KG_M2_WEEK + minutes["picking visit"] * VISITS_M2_WEEK
    return BedHours(
        people=book.people,
        plant_h_m2=(minutes["prepare"] + put_in) / 60,
        tend_h_m2=(minutes["weed"] + minutes["water"] * dry) / 60,
        pick_h_m2=picking / 60,
        clear_h_m2=minutes["clear"] / 60,
        volunteer_factor=VOLUNTEER_FACTOR[1],
    )
