"""Whether ground, weeks and hours suffice: an answer in a moment, before places are sought.

Ground is an amount here, cut without loss: a small linear programme shares it out among the
wishes by week. What it cannot place, a plan hardly can; what it can, a plan may still not.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_array

from bedwright.engine.pipeline.finish import SCHEMA_VERSION
from bedwright.engine.pipeline.ground import rules_of
from bedwright.engine.placement.layout import Spacing, fit
from bedwright.engine.placement.problem import PlacementProblem, build_problem
from bedwright.engine.placement.rules import SMALL_M
from bedwright.engine.placement.shape import BedShape
from bedwright.engine.placement.terms import TERMS, share
from bedwright.engine.placement.weekly import hours_of
from bedwright.engine.supplies.trays import monday_of
from bedwright.engine.work import season_hours, tasks_of
from bedwright.engine.work.amounts import harvest_kg
from bedwright.model.book import GardenBook
from bedwright.model.crop import Catalogue
from bedwright.model.estimate import SeasonEstimate, WeekEstimate, WishEstimate
from bedwright.model.season import Climate, Planting, PlantingRequest, Row, SeasonPlan
from bedwright.model.weather import FloatArray
from bedwright.model.work import NO_HOURS, SeasonHours

WEEK_DAYS = 7
LEAST_SHARE = 1e-6
"""Shares below it are noise of the solver."""


@dataclass(frozen=True, slots=True)
class _Part:
    """So many plants of a request on one of its dates."""

    request: int
    date: int
    n_plants: float


def estimate_season(
    book: GardenBook,
    requests: Sequence[PlantingRequest],
    catalogue: Catalogue,
    climate: Climate | None,
    *,
    today: date,
) -> SeasonEstimate:
    """Estimate whether ground, weeks and hours suffice for what is wished for.

    Parameters
    ----------
    book
        A book whose reader found no problem.
    requests
        Its wishes with their possible dates, from `plan_dates`.
    catalogue
        The crops.
    climate
        Of the site, for the share of weeks that want watering; None where it is not known.
    today
        Day of the rule on lead in soil.

    Limits
    ------
    Ground is an amount: a plant takes the least it takes in any bed that may hold it, and beds
    are cut without loss. Sun, rotation, neighbours and pins are left out, so the plan itself
    places somewhat less. Hours are those of `season_hours` for the plants that find ground.
    """
    problem = build_problem(
        book,
        requests,
        (),
        (),
        catalogue.crops,
        rules_of(book, today),
        closed_beds=book.leave_alone,
        hours=hours_of(book),
    )
    grounds = _grounds(problem)
    parts = _shared_out(problem, grounds)
    plantings = tuple(
        _as_planting(problem, part, grounds[part.request], number) for number, part in enumerate(parts)
    )
    hours = _hours(book, plantings, climate, today)
    return SeasonEstimate(
        ground_m2=round(sum(_open_areas(problem).values()), 6),
        wishes=tuple(_wishes(problem, parts, grounds)),
        weeks=tuple(_weeks(problem, parts, hours, grounds)),
        people_named=bool(book.people),
        harvest_kg=round(sum(harvest_kg(planting) or 0.0 for planting in plantings), 3),
        yields_unknown=tuple(
            sorted(
                {
                    one.crop.name
                    for one in plantings
                    if one.crop.kind == "vegetable" and harvest_kg(one) is None
                }
            )
        ),
        donation_kg=book.goals.donation_kg,
    )


def _open_areas(problem: PlacementProblem) -> dict[int, float]:
    closed = problem.book.leave_alone
    return {
        number: facts.shape.area_m2
        for number, facts in enumerate(problem.beds)
        if facts.bed.code not in closed
    }


def _grounds(problem: PlacementProblem) -> dict[int, float]:
    """Ground for each plant [m²] of the requests that fit into a bed."""
    found: dict[int, float] = {}
    for number, facts in enumerate(problem.requests):
        shapes = {problem.beds[bed].shape for bed in facts.beds}
        areas = [
            area_m2 for shape in shapes if (area_m2 := _least_ground_m2(shape, facts.spacing)) is not None
        ]
        if areas and facts.request.n_plants:
            found[number] = min(areas)
    return found


def _least_ground_m2(shape: BedShape, spacing: Spacing) -> float | None:
    """Ground for each plant [m²] in the way of planting that takes least; None if none fits."""
    wide_m, long_m = (extent_m - 2 * spacing.edge_m for extent_m in (shape.width_m, shape.length_m))
    if wide_m < -SMALL_M or long_m < -SMALL_M:
        return None
    part_m2 = spacing.in_row_m * spacing.row_m
    if not shape.rectangular:
        return part_m2
    n_rows, n_in_row = (int(fit(wide_m, pitch_m)) for pitch_m in (spacing.row_m, spacing.in_row_m))
    along_m2 = shape.width_m * spacing.in_row_m / n_rows
    across_m2 = shape.width_m * spacing.row_m / n_in_row
    return min(part_m2, along_m2, across_m2)


def _shared_out(problem: PlacementProblem, grounds: Mapping[int, float]) -> tuple[_Part, ...]:
    """Plants by request and date, worth the most that ground and hours allow."""
    columns = [
        (number, day)
        for number, facts in enumerate(problem.requests)
        if number in grounds
        for day in range(len(facts.dates.choices))
    ]
    if not columns:
        return ()
    matrix, limits, gain, over = _programme(problem, columns, grounds)
    # The stubs of SciPy leave out sparse matrices, which the function takes.
    solved = linprog(  # type: ignore[call-overload]
        -np.concatenate([gain, -over]),
        A_ub=matrix,
        b_ub=limits,
        bounds=[(0.0, 1.0)] * len(columns) + [(0.0, None)] * len(over),
        method="highs",
    )
    shares = solved.x[: len(columns)] if solved.status == 0 else np.zeros(len(columns))
    return tuple(
        _Part(number, day, float(found) * problem.requests[number].request.n_plants)
        for (number, day), found in zip(columns, shares.tolist(), strict=True)
        if found > LEAST_SHARE
    )


class _Rows:
    """Rows of the programme, made as they are needed."""

    def __init__(self) -> None:
        self.limits: list[float] = []
        self.entries: list[tuple[int, int, float]] = []
        self._known: dict[object, int] = {}

    def add(self, key: object, limit: float, column: int, value: float) -> int:
        """Put a value into the row of a key; gives the row."""
        if key not in self._known:
            self._known[key] = len(self.limits)
            self.limits.append(limit)
        self.entries.append((self._known[key], column, value))
        return self._known[key]


def _programme(
    problem: PlacementProblem, columns: Sequence[tuple[int, int]], grounds: Mapping[int, float]
) -> tuple[csr_array, FloatArray, FloatArray, FloatArray]:
    """Matrix and limits of the rows; gain of each column, cost of each hour over those promised."""
    areas = _open_areas(problem)
    # Wishes that share a set of beds share its ground; those with fewer beds share that of more.
    sets = sorted({frozenset(facts.beds) for facts in problem.requests if facts.beds}, key=sorted)
    rows, weeks = _Rows(), problem.weeks
    hour_rows: dict[int, float] = {}
    gain = np.zeros(len(columns))
    for column, (number, day) in enumerate(columns):
        facts = problem.requests[number]
        gain[column] = _gain(problem, number, day)
        rows.add(("once", number), 1.0, column, 1.0)
        ground_m2 = grounds[number] * facts.request.n_plants
        span = int(facts.dates.taken_from[day]), int(facts.dates.clear_by[day])
        inside = [beds for beds in sets if beds >= frozenset(facts.beds)]
        for beds in inside:
            limit = sum(areas.get(bed, 0.0) for bed in beds)
            for week in _whole_weeks(*span):
                rows.add((beds, week), limit, column, ground_m2)
        if weeks.promised_h is not None:
            first = int(weeks.work_from[number][day])
            for week, hours in enumerate(weeks.work_h_m2[number][day].tolist(), first):
                row = rows.add(("hours", week), float(weeks.promised_h[week]), column, hours * ground_m2)
                hour_rows[row] = TERMS["hours of work"].weight
    for extra, row in enumerate(hour_rows):
        rows.entries.append((row, len(columns) + extra, -1.0))
    at, across, values = (np.array(part) for part in zip(*rows.entries, strict=True))
    shape = (len(rows.limits), len(columns) + len(hour_rows))
    matrix = csr_array((values, (at.astype(int), across.astype(int))), shape=shape)
    return matrix, np.array(rows.limits), gain, np.array(list(hour_rows.values()))


def _gain(problem: PlacementProblem, number: int, day: int) -> float:
    facts = problem.requests[number]
    chance = float(facts.dates.chance[day])
    factor = 1.0 if math.isnan(chance) else chance
    factor -= share("date preference") * float(facts.dates.weeks_off[day])
    factor -= share("quiet weeks") * float(facts.dates.quiet_share[day])
    return float(facts.worth) * max(0.01, factor)


def _whole_weeks(first: int, last: int) -> range:
    """Weeks whose first day falls in a span of ordinals; one at least for a short span."""
    start = -(-first // WEEK_DAYS)
    return range(start, max(start, last // WEEK_DAYS) + 1)


def _as_planting(problem: PlacementProblem, part: _Part, plant_m2: float, number: int) -> Planting:
    """The plants as a planting without a place, from which hours and harvest are reckoned."""
    facts = problem.requests[part.request]
    n_plants = max(1, round(part.n_plants))
    area_m2 = plant_m2 * n_plants
    spacing_m = facts.spacing.in_row_m
    row = Row("", (0.0, 0.0), (spacing_m * (n_plants - 1), 0.0), n_plants, spacing_m)
    return Planting(
        code=f"{facts.request.code}#{number}",
        wish_code=facts.request.wish_code,
        crop=facts.crop,
        variety=facts.request.variety,
        way=facts.request.way,
        bed_code=problem.beds[facts.beds[0]].bed.code,
        along_m=(0.0, area_m2),
        across_m=(0.0, 1.0),
        direction="along",
        rows=(row,),
        dates=facts.dates.choices[part.date],
        reasons=(),
        origins=(),
    )


def _hours(
    book: GardenBook, plantings: tuple[Planting, ...], climate: Climate | None, today: date
) -> SeasonHours:
    plan = SeasonPlan(
        schema_version=SCHEMA_VERSION,
        revision="",
        made_on=today,
        seed=0,
        book=book,
        climate=climate,
        sun=(),
        plantings=plantings,
        shortfalls=(),
        tasks=tasks_of(plantings, ()),
        orders=(),
        warnings=(),
    )
    return season_hours(plan)


def _wishes(
    problem: PlacementProblem, parts: Sequence[_Part], grounds: Mapping[int, float]
) -> Iterator[WishEstimate]:
    placed: dict[int, float] = {}
    for part in parts:
        placed[part.request] = placed.get(part.request, 0.0) + part.n_plants
    for wish in problem.book.wishes:
        numbers = [n for n, facts in enumerate(problem.requests) if facts.request.wish_code == wish.code]
        facts = [problem.requests[n] for n in numbers]
        # Rounded up, so that noise of the solver never makes a wish short by a plant.
        most = sum(math.ceil(placed.get(n, 0.0) - LEAST_SHARE * 10) for n in numbers)
        dated = [problem.requests[p.request].dates.choices[p.date] for p in parts if p.request in numbers]
        reasons = [one.request.no_window_reason for one in facts if not one.dates.choices]
        yield WishEstimate(
            wish_code=wish.code,
            crop=wish.crop,
            variety=wish.variety.name if wish.variety else "",
            wanted_plants=sum(one.request.n_plants for one in facts),
            most_plants=min(most, sum(one.request.n_plants for one in facts)),
            ground_m2=round(
                sum(grounds.get(n, 0.0) * problem.requests[n].request.n_plants for n in numbers), 6
            ),
            in_ground=min((choice.in_ground for choice in dated), default=None),
            clear_by=max((choice.clear_by for choice in dated), default=None),
            no_window_reason=next((reason for reason in reasons if reason), "")
            if len(reasons) == len(facts)
            else "",
            beds_refused=bool(facts) and not any(n in grounds for n in numbers),
        )


def _weeks(
    problem: PlacementProblem, parts: Sequence[_Part], hours: SeasonHours, grounds: Mapping[int, float]
) -> Iterator[WeekEstimate]:
    taken: dict[date, float] = {}
    for part in parts:
        dates, area_m2 = problem.requests[part.request].dates, grounds[part.request]
        span = int(dates.taken_from[part.date]), int(dates.clear_by[part.date])
        for week in _whole_weeks(*span):
            # Ordinal 1 is a Monday, so a multiple of seven is a Sunday and its week begins six days before.
            monday = monday_of(date.fromordinal(week * WEEK_DAYS))
            taken[monday] = taken.get(monday, 0.0) + area_m2 * part.n_plants
    worked = {week.week: week for week in hours.weeks}
    if not taken and not worked:
        return
    monday, last = min({*taken, *worked}), max({*taken, *worked})
    while monday <= last:
        found = worked.get(monday)
        yield WeekEstimate(
            week=monday,
            ground_m2=round(taken.get(monday, 0.0), 6),
            needed=found.needed if found else NO_HOURS,
            promised_h=found.promised_h if found else 0.0,
            sufficiency=found.sufficiency if found else "enough",
            quiet=found.quiet if found else "",
        )
        monday += timedelta(days=WEEK_DAYS)
