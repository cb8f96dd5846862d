"""Putting back what was lost, with few others moved, and giving up what the hours do not allow."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

from bedwright.engine.placement.blocks import Spot, spot_at, whole_blocks
from bedwright.engine.placement.changes.board import Board, Offer
from bedwright.engine.placement.rules import MOST_PATCHES, SMALL_M

GAIN = 1e-6
MOVES = 30_000
"""Moves tried to find better places for what was lost: some 0.05 s of a core."""
SHORTER = (0.75, 0.5, 0.25)
"""Shares of a planting tried where the hours do not allow all of it."""


@dataclass(slots=True)
class Repair:
    """A plan under repair.

    Parameters
    ----------
    board
        The plan, with what was lost taken out.
    movable
        Spots that may be moved where it is needed.
    most_moved
        How many of them.
    """

    board: Board
    movable: set[Spot]
    most_moved: int
    moved: list[Spot] = field(default_factory=list)
    """Spots moved or given up, as they were."""
    why: dict[Spot, str] = field(default_factory=dict)
    """What brought about the change of a spot, as it was."""

    def put_in(self, requests: Sequence[int]) -> None:
        """Put requests on free ground as fully as pays, those wanted most first."""
        for request in self._in_order(requests):
            self._fill(request)

    def make_room(self, requests: Sequence[int]) -> None:
        """Put what is still missing of requests in place of others that can go elsewhere."""
        for request in self._in_order(requests):
            while self.board.missing(request) > 0 and len(self.moved) < self.most_moved:
                if not self._move_one_for(request):
                    break
                self._fill(request)

    def settle(self, requests: Sequence[int]) -> None:
        """Search better places for requests and for what was moved for them, all else staying."""
        stays = {spot.request for spot in self.movable}
        free = {*requests, *(spot.request for spot in self.moved)} - stays
        self.board.improve(sorted(free), MOVES)

    def _in_order(self, requests: Sequence[int]) -> list[int]:
        problem = self.board.problem

        def key(number: int) -> tuple[float, float, int]:
            facts = problem.requests[number]
            ground = self.board.missing(number) * facts.spacing.in_row_m * facts.spacing.row_m
            return (-facts.request.priority, -ground, number)

        return sorted((one for one in requests if self.board.missing(one) > 0), key=key)

    def _fill(self, request: int) -> None:
        board = self.board
        for _ in range(MOST_PATCHES):
            missing = board.missing(request)
            offer = board.best(request, missing, floor=0.0) or board.best(
                request, missing, least=1, floor=0.0
            )
            if offer is None:
                return
            board.put(offer[1])

    def _move_one_for(self, request: int) -> bool:
        """Move the spot that makes the best room for a request; False if none gains points."""
        board = self.board
        missing, allowed = board.missing(request), board.problem.requests[request].beds
        best: tuple[float, Spot, Spot, Spot | None] | None = None
        for spot in sorted(self.movable):
            if spot.bed not in allowed or spot.request == request:
                continue
            found = self._room_without(request, missing, spot, GAIN if best is None else best[0])
            if found is not None:
                best = found
        if best is None:
            return False
        _, spot, placed, elsewhere = best
        board.take(spot)
        board.put(placed)
        if elsewhere is not None:
            board.put(elsewhere)
        self.movable.discard(spot)
        self.moved.append(spot)
        self.why[spot] = f"Makes room for {board.problem.requests[request].request.code}."
        return True

    def _room_without(
        self, request: int, missing: int, spot: Spot, floor: float
    ) -> tuple[float, Spot, Spot, Spot | None] | None:
        """Points won by a request in the bed of a spot that goes elsewhere, if above `floor`."""
        board = self.board
        lost = board.take(spot)
        found: tuple[float, Spot, Spot, Spot | None] | None = None
        # Elsewhere a spot is hardly worth more than where it was, so that place need not be sought.
        beds = (spot.bed,)
        here = board.best(request, missing, beds=beds, floor=floor)
        if here is None:
            here = board.best(request, missing, beds=beds, least=1, floor=floor)
        if here is not None:
            board.put(here[1])
            there = board.best(spot.request, spot.n_plants)
            if there is None and self._may_give_up(spot.request, request):
                there = board.best(spot.request, spot.n_plants, least=1)
            board.take(here[1])
            total = here[0] - lost + (there[0] if there else 0.0)
            if total > floor and (there is not None or self._may_give_up(spot.request, request)):
                found = (total, spot, here[1], there[1] if there else None)
        board.put(spot)
        return found

    def _may_give_up(self, request: int, other: int) -> bool:
        asked = self.board.problem.requests
        return asked[request].request.priority < asked[other].request.priority

    def fit_hours(self) -> None:
        """Move, shorten or leave out plantings as long as that is worth the hours it frees.

        What promises most is done first, each looked at again when its turn comes.
        """
        offers = [(found[0], spot) for spot in sorted(self.movable) if (found := self._less_work(spot))]
        for _, spot in sorted(offers, key=lambda one: (-one[0], one[1])):
            found = self._less_work(spot)
            if found is None:
                continue
            _, instead = found
            self.board.take(spot)
            if instead is not None:
                self.board.put(instead)
            self.movable.discard(spot)
            self.why[spot] = "The hours promised do not reach for all."
            if instead is not None and instead.n_plants == spot.n_plants:
                self.moved.append(spot)

    def _less_work(self, spot: Spot) -> tuple[float, Spot | None] | None:
        """Points gained by the best of moving, shortening and leaving out a spot; None if none gains."""
        board = self.board
        lost = board.take(spot)
        best: tuple[float, Spot | None] = (-lost, None)
        if len(self.moved) < self.most_moved:
            n_dates = len(board.problem.requests[spot.request].dates.choices)
            dates = [date for date in range(n_dates) if date != spot.date]
            offer = board.best(spot.request, spot.n_plants, dates=dates, floor=lost)
            if offer is not None and offer[0] - lost > best[0] + GAIN:
                best = (offer[0] - lost, offer[1])
        for share in SHORTER:
            shorter = _shortened(board, spot, math.ceil(share * spot.n_plants))
            if shorter is not None and shorter[0] - lost > best[0] + GAIN:
                best = (shorter[0] - lost, shorter[1])
        board.put(spot)
        return best if best[0] > GAIN else None


def _shortened(board: Board, spot: Spot, n_plants: int) -> Offer | None:
    """The same planting with fewer plants from the same start; None if that is no shorter block."""
    problem = board.problem
    least = problem.requests[spot.request]
    if n_plants >= spot.n_plants or n_plants < 0.2 * least.request.n_plants:
        return None
    blocks = whole_blocks(problem, spot.request, spot.bed, spot.lane, n_plants, spot.along_m)
    if blocks is None:
        return None
    for number, (start_m, end_m) in enumerate(zip(blocks.start_m, blocks.end_m, strict=True)):
        if abs(float(start_m) - spot.along_m[0]) < SMALL_M and float(end_m) <= spot.along_m[1] + SMALL_M:
            shorter = spot_at(problem, blocks, number, spot.date)
            if shorter.n_plants == n_plants:
                points = board.put(shorter)
                board.take(shorter)
                return points, shorter
    return None
