"""What holds whatever happens: what stands never moves, rules are kept, the same in is the same out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.engine.placement.changes import EventRefusedError, Ground, MoveRefusedError, move_planting
from bedwright.engine.placement.changes.drag import move_table
from bedwright.engine.placement.check import check
from bedwright.model.book import HelpingHands
from bedwright.model.changes import (
    BedClosed,
    BedLost,
    BedOpened,
    Event,
    HoursChanged,
    NotDelivered,
    PlantingFailed,
    PlantingLate,
)
from bedwright.model.ground import Outline
from bedwright.model.season import PlantingRequest, SeasonPlan
from tests.unit.engine.placement.changes.plans import CABBAGE, LETTUCE, ONION, again, season
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, l_shape, outline, request

SLOW = settings(max_examples=25)
DAYS = tuple(SPRING + timedelta(days=14 * number) for number in range(6))
PEOPLE = (HelpingHands("some people", 3.0, SPRING - timedelta(days=200), SPRING + timedelta(days=400)),)


@st.composite
def seasons(draw: st.DrawFn) -> tuple[SeasonPlan, tuple[PlantingRequest, ...]]:
    grounds: st.SearchStrategy[Outline] = st.sampled_from(
        [outline(4.0), outline(1.2), outline(2.4, 0.75), l_shape()]
    )
    beds = [bed(code, draw(grounds)) for code in "ABC"[: draw(st.integers(1, 3))]]
    asked = []
    for number in range(draw(st.integers(1, 6))):
        first = draw(st.integers(0, 3))
        asked.append(
            request(
                f"wish-{number}",
                draw(st.sampled_from([CABBAGE, ONION, LETTUCE])),
                draw(st.integers(1, 40)),
                [choice(day, draw(st.sampled_from([40, 90]))) for day in DAYS[first:]],
                priority=draw(st.integers(1, 5)),
            )
        )
    return season(book(*beds, people=PEOPLE), *asked), tuple(asked)


@st.composite
def happenings(draw: st.DrawFn) -> tuple[Event, ...]:
    beds, codes = st.sampled_from("ABC"), st.integers(0, 5).map(lambda number: f"wish-{number}")
    kinds = st.one_of(
        st.builds(BedLost, beds),
        st.builds(BedClosed, beds),
        st.builds(BedOpened, beds),
        st.builds(PlantingFailed, codes),
        st.builds(PlantingLate, codes, st.sampled_from([1.0, 3.0])),
        st.builds(NotDelivered, codes, st.sampled_from([None, DAYS[4]])),
        st.builds(HoursChanged, st.sampled_from([0.0, 0.5])),
    )
    return tuple(draw(st.lists(kinds, min_size=1, max_size=2)))


todays = st.integers(-10, 150).map(lambda days: SPRING + timedelta(days=days))


@SLOW
@given(seasons(), happenings(), todays)
def test_what_stands_never_moves_and_every_rule_is_kept(
    made: tuple[SeasonPlan, tuple[PlantingRequest, ...]], events: tuple[Event, ...], today: date
) -> None:
    plan, asked = made
    try:
        one = again(plan, asked, *events, today=today)
    except EventRefusedError:
        return
    other = again(plan, asked, *events, today=today)
    assert (one.plantings, one.changes, one.shortfalls) == (other.plantings, other.changes, other.shortfalls)
    lost_beds = {event.bed_code for event in events if isinstance(event, BedLost)}
    failed = {event.planting_code for event in events if isinstance(event, PlantingFailed)}
    now = {planting.code: planting for planting in one.plantings}
    for was in plan.plantings:
        gone = was.code in failed or (was.bed_code in lost_beds and was.dates.clear_by >= today)
        if was.dates.in_ground < today and not gone:
            after = now[was.code]
            assert (after.bed_code, after.rows, after.dates.in_ground) == (
                was.bed_code,
                was.rows,
                was.dates.in_ground,
            )
    stood = {was.code for was in plan.plantings if was.dates.in_ground < today} - failed
    for planting in one.plantings:
        if planting.code not in stood:
            assert planting.dates.in_ground >= today
    # Codes on pegs are unique, and no peg of a planting that is gone is given to another.
    rows = [row.code for planting in one.plantings for row in planting.rows]
    assert len(rows) == len(set(rows))
    if not any(isinstance(event, HoursChanged) for event in events):
        assert one.n_moved <= 0.1 * one.n_rest


@SLOW
@given(seasons(), todays)
def test_nothing_changes_where_nothing_happened(
    made: tuple[SeasonPlan, tuple[PlantingRequest, ...]], today: date
) -> None:
    plan, asked = made
    assert again(plan, asked, today=today).changes == ()


@SLOW
@given(seasons(), st.data())
def test_a_plan_with_a_block_moved_by_hand_keeps_every_rule(
    made: tuple[SeasonPlan, tuple[PlantingRequest, ...]], data: st.DataObject
) -> None:
    plan, asked = made
    if not plan.plantings:
        return
    crops = {one.crop.name: one.crop for one in asked}
    today = SPRING - timedelta(days=10)
    ready = move_table(plan, asked, Ground((), (), crops), today=today)
    planting = data.draw(st.sampled_from(plan.plantings))
    where = data.draw(st.sampled_from([one.code for one in plan.book.beds]))
    along_m = round(data.draw(st.integers(0, 40)) * 0.05, 2)
    try:
        moved = move_planting(ready, planting.code, where, along_m)
    except MoveRefusedError:
        return
    assert check(plan.book, moved.plantings, ready.table.requests, crops) == ()
    after = next(one for one in moved.plantings if one.code == planting.code)
    assert after.bed_code == where
    assert after.along_m[0] == pytest.approx(along_m, abs=0.026)
    assert moved.board.value - ready.plain.value == pytest.approx(moved.points, abs=0.01)
    assert replace(after, reasons=()) != replace(planting, reasons=()) or moved.points == pytest.approx(0)
