"""Two general ways to ask for the whole plan at once, as peers of the search.

Both take full-width blocks only, one place for each planting, and amounts of all, half or a
quarter: what a careful modeller would write down first. The plan each finds is judged by the
same evaluator as every other, all terms included.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from ortools.sat.python import cp_model
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from bedwright.engine.placement.blocks import Blocks, Lane, Spot, as_blocks, spot_at, whole_blocks
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.rules import STEP_M
from bedwright.engine.placement.terms import TERMS
from bedwright.engine.placement.value import own_terms, rotation_of

SCALE = 100
"""Points are whole hundredths to the solver."""

PARTS = (1.0, 0.5, 0.25)
CELL_M = 0.5
DAYS = 14


@dataclass(frozen=True, slots=True)
class Mode:
    """One amount of one request in one bed: the shortest full-width block, and its points by date."""

    request: int
    bed: int
    blocks: Blocks
    steps: int
    points: tuple[float, ...]


def modes_of(problem: PlacementProblem, parts: Sequence[float] = PARTS) -> list[Mode]:
    """Every request in every bed in every amount, without neighbours."""
    found = []
    for number, facts in enumerate(problem.requests):
        if not facts.dates.choices or facts.needs_support_side:
            continue
        for bed in facts.beds:
            for n_plants in sorted({max(1, round(part * facts.request.n_plants)) for part in parts}):
                mode = _mode(problem, number, bed, n_plants)
                if mode is not None:
                    found.append(mode)
    return found


def _mode(problem: PlacementProblem, request: int, bed: int, n_plants: int) -> Mode | None:
    shape = problem.beds[bed].shape
    best: Mode | None = None
    for direction in ("across", "along"):
        lane = Lane(direction, (0.0, shape.width_m))
        blocks = whole_blocks(problem, request, bed, lane, n_plants)
        if blocks is None or int(blocks.n_plants.min()) < n_plants:
            continue
        inner = min(1, len(blocks.start_m) - 1)
        steps = round(float(blocks.end_m[inner] - blocks.start_m[inner]) / STEP_M)
        one = as_blocks(spot_at(problem, blocks, inner, 0))
        points = sum(own_terms(problem, one).values())
        by_date = tuple(float(value) for value in np.asarray(points)[:, 0])
        if best is None or steps < best.steps:
            best = Mode(request, bed, blocks, steps, by_date)
    return best


def _spot(problem: PlacementProblem, mode: Mode, start_m: float, date: int) -> Spot | None:
    at = np.flatnonzero(np.abs(mode.blocks.start_m - start_m) < 1e-6)
    return spot_at(problem, mode.blocks, int(at[0]), date) if len(at) else None


@dataclass(frozen=True, slots=True)
class _Asked:
    """Variables of one request."""

    start: cp_model.IntVar
    length: cp_model.IntVar
    end: cp_model.IntVar
    """Steps along the bed."""
    day: cp_model.IntVar
    until: cp_model.IntVar
    days: cp_model.IntVar
    on: list[cp_model.IntVar]
    """By date."""
    in_bed: dict[int, cp_model.IntVar]
    late: dict[int, cp_model.IntVar]
    """By date that costs something: placed on it."""


class _WholeModel:
    """The whole question for CP-SAT: optional rectangles of length by days, none overlapping in a bed."""

    def __init__(self, problem: PlacementProblem) -> None:
        self.problem, self.model, self.modes = problem, cp_model.CpModel(), modes_of(problem)
        self.chosen = [self.model.new_bool_var("") for _ in self.modes]
        self.by_request: dict[int, list[int]] = defaultdict(list)
        for number, mode in enumerate(self.modes):
            self.by_request[mode.request].append(number)
        self.rectangles: dict[int, list[tuple[cp_model.IntervalVar, cp_model.IntervalVar]]] = defaultdict(
            list
        )
        self.families: dict[tuple[str, int], cp_model.IntVar] = {}
        self.gains: list[tuple[int, cp_model.IntVar]] = []
        self.asked: dict[int, _Asked] = {}
        for request in self.by_request:
            self._add_request(request)
        for pairs in self.rectangles.values():
            self.model.add_no_overlap_2d([one for one, _ in pairs], [other for _, other in pairs])
        family_cost = round(SCALE * TERMS["families together"].weight)
        self.gains += [(-family_cost, family) for family in self.families.values()]
        self.model.maximize(sum(points * variable for points, variable in self.gains))

    def _add_request(self, request: int) -> None:
        model, numbers, dates = self.model, self.by_request[request], self.problem.requests[request].dates
        most = max(self._steps(self.modes[n].bed) for n in numbers)
        start, length, end = (model.new_int_var(0, most, "") for _ in range(3))
        on = [model.new_bool_var("") for _ in dates.choices]
        in_bed: dict[int, cp_model.IntVar] = {}
        low, high = int(dates.taken_from.min()), int(dates.clear_by.max()) + 1
        day, until = model.new_int_var(low, high, ""), model.new_int_var(low, high, "")
        days = model.new_int_var(0, high - low, "")
        model.add_exactly_one(on)
        model.add_at_most_one(self.chosen[n] for n in numbers)
        model.add(day == sum(int(f) * one for f, one in zip(dates.taken_from, on, strict=True)))
        model.add(until == sum((int(c) + 1) * one for c, one in zip(dates.clear_by, on, strict=True)))
        model.add(days == until - day)
        model.add(length == sum(self.modes[n].steps * self.chosen[n] for n in numbers))
        model.add(end == start + length)
        for bed in sorted({self.modes[n].bed for n in numbers}):
            there = in_bed[bed] = model.new_bool_var("")
            model.add(sum(self.chosen[n] for n in numbers if self.modes[n].bed == bed) == there)
            model.add(end <= self._steps(bed)).only_enforce_if(there)
            along = model.new_optional_interval_var(start, length, end, there, "")
            self.rectangles[bed].append((along, model.new_optional_interval_var(day, days, until, there, "")))
            group = rotation_of(self.problem, request)
            if group is not None:
                family = self.families.setdefault((group, bed), model.new_bool_var(""))
                model.add_implication(there, family)
        late = self._add_gains(numbers, on)
        self.asked[request] = _Asked(start, length, end, day, until, days, on, in_bed, late)

    def _add_gains(self, numbers: list[int], on: list[cp_model.IntVar]) -> dict[int, cp_model.IntVar]:
        """Points of each amount at its best date, less what the date taken costs the whole planting."""
        for n in numbers:
            self.gains.append((round(SCALE * max(self.modes[n].points)), self.chosen[n]))
        best = max(max(self.modes[n].points) for n in numbers)
        placed = sum(self.chosen[n] for n in numbers)
        late: dict[int, cp_model.IntVar] = {}
        for k, one in enumerate(on):
            cost = round(SCALE * (best - max(self.modes[n].points[k] for n in numbers)))
            if cost > 0:
                both = late[k] = self.model.new_bool_var("")
                self.model.add(both >= one + placed - 1)
                self.gains.append((-cost, both))
        return late

    def _steps(self, bed: int) -> int:
        return round(self.problem.beds[bed].shape.length_m / STEP_M)

    def hint(self, spots: Sequence[Spot]) -> None:
        """Begin with a plan, a value for every variable; what the model cannot express is left out of it."""
        there = {spot.request: spot for spot in spots}
        families = dict.fromkeys(self.families, False)
        for request, numbers in self.by_request.items():
            spot = there.get(request)
            kept = max(
                (n for n in numbers if spot is not None and self._fits(self.modes[n], spot)),
                key=lambda n: int(self.modes[n].blocks.n_plants[0]),
                default=-1,
            )
            for n in numbers:
                self.model.add_hint(self.chosen[n], n == kept)
            mode = self.modes[kept] if kept >= 0 else None
            self._hint_one(request, mode, spot if mode else None)
            group = rotation_of(self.problem, request)
            if mode and group is not None:
                families[group, mode.bed] = True
        for key, value in families.items():
            self.model.add_hint(self.families[key], value)

    def _hint_one(self, request: int, mode: Mode | None, spot: Spot | None) -> None:
        asked, dates = self.asked[request], self.problem.requests[request].dates
        date = spot.date if spot else 0
        start, length = round(spot.along_m[0] / STEP_M) if spot else 0, mode.steps if mode else 0
        day, until = int(dates.taken_from[date]), int(dates.clear_by[date]) + 1
        for variable, value in (
            (asked.start, start), (asked.length, length), (asked.end, start + length),
            (asked.day, day), (asked.until, until), (asked.days, until - day),
        ):  # fmt: skip
            self.model.add_hint(variable, value)
        for k, one in enumerate(asked.on):
            self.model.add_hint(one, k == date)
        for k, one in asked.late.items():
            self.model.add_hint(one, mode is not None and k == date)
        for bed, one in asked.in_bed.items():
            self.model.add_hint(one, mode is not None and mode.bed == bed)

    def _fits(self, mode: Mode, spot: Spot) -> bool:
        """True if an amount finds room on the full width within the ground of a spot."""
        low, high = spot.across_m
        return (
            mode.bed == spot.bed
            and high - low > self.problem.beds[spot.bed].shape.width_m - 1e-6
            and int(mode.blocks.n_plants[0]) <= spot.n_plants
            and mode.steps * STEP_M <= spot.along_m[1] - spot.along_m[0] + 1e-6
        )

    def spots(self, solver: cp_model.CpSolver) -> tuple[Spot, ...]:
        """The plan found."""
        found = []
        for request, numbers in self.by_request.items():
            asked = self.asked[request]
            date = next(k for k, one in enumerate(asked.on) if solver.boolean_value(one))
            start_m = round(solver.value(asked.start) * STEP_M, 6)
            found += [
                _spot(self.problem, self.modes[n], start_m, date)
                for n in numbers
                if solver.boolean_value(self.chosen[n])
            ]
        return tuple(sorted(spot for spot in found if spot is not None))


def by_cp_sat(problem: PlacementProblem, hint: Sequence[Spot], work: float) -> tuple[tuple[Spot, ...], str]:
    """The whole plan by CP-SAT, every choice hinted from a plan.

    Parameters
    ----------
    work
        Deterministic time; about as many seconds.
    """
    whole = _WholeModel(problem)
    whole.hint(hint)
    solver = cp_model.CpSolver()
    solver.parameters.max_deterministic_time = work
    solver.parameters.num_workers = 1
    status = solver.solve(whole.model)
    # After UNKNOWN there are no values to read.
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return (), "nothing found"
    return whole.spots(solver), solver.status_name(status).lower()


def by_milp(problem: PlacementProblem, limit_s: float) -> tuple[tuple[Spot, ...], str]:
    """The whole plan by HiGHS: a variable for each request, bed, date and start on a grid of half metres.

    Parameters
    ----------
    limit_s
        Seconds by the clock: the solver's own measure.
    """
    columns: list[tuple[Mode, int, float]] = []
    rows: dict[object, list[int]] = defaultdict(list)
    for mode in modes_of(problem, (1.0, 0.5)):
        dates = problem.requests[mode.request].dates
        length_m = problem.beds[mode.bed].shape.length_m
        for date in range(len(dates.choices)):
            for cell in range(int((length_m - mode.steps * STEP_M) / CELL_M + 1e-9) + 1):
                number = len(columns)
                columns.append((mode, date, round(cell * CELL_M, 6)))
                rows["once", mode.request].append(number)
                first, last = int(dates.taken_from[date]) // DAYS, int(dates.clear_by[date]) // DAYS
                taken = range(cell, cell + int(np.ceil(mode.steps * STEP_M / CELL_M - 1e-9)))
                for period in range(first, last + 1):
                    for at in taken:
                        rows[mode.bed, at, period].append(number)
    gain = np.array([mode.points[date] for mode, date, _ in columns])
    entries = [(row, column) for row, held in enumerate(rows.values()) for column in held]
    places = np.array(entries)
    shape = (len(rows), len(columns))
    matrix = csr_array((np.ones(len(places)), (places[:, 0], places[:, 1])), shape=shape)
    solved = milp(
        -gain,
        constraints=LinearConstraint(matrix, -np.inf, 1.0),
        bounds=Bounds(0, 1),
        integrality=np.ones(len(columns), dtype=np.int64),
        options={"time_limit": limit_s},
    )
    if solved.x is None:
        return (), "nothing found"
    spots = [
        _spot(problem, mode, start_m, date)
        for (mode, date, start_m), value in zip(columns, solved.x, strict=True)
        if value > 0.5
    ]
    return tuple(sorted(spot for spot in spots if spot is not None)), f"{len(columns)} variables"
