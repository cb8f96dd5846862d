"""The most that any plan could be worth: the plan's question without places, as a linear programme.

Ground becomes an amount, dates and beds may be mixed, and everything that can only cost is
left out or counted at its least. What remains is worth at least as much as any real plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_array

from bedwright.engine.placement.blocks import Spot, as_blocks
from bedwright.engine.placement.least_use import LeastUse, least_of, least_uses, taken_length_m
from bedwright.engine.placement.problem import PlacementProblem, RequestFacts, wants_trellis
from bedwright.engine.placement.standing import fixed_spots
from bedwright.engine.placement.terms import TERMS, share
from bedwright.engine.placement.value import (
    SEASON_DAYS,
    own_terms,
    picking_points,
    rotation_of,
    rotation_years_short,
)
from bedwright.model.weather import FloatArray

MOST_COLUMNS = 12_000
"""Plantings times beds times dates; from there on beds alike in width and support are taken together."""

MOST_TAKEN_TOGETHER = 30_000
"""Larger questions than this, beds taken together, are not bounded unless asked for."""

USE_POINTS = tuple(number / 12 for number in range(1, 15))
"""Shares of use at which the cost of even use is touched from below."""

EVERY_DAYS = 14
"""Ground is counted on one day of so many; of weeks between, hardly anything would be gained."""


@dataclass(slots=True)
class _Programme:
    """Columns and rows of a linear programme: the most of `gain` · x, rows ≤ limits, 0 ≤ x ≤ most."""

    gain: list[float] = field(default_factory=list)
    most: list[float] = field(default_factory=list)
    limits: list[float] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)
    columns: list[int] = field(default_factory=list)
    values: list[float] = field(default_factory=list)
    """Of each entry."""

    def column(self, gain: float, most: float) -> int:
        self.gain.append(gain)
        self.most.append(most)
        return len(self.gain) - 1

    def row(self, limit: float) -> int:
        self.limits.append(limit)
        return len(self.limits) - 1

    def add(self, row: int, column: int, value: float) -> None:
        self.add_to((row,), column, value)

    def add_to(self, rows: Sequence[int], column: int, value: float) -> None:
        """The same value in several rows."""
        self.rows.extend(rows)
        self.columns.extend([column] * len(rows))
        self.values.extend([value] * len(rows))

    def most_gain(self) -> float | None:
        """Value of the optimum, from above; None if it was not found."""
        if not self.gain:
            return 0.0
        shape = (len(self.limits), len(self.gain))
        matrix = csr_array((self.values, (self.rows, self.columns)), shape=shape)
        limits, most = np.array(self.limits), np.array(self.most)
        bounds = [(0.0, value) for value in self.most]
        # The stubs of SciPy leave out sparse matrices, which the function takes.
        solved = linprog(  # type: ignore[call-overload]
            -np.array(self.gain), A_ub=matrix, b_ub=limits, bounds=bounds, method="highs"
        )
        if solved.status != 0:
            return None
        # Any prices of the rows give a true bound, so rounding in the solver cannot spoil it.
        prices = np.maximum(0.0, -solved.ineqlin.marginals)
        left = np.array(self.gain) - matrix.T @ prices
        finite = np.where(np.isinf(most), 1e4, most)
        return float(prices @ limits + (np.maximum(0.0, left) * finite).sum())


def upper_bound(
    problem: PlacementProblem, most_columns: int = MOST_COLUMNS, most_together: int = MOST_TAKEN_TOGETHER
) -> float | None:
    """Points that no plan for the problem can exceed; None where it was not worked out.

    Parameters
    ----------
    most_columns
        Plantings times beds times dates up to which each bed is counted by itself.
    most_together
        The same, beds alike in width and support taken together, up to which there is a bound.

    Limits
    ------
    Rests on ground, hours, picking and use alone: that a block keeps one place while it
    stands, shade within a bed and between beds, splits and crops that follow their own family
    only cost points and are left out; good neighbours are counted as if all stood together.
    Holds for blocks that reach one side of their bed. Of beds taken together each planting is
    counted as if it stood in the one that suits it best.
    """
    groups: list[tuple[int, ...]] = [(number,) for number in range(len(problem.beds))]
    if _n_columns(problem, groups) > most_columns:
        groups = _alike(problem)
        if _n_columns(problem, groups) > most_together:
            return None
    programme = _Programme()
    grounds = [_BedRows(problem, group, programme) for group in groups]
    ground_of = {bed: ground for group, ground in zip(groups, grounds, strict=True) for bed in group}
    weeks = _WeekRows(problem, programme)
    known: dict[object, tuple[LeastUse, ...]] = {}
    # Of a plan without any planting: weeks of picking that bring nothing count as gaps.
    fixed = picking_points(problem, ())
    for spot in fixed_spots(problem):
        dates = problem.requests[spot.request].dates
        ground = ground_of[spot.bed]
        ground.take(problem, spot, int(dates.taken_from[0]), int(dates.clear_by[0]))
        ground.there.add(rotation_of(problem, spot.request))
        weeks.take(spot.request, spot.area_m2, spot.n_plants)
        own = sum(float(points[0, 0]) for points in own_terms(problem, as_blocks(spot)).values())
        fixed += own + problem.requests[spot.request].worth * _good_neighbours(problem, spot.request)
    for number, facts in enumerate(problem.requests):
        if not facts.fixed and facts.request.n_plants and facts.dates.choices:
            _add_request(problem, programme, number, grounds, weeks, known)
    found = programme.most_gain()
    return None if found is None else found + fixed


def _n_columns(problem: PlacementProblem, groups: Sequence[tuple[int, ...]]) -> int:
    group_of = {bed: number for number, group in enumerate(groups) for bed in group}
    return sum(
        len({group_of[bed] for bed in facts.beds}) * len(facts.dates.choices)
        for facts in problem.requests
        if not facts.fixed
    )


def _alike(problem: PlacementProblem) -> list[tuple[int, ...]]:
    """Beds of one width with their supports on the same sides."""
    groups: dict[object, list[int]] = {}
    for number, place in enumerate(problem.beds):
        groups.setdefault((round(place.shape.width_m, 6), place.support_sides), []).append(number)
    return [tuple(group) for group in groups.values()]


def _good_neighbours(problem: PlacementProblem, request: int) -> float:
    """The most a request can gain from good neighbours, as a share of its worth."""
    facts = problem.requests[request]
    total = 0.0
    for number, other in enumerate(problem.requests):
        pair = (facts.crop.name, other.crop.name)
        gain = problem.neighbour_gain.get(pair, 0.0)
        if gain > 0 and number != request and _may_meet(facts, other):
            total += gain
    return total


def _may_meet(one: RequestFacts, other: RequestFacts) -> bool:
    if not set(one.beds) & set(other.beds) or not one.dates.choices or not other.dates.choices:
        return False
    return bool(
        (one.dates.taken_from[:, None] <= other.dates.clear_by[None, :]).any()
        and (other.dates.taken_from[None, :] <= one.dates.clear_by[:, None]).any()
    )


class _BedRows:
    """Rows of a bed, or of beds taken together: length and ground every two weeks, and season used."""

    def __init__(self, problem: PlacementProblem, beds: tuple[int, ...], programme: _Programme) -> None:
        self.programme, self.beds = programme, beds
        shapes = [problem.beds[bed].shape for bed in beds]
        seasons_m2 = [shape.area_m2 * SEASON_DAYS for shape in shapes]
        self.season_m2 = sum(seasons_m2)
        self.length_m, self.width_m = sum(shape.length_m for shape in shapes), shapes[0].width_m
        self.of_length: dict[int, int] = {}
        self.of_area: dict[int, int] = {}
        self.saved_m = 0.0
        # However use is shared out among beds, its cost is least where all bear it by their ground.
        evenly = self.season_m2**2 / sum(season_m2**2 for season_m2 in seasons_m2)
        cost = TERMS["even use"].weight * evenly
        paid, used = programme.column(-1.0, math.inf), programme.column(0.0, math.inf)
        self.use_row = programme.row(0.0)
        programme.add(self.use_row, used, -1.0)
        for at in USE_POINTS:
            row = programme.row(cost * at * at)
            programme.add(row, paid, -1.0)
            programme.add(row, used, 2 * cost * at)
        self.families: dict[str, int] = {}
        self.there: set[str | None] = set()
        """Families of what stands there already; another of them costs nothing more."""

    def save(self, saved_m: float) -> None:
        """Allow for margins that blocks at the two ends of a bed do without."""
        if saved_m > self.saved_m:
            more_m = 2 * len(self.beds) * (saved_m - self.saved_m)
            for row in self.of_length.values():
                self.programme.limits[row] += more_m
            for row in self.of_area.values():
                self.programme.limits[row] += more_m * self.width_m
            self.saved_m = saved_m

    def day_rows(self, taken_from: int, clear_by: int) -> tuple[list[int], list[int]]:
        """Rows of length and of ground of the days looked at in a span."""
        days = range(-(-taken_from // EVERY_DAYS), clear_by // EVERY_DAYS + 1)
        limit_m = self.length_m + 2 * len(self.beds) * self.saved_m
        for day in days:
            if day not in self.of_length:
                self.of_length[day] = self.programme.row(limit_m)
                self.of_area[day] = self.programme.row(limit_m * self.width_m)
        return [self.of_length[day] for day in days], [self.of_area[day] for day in days]

    def take(self, problem: PlacementProblem, spot: Spot, taken_from: int, clear_by: int) -> None:
        """Take length and ground off for what stands."""
        of_length, of_area = self.day_rows(taken_from, clear_by)
        for row in of_length:
            self.programme.limits[row] -= taken_length_m(problem, spot)
        for row in of_area:
            self.programme.limits[row] -= spot.area_m2
        used = spot.area_m2 * (clear_by - taken_from + 1) / self.season_m2
        self.programme.limits[self.use_row] -= used

    def family(self, group: str) -> int:
        """Column that says in how many of the beds a family stands."""
        if group not in self.families:
            cost = 0.0 if group in self.there else TERMS["families together"].weight
            self.families[group] = self.programme.column(-cost, len(self.beds))
        return self.families[group]


class _WeekRows:
    """Rows of hours of work and of picking, week by week."""

    def __init__(self, problem: PlacementProblem, programme: _Programme) -> None:
        self.problem, self.programme = problem, programme
        self.hours: dict[int, int] = {}
        self.picks: dict[tuple[int, int], int] = {}
        self.gaps: dict[tuple[int, int], int] = {}

    def _hour_row(self, week: int) -> int:
        promised = self.problem.weeks.promised_h
        if week not in self.hours:
            self.hours[week] = self.programme.row(math.inf if promised is None else float(promised[week]))
            over = self.programme.column(-TERMS["hours of work"].weight, math.inf)
            self.programme.add(self.hours[week], over, -1.0)
        return self.hours[week]

    def _pick_row(self, curve: int, week: int) -> int:
        weeks = self.problem.weeks
        if (curve, week) not in self.picks:
            self.picks[curve, week] = self.programme.row(float(weeks.steady_plants[curve]))
            worth = share("even picking") * float(weeks.plant_worth[curve])
            over = self.programme.column(-worth, math.inf)
            self.programme.add(self.picks[curve, week], over, -1.0)
        return self.picks[curve, week]

    def _gap_row(self, curve: int, week: int) -> int:
        """Row that lets a gap be filled as far as its week brings plants."""
        weeks = self.problem.weeks
        if (curve, week) not in self.gaps:
            self.gaps[curve, week] = self.programme.row(0.0)
            worth = share("even picking") * float(weeks.plant_worth[curve])
            filled = self.programme.column(worth, float(weeks.least_plants[curve, week]))
            self.programme.add(self.gaps[curve, week], filled, 1.0)
        return self.gaps[curve, week]

    def parts(self, request: int, date: int, area_m2: float, n_plants: float) -> Iterator[tuple[int, float]]:
        """Rows and amounts of a planting of so much ground and so many plants."""
        weeks = self.problem.weeks
        if weeks.promised_h is not None:
            start = int(weeks.work_from[request][date])
            for number, hours in enumerate(weeks.work_h_m2[request][date].tolist()):
                yield self._hour_row(start + number), hours * area_m2
        curve = int(weeks.group[request])
        if curve >= 0:
            first, last = int(weeks.pick_from[request][date]), int(weeks.pick_to[request][date])
            each = n_plants / (last - first + 1)
            for week in range(first, last + 1):
                yield self._pick_row(curve, week), each
                if weeks.least_plants[curve, week] > 0:
                    yield self._gap_row(curve, week), -each

    def take(self, request: int, area_m2: float, n_plants: int) -> None:
        """Take hours and picking off for what stands."""
        for row, amount in self.parts(request, 0, area_m2, n_plants):
            self.programme.limits[row] -= amount


def _add_request(
    problem: PlacementProblem,
    programme: _Programme,
    number: int,
    grounds: list[_BedRows],
    weeks: _WeekRows,
    known: dict[object, tuple[LeastUse, ...]],
) -> None:
    facts = problem.requests[number]
    n_plants = facts.request.n_plants
    once = programme.row(1.0)
    extra = facts.worth * _good_neighbours(problem, number)
    # With gaps of picking to fill, a place may pay that costs points by itself.
    curve = int(problem.weeks.group[number])
    fills = share("even picking") * float(problem.weeks.plant_worth[curve]) * n_plants if curve >= 0 else 0.0
    group = rotation_of(problem, number)
    saved_m = max(0.0, max(facts.spacing.end_m, facts.spacing.side_m) - facts.spacing.edge_m)
    for ground in grounds:
        beds = [bed for bed in facts.beds if bed in ground.beds]
        uses = least_of(use for bed in beds for use in _uses(problem, number, bed, known))
        if not uses:
            continue
        ground.save(saved_m)
        # No more stands there at once than the length holds.
        most_m = ground.length_m + 2 * len(ground.beds) * saved_m
        part = min(1.0, max(most_m / (use.length_m * n_plants) for use in uses))
        in_bed = programme.row(0.0) if group is not None else -1
        if group is not None:
            programme.add(in_bed, ground.family(group), -1.0)
        for use in uses:
            gains = np.max([_gains(problem, number, bed, use) for bed in beds], axis=0) + extra
            for date, gain in enumerate(gains.tolist()):
                if gain + fills <= 0:
                    continue
                column = programme.column(gain, part)
                programme.add(once, column, 1.0)
                if group is not None:
                    programme.add(in_bed, column, 1.0)
                _take_ground(problem, programme, number, date, column, use, ground)
                for row, amount in weeks.parts(number, date, use.season_m2 * n_plants, n_plants):
                    programme.add(row, column, amount)


def _take_ground(
    problem: PlacementProblem,
    programme: _Programme,
    request: int,
    date: int,
    column: int,
    use: LeastUse,
    place: _BedRows,
) -> None:
    facts = problem.requests[request]
    n_plants = facts.request.n_plants
    taken_from, clear_by = int(facts.dates.taken_from[date]), int(facts.dates.clear_by[date])
    of_length, of_area = place.day_rows(taken_from, clear_by)
    programme.add_to(of_length, column, use.length_m * n_plants)
    programme.add_to(of_area, column, use.area_m2 * n_plants)
    used = use.season_m2 * n_plants * (clear_by - taken_from + 1) / place.season_m2
    programme.add(place.use_row, column, used)


def _gains(problem: PlacementProblem, request: int, bed: int, use: LeastUse) -> FloatArray:
    """The most the whole request can gain in one kind of place by date, neighbours apart, (n_dates,)."""
    facts, place = problem.requests[request], problem.beds[bed]
    dates = facts.dates
    factor = 1.0 - np.where(np.isnan(dates.chance), 0.0, 1 - dates.chance)
    factor = factor - share("date preference") * dates.weeks_off - share("quiet weeks") * dates.quiet_share
    factor = factor - share("rotation") * rotation_years_short(problem, request, bed)
    factor = factor - share("watering") * {"hose": 0.0, "can": 1.0, "none": 3.0}[place.bed.watering_reach]
    factor = factor + _fit(problem, request, bed, use)
    kept = [one for one in facts.kept if one.bed == bed]
    if kept:
        factor = factor + share("kept place")
    if place.light is not None:
        inside = place.light.inside
        for date, months in enumerate(dates.month_share):
            if place.light.short_sums(months, facts.crop.min_sun_h) is not None:
                got = np.tensordot(months, place.light.hours, axes=1)[inside]
                factor[date] -= share("light") * max(0.0, facts.crop.min_sun_h - float(got.max()))
    rows = TERMS["setting out"].weight * use.rows * facts.request.n_plants
    gains: FloatArray = facts.worth * factor - rows
    return gains


def _fit(problem: PlacementProblem, request: int, bed: int, use: LeastUse) -> float:
    """Shares of worth that a kind of place brings or costs: support, side of a bed."""
    crop, sides = problem.requests[request].crop, problem.beds[bed].support_sides
    if use.kind == "support":
        return share("support")
    fit = -share("side of a bed") if use.kind == "side" else 0.0
    if wants_trellis(crop):
        return fit - share("support")
    if use.kind == "whole" and crop.support == "none" and ("left" in sides or "right" in sides):
        fit -= share("support") / 2
    return fit


def _uses(
    problem: PlacementProblem, request: int, bed: int, known: dict[object, tuple[LeastUse, ...]]
) -> tuple[LeastUse, ...]:
    facts, place = problem.requests[request], problem.beds[bed]
    climber = facts.crop.climbs and facts.crop.support != "none"
    key = (
        facts.spacing, facts.request.n_plants, climber, facts.needs_support_side, facts.anywhere,
        place.shape.length_m, place.shape.width_m, place.shape.vertices_m, place.shape.beyond,
        place.support_sides,
    )  # fmt: skip
    if key not in known:
        known[key] = least_uses(problem, request, bed)
    return known[key]
