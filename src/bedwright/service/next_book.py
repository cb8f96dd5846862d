"""What a season that is over leaves for next year's garden book, as lines to put into it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from bedwright.engine.pipeline import stands_on, years_later
from bedwright.model.book import GardenBook, History, SeedLot
from bedwright.model.bounds import MANURE_REACH_DAYS
from bedwright.model.log import LoggedSeason, PlantingLogged
from bedwright.model.season import Planting, SeasonPlan
from bedwright.model.units import g_to_ounces
from bedwright.papers import Measures
from bedwright.papers.measures import code_runs, day_words
from bedwright.service.replan_from_log import what_is_left

LEAST_LEFT_G = 0.05
"""Less seed than this in a lot is not worth a line."""


def next_season_start(plan: SeasonPlan) -> date:
    """First day of the season a year later; 28 February after a leap day."""
    return years_later(plan.book.season_start, 1)


def next_book(book: GardenBook, plan: SeasonPlan, logged: LoggedSeason | None = None) -> GardenBook:
    """The garden book of the next season, begun from that of the one that is over.

    Parameters
    ----------
    book
        The book of the season, as it is now.
    plan
        The season, as it was last planned.
    logged
        The same seen through the log, where there is one.

    Returns
    -------
    GardenBook
        Start, periods and days a year later, workdays on the same day of the week; with the history of
        the season and the seed drawer less what was used; without pins, and without manure of so long
        ago that it no longer matters.

    Raises
    ------
    ValueError
        If book and plan are of different seasons.

    Limits
    ------
    Wishes, people and stock are taken over as they are: they are for a person to look through.
    """
    if not plan.is_of(book):
        message = f"the book is of the season from {book.season_start}, not {plan.book.season_start}"
        raise ValueError(message)
    start = years_later(book.season_start, 1)
    history = {(record.bed_code, record.year): record for record in book.history}
    for record in _history(plan, start, _by_code(logged)):
        key = (record.bed_code, record.year)
        had = history.get(key, replace(record, crops=()))
        history[key] = replace(had, crops=tuple(dict.fromkeys((*had.crops, *record.crops))))
    return replace(
        book,
        season_start=start,
        wishes=tuple(
            replace(wish, harvest_from=_later(wish.harvest_from), harvest_to=_later(wish.harvest_to))
            for wish in book.wishes
        ),
        history=tuple(history.values()),
        goals=replace(
            book.goals,
            quiet_weeks=tuple(
                replace(each, start=years_later(each.start, 1), end=years_later(each.end, 1))
                for each in book.goals.quiet_weeks
            ),
        ),
        people=tuple(
            replace(each, start=years_later(each.start, 1), end=years_later(each.end, 1))
            for each in book.people
        ),
        seed_drawer=tuple(left for lot in book.seed_drawer if (left := _left(lot, plan)) is not None),
        manure=tuple(
            each for each in book.manure if (each.incorporated_on - start).days in MANURE_REACH_DAYS
        ),
        workdays=tuple(replace(each, day=_same_weekday(each.day, start)) for each in book.workdays),
        water_limits=tuple(
            replace(each, start=years_later(each.start, 1), end=years_later(each.end, 1))
            for each in book.water_limits
        ),
        pins=(),
    )


def next_book_text(plan: SeasonPlan, logged: LoggedSeason | None = None, *, on_pages: bool = False) -> str:
    """Lines for next year's garden book, part by part, with what is to be done by hand.

    Parameters
    ----------
    plan
        The season that is over, as it was last planned.
    logged
        The same seen through the log, where there is one.
    on_pages
        For the web application, which takes up what stands by itself.

    Limits
    ------
    What was sown beyond the plan is to be added by hand. Without a log, what failed is to be struck.
    """
    start = next_season_start(plan)
    parts = [
        [f"# For the garden book of the season from {start.isoformat()}. Keep your book, and change in it:"],
        [
            "# season: the new start; the check of the book then names every other day to move on.",
            "season:",
            f"  start: {start.isoformat()}",
        ],
        _history_lines(plan, start, _by_code(logged)),
        _drawer_lines(plan),
        _standing(what_is_left(plan, logged) if logged else plan, start, on_pages=on_pages),
    ]
    if plan.book.pins:
        parts.append(["# pins: leave them out; they were for places and days of the season that is over."])
    return "\n\n".join("\n".join(lines) for lines in parts if lines) + "\n"


def _by_code(logged: LoggedSeason | None) -> dict[str, PlantingLogged]:
    return {} if logged is None else {each.planting.code: each for each in logged.plantings}


def _later(day: date | None) -> date | None:
    return None if day is None else years_later(day, 1)


def _same_weekday(day: date, season_start: date) -> date:
    later = day + timedelta(weeks=52)
    return later if later >= season_start else later + timedelta(weeks=1)


def _history(plan: SeasonPlan, start: date, seen: Mapping[str, PlantingLogged]) -> tuple[History, ...]:
    """Crops by bed and by the last year in which they stood there before the new season."""
    known = {(record.bed_code, record.year, crop) for record in plan.book.history for crop in record.crops}
    found: dict[tuple[str, int], list[str]] = {}
    for planting in plan.plantings:
        if planting.dates.in_ground >= start:
            continue
        each = seen.get(planting.code)
        ended = (each.failed_on or each.cleared_on) if each is not None else None
        year = min(ended or planting.dates.clear_by, start - timedelta(days=1)).year
        crops = found.setdefault((planting.bed_code, year), [])
        name = planting.crop.name
        if name not in crops and (planting.bed_code, year, name) not in known:
            crops.append(name)
    return tuple(
        History(bed.code, year, tuple(sorted(crops)))
        for bed in plan.book.beds
        for (code, year), crops in sorted(found.items())
        if code == bed.code and crops
    )


def _history_lines(plan: SeasonPlan, start: date, seen: Mapping[str, PlantingLogged]) -> list[str]:
    lines = [
        f"  - {{bed: {record.bed_code}, year: {record.year}, crops: [{', '.join(record.crops)}]}}"
        for record in _history(plan, start, seen)
    ]
    failed = [
        f"#   bed {each.planting.bed_code}: {each.planting.crop.name} ({each.planting.label_code}) failed on "
        f"{day_words(each.failed_on)}."
        for each in seen.values()
        if each.failed_on is not None
    ]
    note = "# history: add these; strike what failed and was cleared young."
    return [note, *failed, "history:", *lines] if lines else []


def _drawer_lines(plan: SeasonPlan) -> list[str]:
    """The drawer less what the season took from it."""
    if not plan.book.seed_drawer:
        return []
    lines = [
        "# seed_drawer: in place of the lots there are. Tests of germination are left out: test again.",
        "# Add what was bought and is left over.",
        "seed_drawer:",
    ]
    for lot in plan.book.seed_drawer:
        left = _left(lot, plan)
        lines.append(f"  # {lot.code}: used up." if left is None else f"  - {{{_lot_keys(left, plan)}}}")
    return lines


def _lot_keys(lot: SeedLot, plan: SeasonPlan) -> str:
    keys = f"code: {_quoted(lot.code)}, crop: {lot.crop}"
    if lot.variety:
        keys += f", variety: {_quoted(lot.variety)}"
    keys += f", packed_year: {lot.packed_year}"
    if lot.count is not None:
        keys += f", count: {lot.count}"
    if lot.mass_g is not None:
        us = plan.book.site.units == "us"
        keys += f", mass_oz: {g_to_ounces(lot.mass_g):.3g}" if us else f", mass_g: {lot.mass_g:.3g}"
    return keys


def _left(lot: SeedLot, plan: SeasonPlan) -> SeedLot | None:
    """What a season leaves of a lot, its test of germination left out; None if nothing is left."""
    n_used = sum(
        use.n_seeds for order in plan.orders for use in order.from_drawer if use.lot_code == lot.code
    )
    count, mass_g = lot.count, lot.mass_g
    if count is not None:
        count -= n_used
        if count <= 0:
            return None
    if mass_g is not None:
        per_gram = next(
            (each.crop.seeds_per_gram for each in plan.plantings if each.crop.name == lot.crop), None
        )
        mass_g = round(mass_g - (n_used / per_gram if n_used and per_gram else 0.0), 2)
        if mass_g < LEAST_LEFT_G:
            return None
    return replace(lot, count=count, mass_g=mass_g, tested_sown=None, tested_sprouted=None)


def _standing(plan: SeasonPlan, start: date, *, on_pages: bool) -> list[str]:
    """What is still in the ground when the new season begins."""
    measures = Measures(plan.book.site.units)
    lines = [
        f"#   bed {planting.bed_code}, {_ground(planting, measures)}: {planting.crop.name} "
        f"({code_runs(row.code for row in planting.rows)}), {_until(planting)}"
        for planting in plan.plantings
        if stands_on(planting, start)
    ]
    if not lines:
        return []
    how = "" if on_pages else " if you plan with --after and this season's folder"
    return [f"# Still in the ground then; it keeps its place{how}.", *lines]


def _until(planting: Planting) -> str:
    perennial = planting.crop.life_cycle == "perennial"
    return "stays for years" if perennial else f"until {day_words(planting.dates.clear_by)}"


def _ground(planting: Planting, measures: Measures) -> str:
    start, end = (measures.place(length) for length in planting.along_m)
    return f"{start} to {end} from the peg"


def _quoted(text: str) -> str:
    """As YAML reads it back, whatever it holds."""
    plain = text.replace(" ", "").isalnum() and text[:1].isalpha()
    return text if plain else "'" + text.replace("'", "''") + "'"
