"""One block moved by hand and its bed laid out again, held against every layout there is."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import product

import pytest

from bedwright.engine.placement.blocks import Spot, lanes, spot_at, whole_blocks
from bedwright.engine.placement.changes import Board, Ground, MoveRefusedError, move_planting, move_table
from bedwright.engine.placement.changes.board import clash
from bedwright.engine.placement.changes.drag import Moved
from bedwright.engine.placement.changes.settle import moved_block, settle_bed
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.standing import start_spots
from bedwright.engine.placement.value import plan_terms
from bedwright.model.book import NeighbourWish
from bedwright.model.season import PlantingRequest
from tests.unit.engine.placement.changes.plans import (
    BEFORE,
    CABBAGE,
    DURING,
    LETTUCE,
    ONION,
    problem_of,
    season,
)
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, l_shape, outline, request, sun

LATER = choice(SPRING + timedelta(days=70))


def every_place(problem: PlacementProblem, request: int, shape: Spot) -> list[Spot]:
    """All places of a block that keeps its shape and day or takes the full width, 5 cm apart."""
    facts, width_m = problem.requests[request], problem.beds[0].shape.width_m
    found = []
    for lane in lanes(problem.beds[0], facts.spacing, climber=False, only_support=False):
        if lane != shape.lane and lane.across_m != (0.0, width_m):
            continue
        blocks = whole_blocks(problem, request, 0, lane, shape.n_plants)
        if blocks is not None:
            spots = [spot_at(problem, blocks, number, shape.date) for number in range(len(blocks.start_m))]
            found += [spot for spot in spots if spot.n_plants == shape.n_plants]
    return found


def best_of_all(problem: PlacementProblem, moved: Spot, free: list[Spot]) -> float:
    """Points of the best of all layouts with the moved block where it is."""
    options = [[None, *every_place(problem, spot.request, spot)] for spot in free]
    best = float("-inf")
    for chosen in product(*options):
        laid = [spot for spot in chosen if spot is not None]
        pairs = [(one, other) for n, one in enumerate(laid) for other in (moved, *laid[n + 1 :])]
        if not any(clash(one, other) for one, other in pairs):
            best = max(best, sum(plan_terms(problem, (moved, *laid)).values()))
    return best


ASKED = (
    request("cabbage-1", CABBAGE, 6, priority=4),
    request("lettuce-1", LETTUCE, 6, (choice(),)),
    request("onion-1", ONION, 20, (choice(),), priority=2),
)


@pytest.mark.parametrize("along_m", [0.0, 0.35, 0.8, 1.2])
@pytest.mark.parametrize("neighbours", [(), (NeighbourWish("cabbage", "onion", wanted=True),)])
def test_no_layout_of_a_small_bed_is_better(along_m: float, neighbours: tuple[NeighbourWish, ...]) -> None:
    garden = book(bed("A", outline(2.0, 1.2)), neighbours=neighbours)
    light = (sun(garden.beds[0], 3.0),)
    plan = season(garden, *ASKED, light=light)
    problem = problem_of(garden, *ASKED, light=light)
    board = Board(problem, start_spots(problem, plan.plantings))
    lettuce = next(spot for spot in board.spots if spot.request == 1)
    free = [spot for spot in board.spots if spot.request != 1]
    for spot in board.spots:
        board.take(spot)
    moved = moved_block(board, lettuce, 0, along_m, SPRING)
    board.put(moved)
    settled = settle_bed(board, moved, free)
    assert settled.proven
    if not settled.left_out:
        assert settled.points == pytest.approx(best_of_all(problem, moved, free), abs=1e-6)
    assert settled.points == pytest.approx(sum(plan_terms(problem, settled.spots).values()))
    assert settled.at_most >= best_of_all(problem, moved, free) - 1e-6


def moved_in(
    asked: tuple[PlantingRequest, ...], code: str, to: str, along_m: float, in_ground: date | None = None
) -> Moved:
    garden = book(bed("A"), bed("B", outline(2.0)))
    plan = season(garden, *asked)
    ready = move_table(plan, asked, Ground((), (), {one.crop.name: one.crop for one in asked}), today=BEFORE)
    return move_planting(ready, code, to, along_m, in_ground)


def test_a_move_changes_the_plan_as_it_says_and_leaves_the_table_as_it_was() -> None:
    garden = book(bed("A"), bed("B"))
    plan = season(garden, *ASKED)
    ready = move_table(plan, ASKED, Ground((), (), {one.crop.name: one.crop for one in ASKED}), today=BEFORE)
    first = move_planting(ready, "cabbage-1", "B", 1.0)
    second = move_planting(ready, "cabbage-1", "B", 1.0)
    assert first.plantings == second.plantings
    cabbage = next(one for one in first.plantings if one.code == "cabbage-1")
    assert (cabbage.bed_code, cabbage.along_m[0]) == ("B", 1.0)
    assert "cabbage-1" in {one.planting_code for one in first.changes}
    assert first.proven


def test_in_a_bed_that_is_no_rectangle_the_best_is_proven_too() -> None:
    plan = season(book(bed("A", l_shape())), *ASKED)
    ready = move_table(plan, ASKED, Ground((), (), {one.crop.name: one.crop for one in ASKED}), today=BEFORE)
    moved = move_planting(ready, "cabbage-1", "A", 0.5)
    assert moved.proven
    assert "could be had" not in moved.text


def test_nothing_is_said_to_be_proven_of_a_block_that_an_odd_bed_has_no_place_listed_for() -> None:
    garden = book(bed("A", l_shape()))
    problem = problem_of(garden, *ASKED)
    moved, other, _ = sorted(start_spots(problem, season(garden, *ASKED).plantings))
    board = Board(problem, (moved,))
    settled = settle_bed(board, moved, [replace(other, n_plants=other.n_plants - 1)])
    assert settled.at_most == float("inf")
    assert not settled.proven


def test_what_the_moved_block_hits_gives_way() -> None:
    garden = book(bed("A", outline(2.4)))
    plan = season(garden, *ASKED[:2])
    cabbage, lettuce = sorted(plan.plantings, key=lambda one: one.code)
    ready = move_table(plan, ASKED, Ground((), (), {one.crop.name: one.crop for one in ASKED}), today=BEFORE)
    made = move_planting(ready, lettuce.code, "A", cabbage.along_m[0])
    now = {one.code: one for one in made.plantings}
    assert set(now) == {"cabbage-1", "lettuce-1"}
    assert now["cabbage-1"].along_m != cabbage.along_m or now["lettuce-1"].across_m != cabbage.across_m


def test_a_block_can_go_in_on_another_of_its_dates() -> None:
    asked = (replace(ASKED[1], choices=(choice(), LATER)),)
    made = moved_in(asked, "lettuce-1", "B", 0.0, in_ground=LATER.in_ground)
    assert made.plantings[0].dates == LATER
    assert made.points < 0
    assert made.text.startswith("This costs")
    assert "weeks farther from the date that suits it best" in made.text


@pytest.mark.parametrize(
    ("code", "to", "along_m", "told"),
    [
        ("leek-1", "A", 0.0, "There is no planting leek-1"),
        ("cabbage-1", "Q", 0.0, "There is no bed Q"),
        ("cabbage-1", "B", 1.95, "has no room for 6 plants of cabbage"),
        ("lettuce-1", "B", 0.0, "may not stand in bed B: ruled out in your wish"),
    ],
)
def test_a_move_that_cannot_be_is_refused_in_words(code: str, to: str, along_m: float, told: str) -> None:
    asked = (ASKED[0], replace(ASKED[1], not_beds=("B",)))
    with pytest.raises(MoveRefusedError, match=told):
        moved_in(asked, code, to, along_m)


def test_a_day_that_is_none_of_its_dates_is_refused() -> None:
    with pytest.raises(MoveRefusedError, match="Days that would do: 12 April 2027"):
        moved_in(ASKED[:1], "cabbage-1", "B", 0.0, in_ground=SPRING + timedelta(days=4))


def test_what_stands_is_not_moved_and_does_not_give_way() -> None:
    garden = book(bed("A", outline(1.2)))
    later = replace(ASKED[1], choices=(LATER,), best=0)
    plan = season(garden, replace(ASKED[0], n_plants=9), replace(later, not_beds=()))
    ground = Ground((), (), {one.crop.name: one.crop for one in ASKED})
    ready = move_table(plan, (ASKED[0], later), ground, today=DURING)
    with pytest.raises(MoveRefusedError, match="stands since 12 April 2027"):
        move_planting(ready, "cabbage-1", "A", 0.0)
