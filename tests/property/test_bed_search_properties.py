"""Small beds laid out by the search, held against every layout there is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from bedwright.engine.placement.blocks import Lane, Spot, spot_at, whole_blocks
from bedwright.engine.placement.changes import Board
from bedwright.engine.placement.changes.board import clash
from bedwright.engine.placement.changes.settle import ENOUGH, searched
from bedwright.engine.placement.compiled.state import _SIDES as SIDE_OF
from bedwright.engine.placement.compiled.state import _WAYS as WAYS
from bedwright.model.book import HelpingHands, NeighbourWish
from bedwright.model.ground import Outline
from bedwright.model.light import BedLight
from tests.unit.engine.placement.changes.plans import problem_of
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, crop, l_shape, outline, request

TALL = crop("maize", "grass", in_row_spacing_m=0.3, row_spacing_m=0.4, height_m=2.0)
LOW = crop("lettuce", "composite", in_row_spacing_m=0.3, row_spacing_m=0.3, height_m=0.3)
OTHER = crop("endive", "composite", in_row_spacing_m=0.25, row_spacing_m=0.4, height_m=0.3)
DATES = tuple(choice(SPRING + timedelta(days=after), days) for after, days in ((0, 60), (0, 100), (65, 60)))
PEOPLE = (HelpingHands("some people", 0.5, SPRING - timedelta(days=200), SPRING + timedelta(days=400)),)
GOOD = (NeighbourWish("lettuce", "endive", wanted=True),)
BAD = (NeighbourWish("lettuce", "maize", wanted=False),)
NO_LIMIT = 10**8
MOST_LAYOUTS = 8_000


@dataclass(frozen=True)
class Question:
    """A bed with what is fixed, blocks to lay, and which of them may take any day and shape."""

    board: Board
    free: tuple[Spot, ...]
    reopened: frozenset[int]


def every_place(board: Board, spot: Spot, *, reopened: bool) -> Iterator[Spot]:
    """All places of a block on the raster, in the lanes that the problem has for it."""
    world = board.world
    asked, head, ground = world.asked[spot.request], world.head[0], world.beds[0]
    at = int(head["lane_at"] + (asked["geometry"] * head["n_forms"] + ground["form"]) * 3)
    dates = board.problem.requests[spot.request].dates
    for number in range(int(world.ints[at]), int(world.ints[at + 2])):
        way = world.lanes[number]
        across_m = float(way["low"]), float(way["high"])
        lane = Lane(WAYS[way["direction"]], across_m, SIDE_OF[way["side"]])
        full = lane.across_m == (0.0, float(ground["width"]))
        if (
            reopened
            or full
            or lane.side
            or (lane.across_m, lane.direction) == (spot.across_m, spot.direction)
        ):
            for date in range(len(dates.choices)) if reopened else (spot.date,):
                yield from in_lane(board, spot, number, lane, date)


def in_lane(board: Board, spot: Spot, number: int, lane: Lane, date: int) -> Iterator[Spot]:
    world, problem = board.world, board.problem
    if problem.beds[0].shape.rectangular:
        blocks = whole_blocks(problem, spot.request, 0, lane, spot.n_plants)
        made = (
            [] if blocks is None else [spot_at(problem, blocks, n, date) for n in range(len(blocks.start_m))]
        )
        yield from (one for one in made if one.n_plants == spot.n_plants)
        return
    at = int(world.head[0]["block_at"] + spot.request * len(world.beds) * 2)
    dates = problem.requests[spot.request].dates
    for one in world.blocks[world.ints[at] : world.ints[at + 1]]:
        if one["lane"] == number and one["n"] == spot.n_plants:
            yield replace(
                spot,
                along_m=(float(one["start"]), float(one["end"])),
                across_m=lane.across_m,
                direction=lane.direction,
                side=lane.side,
                date=date,
                taken_from=int(dates.taken_from[date]),
                clear_by=int(dates.clear_by[date]),
            )


def best_of_all(board: Board, options: list[list[Spot]]) -> float:
    """Points that the best of all layouts adds to what is fixed."""
    before, fixed = board.value, board.in_bed(0)
    best = before

    def lay(number: int, laid: tuple[Spot, ...]) -> None:
        nonlocal best
        best = max(best, board.value)
        if number < len(options):
            for spot in options[number]:
                if not any(clash(spot, other) for other in laid):
                    board.put(spot)
                    lay(number + 1, (*laid, spot))
                    board.take(spot)
            lay(number + 1, laid)

    lay(0, fixed)
    return best - before


RECTANGLES: st.SearchStrategy[Outline] = st.sampled_from(
    [outline(1.2, 0.75), outline(0.95, 1.2, 200.0), outline(1.6, 0.6, 0.0)]
)
ODD: st.SearchStrategy[Outline] = st.just(l_shape())


@st.composite
def questions(draw: st.DrawFn, grounds: st.SearchStrategy[Outline]) -> Question:
    garden = book(
        bed("A", draw(grounds)),
        neighbours=draw(st.sampled_from([(), GOOD, BAD])),
        people=draw(st.sampled_from([(), PEOPLE])),
    )
    asked = [
        request(
            f"wish-{number}",
            draw(st.sampled_from([TALL, LOW, OTHER])),
            draw(st.integers(1, 4)),
            DATES,
            priority=draw(st.integers(1, 5)),
        )
        for number in range(draw(st.integers(2, 3)))
    ]
    frame, hours = garden.beds[0].frame, draw(st.lists(st.sampled_from([3.0, 5.0, 9.0]), max_size=8))
    light: tuple[BedLight, ...] = ()
    if hours:
        along = np.resize(np.array(hours), round(frame.length_m / 0.1))
        cells = np.broadcast_to(along[None, :, None], (12, along.size, round(frame.width_m / 0.1)))
        light = (BedLight("A", 0.1, cells.copy()),)
    board = Board(problem_of(garden, *asked, light=light), ())
    offers = [
        board.best(number, one.n_plants, dates=(draw(st.integers(0, 2)),)) for number, one in enumerate(asked)
    ]
    free = [offer[1] for offer in offers if offer is not None]
    fixes_one: bool = draw(st.booleans())
    if free and fixes_one:
        board.put(free.pop())
    reopened = frozenset(number for number in range(len(free)) if draw(st.integers(0, 4)) == 0)
    return Question(board, tuple(free), reopened)


def hold_against_all(question: Question) -> None:
    board, free = question.board, question.free
    options = [
        list(every_place(board, one, reopened=number in question.reopened)) for number, one in enumerate(free)
    ]
    assume(free)
    assume(np.prod([len(places) + 1.0 for places in options]) <= MOST_LAYOUTS)
    best, before = best_of_all(board, options), board.value
    nothing: list[Spot | None] = [None] * len(free)
    laid, at_most, _ = searched(board, 0, free, nothing, question.reopened, NO_LIMIT)
    assert board.value - before == pytest.approx(best, abs=ENOUGH)
    assert at_most == pytest.approx(best, abs=ENOUGH)
    assert all(spot is None or spot in places for spot, places in zip(laid, options, strict=True))


SLOW = settings(
    max_examples=25,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


@SLOW
@given(questions(RECTANGLES))
def test_the_layout_proven_best_is_the_best_of_all(question: Question) -> None:
    hold_against_all(question)


@SLOW
@given(questions(ODD))
def test_in_an_odd_outline_too_it_is_the_best_of_all(question: Question) -> None:
    hold_against_all(question)
