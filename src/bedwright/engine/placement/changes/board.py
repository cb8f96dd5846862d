"""A plan on the table: spots are taken out and put in, and the best place of each is looked for."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

import numpy as np

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.changes.scan import KEPT, best_in_bed, take_out
from bedwright.engine.placement.compiled.anneal import anneal, lists
from bedwright.engine.placement.compiled.records import BARRED_POINTS, MOST_IN_BED, N_SCRATCH, SLOTS, World
from bedwright.engine.placement.compiled.state import load_spots, read_spots
from bedwright.engine.placement.compiled.tables import build_world, copy_world
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.rules import MOST_PATCHES, SMALL_M
from bedwright.engine.placement.search import COLD, HOT, movable_requests
from bedwright.engine.placement.value import picking_points

Offer = tuple[float, Spot]
"""Points a spot would gain, and the spot."""


class Board:
    """One plan of one problem, changed spot by spot.

    Parameters
    ----------
    problem
        Beds, requests and what is known of them.
    spots
        The plan, with what stands.
    blank
        Compiled form of the problem without a plan, where it is there already.
    world
        The same to be changed in place, where there is a copy already.
    """

    def __init__(
        self,
        problem: PlacementProblem,
        spots: Sequence[Spot],
        blank: World | None = None,
        world: World | None = None,
    ) -> None:
        self.problem = problem
        self._blank = build_world(problem, 0) if blank is None else blank
        self._world = copy_world(self._blank, 0) if world is None else world
        self._numbers: dict[Spot, int] = {}
        self.value = picking_points(problem, ())
        """Points of the plan; without a spot, what its gaps of picking cost."""
        for spot in spots:
            self.put(spot)

    def copy(self) -> Board:
        """The same plan on a table of its own."""
        other = Board(self.problem, (), self._blank, copy_world(self._world, 0))
        other._numbers = dict(self._numbers)
        other.value = self.value
        return other

    def with_spots(self, spots: Sequence[Spot]) -> Board:
        """Another plan for the same question, on a table of its own."""
        other, wanted = self.copy(), set(spots)
        for spot in self.spots:
            if spot not in wanted:
                other.take(spot)
        for spot in sorted(wanted.difference(self._numbers), key=order_of):
            other.put(spot)
        return other

    def plain(self) -> Board:
        """The same plan as one made afresh would be judged: nothing is worth keeping for its own sake."""
        requests = tuple(replace(one, kept=()) for one in self.problem.requests)
        blank = copy_world(self._blank, 0)
        blank.asked["kept1"] = blank.asked["kept0"]
        return Board(replace(self.problem, requests=requests), self.spots, blank)

    @property
    def spots(self) -> tuple[Spot, ...]:
        """The plan, in order of bed, day and place."""
        return tuple(sorted(self._numbers, key=order_of))

    def in_bed(self, bed: int) -> tuple[Spot, ...]:
        """Spots of one bed, in order."""
        return tuple(spot for spot in self.spots if spot.bed == bed)

    def of_request(self, request: int) -> tuple[Spot, ...]:
        """Places of one request, in order."""
        return tuple(spot for spot in self.spots if spot.request == request)

    def missing(self, request: int) -> int:
        """Plants of a request without a place."""
        return self.problem.requests[request].request.n_plants - int(self._world.asked[request]["placed"])

    @property
    def world(self) -> World:
        """The plan as compiled code sees it; changed by it in place."""
        return self._world

    def is_free(self, spot: Spot) -> bool:
        """True if nothing on the board has the ground of a spot at its time."""
        return not any(clash(spot, other) for other in self._numbers)

    def block_at(
        self, request: int, bed: int, lane: int, date: int, ground_m: tuple[float, float], n_plants: int
    ) -> Spot:
        """A block as compiled code names it: by numbers of its lane and date in the tables."""
        world = self._world
        one, way, days = world.slots[KEPT], world.lanes[lane], world.dates[date]
        one["request"], one["bed"], one["date"], one["n"] = request, bed, date, n_plants
        one["start"], one["end"] = ground_m
        for name in ("low", "high", "direction", "side"):
            one[name] = way[name]
        one["taken_from"], one["clear_by"] = days["taken_from"], days["clear_by"]
        return self._kept()

    def put(self, spot: Spot) -> float:
        """Put a spot in; returns the points gained."""
        world = self._world
        gained = load_spots(self.problem, world, (spot,))
        first = int(world.head[0]["bed_slots"]) + spot.bed * MOST_IN_BED
        self._numbers[spot] = int(world.ints[first + int(world.beds[spot.bed]["n_spots"]) - 1])
        self.value += gained
        return gained

    def take(self, spot: Spot) -> float:
        """Take a spot out; returns the points lost, which are negative if the plan gains."""
        world, number = self._world, self._numbers.pop(spot)
        lost = float(
            take_out(
                world.head,
                world.asked,
                world.dates,
                world.beds,
                world.slots,
                world.ints,
                world.floats,
                number,
            )
        )
        self.value -= lost
        return lost

    def best(
        self,
        request: int,
        n_plants: int,
        *,
        beds: Collection[int] | None = None,
        least: int | None = None,
        dates: Sequence[int] | None = None,
        floor: float = -BARRED_POINTS / 2,
    ) -> Offer | None:
        """The best place on free ground for a request.

        Parameters
        ----------
        n_plants
            Plants to place.
        beds
            Beds to look through; None for all that are allowed.
        least
            Fewest plants that will do; None for all `n_plants`.
        dates
            Numbers of the dates to try; None for all.
        floor
            Points that a place has to exceed; what is barred never does.

        Returns
        -------
        (points, spot) or None
            None if there is no such place.
        """
        facts = self.problem.requests[request]
        if int(self._world.asked[request]["n_patches"]) >= MOST_PATCHES or n_plants < 1:
            return None
        world, fewest = self._world, n_plants if least is None else least
        date0 = int(world.asked[request]["date0"])
        spans = [(0, len(facts.dates.choices))] if dates is None else [(date, date + 1) for date in dates]
        found: Offer | None = None
        for bed in facts.beds:
            if beds is not None and bed not in beds:
                continue
            for first, last in spans:
                points = float(
                    best_in_bed(*world, request, bed, n_plants, fewest, date0 + first, date0 + last, floor)
                )
                if points > floor:
                    floor, found = points, (points, self._kept())
        return found

    def improve(self, requests: Sequence[int], n_moves: int) -> None:
        """Search better places for some requests, everything else staying as it is.

        Parameters
        ----------
        requests
            Numbers of those that may be placed anew.
        n_moves
            Moves tried: the measure of work. The same board and moves give the same plan, never a
            worse one.
        """
        # What has neither bed nor date cannot be drawn a place for.
        movable = np.intersect1d(movable_requests(self.problem), np.array(requests, dtype=np.int64))
        if not movable.size:
            return
        world = copy_world(self._world, 0)
        stays = np.ones(len(world.asked), dtype=bool)
        stays[movable] = False
        world.asked["fixed"] |= stays
        best, values = world.slots.copy(), np.array([self.value, self.value])
        median = float(np.median([self.problem.requests[number].worth for number in movable]))
        anneal(*world, movable, best, values, 0, n_moves, n_moves, HOT * median, COLD * median, *lists())
        found = set(read_spots(world, best))
        for spot in self.spots:
            if spot not in found:
                self.take(spot)
        for spot in sorted(found.difference(self._numbers), key=order_of):
            self.put(spot)

    def _kept(self) -> Spot:
        """The place that the look through the beds has kept."""
        slots = np.zeros(N_SCRATCH + 1, SLOTS)
        slots[N_SCRATCH] = self._world.slots[KEPT]
        slots[N_SCRATCH]["live"] = 1
        return read_spots(self._world, slots)[0]


def clash(one: Spot, other: Spot) -> bool:
    """True if two spots want the same ground at the same time."""
    return (
        one.bed == other.bed
        and one.taken_from <= other.clear_by
        and other.taken_from <= one.clear_by
        and min(one.along_m[1], other.along_m[1]) - max(one.along_m[0], other.along_m[0]) > SMALL_M
        and min(one.across_m[1], other.across_m[1]) - max(one.across_m[0], other.across_m[0]) > SMALL_M
    )


def order_of(spot: Spot) -> tuple[object, ...]:
    """Key that puts spots in order of bed, day and place."""
    return (spot.bed, spot.taken_from, spot.along_m, spot.across_m, spot.request, spot.date)
