"""What a season that is over leaves for next year's garden book, as lines to put into it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from bedwright.engine.pipeline import stands_on, years_later
from bedwright.model.book import SeedLot
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
    seen = {} if logged is None else {each.planting.code: each for each in logged.plantings}
    start = next_season_start(plan)
    parts = [
        [f"# For the garden book of the season from {start.isoformat()}. Keep your book, and change in it:"],
        [
            "# season: the new start; the check of the book then names every other day to move on.",
            "season:",
        ],
        _history(plan, start, seen),
        _drawer(plan),
        _standing(what_is_left(plan, logged) if logged else plan, start, on_pages=on_pages),
    ]
    parts[1].append(f"  start: {start.isoformat()}")
    if plan.book.pins:
        parts.append(["# pins: leave them out; they were for places and days of the season that is over."])
    return "\n\n".join("\n".join(lines) for lines in parts if lines) + "\n"


def _history(plan: SeasonPlan, start: date, seen: Mapping[str, PlantingLogged]) -> list[str]:
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
    lines = [
        f"  - {{bed: {bed.code}, year: {year}, crops: [{', '.join(sorted(crops))}]}}"
        for bed in plan.book.beds
        for (code, year), crops in sorted(found.items())
        if code == bed.code and crops
    ]
    failed = [
        f"#   bed {each.planting.bed_code}: {each.planting.crop.name} ({each.planting.label_code}) failed on "
        f"{day_words(each.failed_on)}."
        for each in seen.values()
        if each.failed_on is not None
    ]
    note = "# history: add these; strike what failed and was cleared young."
    return [note, *failed, "history:", *lines] if lines else []


def _drawer(plan: SeasonPlan) -> list[str]:
    """The drawer less what the season took from it."""
    if not plan.book.seed_drawer:
        return []
    used: dict[str, int] = {}
    per_gram = {one.crop.name: one.crop.seeds_per_gram for one in plan.plantings}
    for order in plan.orders:
        for use in order.from_drawer:
            used[use.lot_code] = used.get(use.lot_code, 0) + use.n_seeds
    lines = [
        "# seed_drawer: in place of the lots there are. Tests of germination are left out: test again.",
        "# Add what was bought and is left over.",
        "seed_drawer:",
    ]
    for lot in plan.book.seed_drawer:
        left = _left(lot, used.get(lot.code, 0), per_gram.get(lot.crop), us=plan.book.site.units == "us")
        variety = f", variety: {_quoted(lot.variety)}" if lot.variety else ""
        said = f"{{code: {_quoted(lot.code)}, crop: {lot.crop}{variety}, packed_year: {lot.packed_year}"
        lines.append(f"  # {lot.code}: used up." if left is None else f"  - {said}{left}}}")
    return lines


def _left(lot: SeedLot, n_used: int, seeds_per_gram: float | None, *, us: bool) -> str | None:
    """What is left of a lot, as keys; None if nothing is."""
    keys = ""
    if lot.count is not None:
        if lot.count <= n_used:
            return None
        keys += f", count: {lot.count - n_used}"
    if lot.mass_g is not None:
        left_g = lot.mass_g - (n_used / seeds_per_gram if n_used and seeds_per_gram else 0.0)
        if left_g < LEAST_LEFT_G:
            return None
        keys += f", mass_oz: {g_to_ounces(left_g):.3g}" if us else f", mass_g: {left_g:.3g}"
    return keys


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
