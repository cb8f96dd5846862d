"""What a season leaves in the ground, as plantings that stand in the next."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace
from datetime import date

from bedwright.engine.placement.words import plain_day
from bedwright.model.book import GardenBook
from bedwright.model.season import DateChoice, Planting, SeasonPlan, Task


def carried_over(plan: SeasonPlan, book: GardenBook) -> tuple[Planting, ...]:
    """Plantings of a season that still stand when the next begins, with their rows and pegs.

    Parameters
    ----------
    plan
        The season that is over, as it was last planned.
    book
        The garden book of the next; what stood in a bed that it no longer has is gone.

    Returns
    -------
    tuple of Planting
        A perennial that the book still asks for keeps its code, so that it meets its wish again; of
        others the code gets the year they went in, since the same wish may ask for a new planting.

    Limits
    ------
    A perennial is taken to be picked on the same days each year, and to stand the whole season.
    """
    beds = {bed.code for bed in book.beds}
    asked = {(wish.code, wish.crop) for wish in book.wishes}
    found = []
    for planting in plan.plantings:
        if planting.bed_code in beds and stands_on(planting, book.season_start):
            perennial = planting.crop.life_cycle == "perennial"
            stands = _another_season(planting, book.season_start) if perennial else planting
            meets = perennial and (planting.wish_code, planting.crop.name) in asked
            found.append(replace(stands if meets else _of_its_year(stands), alternatives=()))
    return tuple(found)


def carried_words(plan: SeasonPlan, book: GardenBook) -> list[str]:
    """What stands from the season before, and what went with its bed, in sentences."""
    beds = {bed.code for bed in book.beds}
    said = [
        f"Bed {one.bed_code}: {one.crop.name} {one.label_code} stands from the season before, until "
        f"{plain_day(one.dates.clear_by)}."
        for one in carried_over(plan, book)
    ]
    return said + [
        f"Bed {one.bed_code} is no longer in the book: {one.crop.name} {one.label_code}, which stood in it "
        "in the season before, is left out."
        for one in plan.plantings
        if one.bed_code not in beds and stands_on(one, book.season_start)
    ]


def stands_on(planting: Planting, season_start: date) -> bool:
    """Whether a planting of a season is still in the ground when the next begins."""
    dates = planting.dates
    lasts = dates.clear_by >= season_start or planting.crop.life_cycle == "perennial"
    return lasts and dates.in_ground < season_start


def still_to_do(tasks: Iterable[Task], stands: Collection[str], today: date) -> tuple[Task, ...]:
    """Jobs without those of standing plantings that were done before a day."""
    return tuple(task for task in tasks if task.planting_code not in stands or task.end >= today)


def years_later(day: date, n_years: int) -> date:
    """The same day so many years later; 28 February for a leap day."""
    leap = (day.month, day.day) == (2, 29)
    return day.replace(year=day.year + n_years, day=28 if leap else day.day)


def _of_its_year(planting: Planting) -> Planting:
    year = f"-{planting.dates.in_ground.year}"
    return replace(planting, code=planting.code.removesuffix(year) + year, request_code="")


def _another_season(planting: Planting, season_start: date) -> Planting:
    dates, n_years = planting.dates, 0
    while years_later(dates.clear_by, n_years) < season_start:
        n_years += 1
    moved = DateChoice(
        sow_under_cover=None,
        harden_off_from=None,
        in_ground=dates.in_ground,
        emerges=None,
        first_pick=years_later(dates.first_pick, n_years),
        first_pick_early=years_later(dates.first_pick_early, n_years),
        first_pick_late=years_later(dates.first_pick_late, n_years),
        last_pick=years_later(dates.last_pick, n_years),
        clear_by=years_later(dates.clear_by, n_years),
        chance=None,
        n_years=0,
        failures=(),
    )
    return replace(planting, dates=moved)
