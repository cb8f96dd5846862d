"""Small season plans that can be checked by hand, and what becomes of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from bedwright.engine.placement import check
from bedwright.engine.placement.changes import Replanned, replan
from bedwright.engine.placement.problem import PlacementProblem, build_problem
from bedwright.engine.placement.rules import COMMON_RULES
from bedwright.model.book import Amount, GardenBook, Wish
from bedwright.model.changes import Event
from bedwright.model.light import BedLight
from bedwright.model.season import Planting, PlantingRequest, SeasonPlan, Shortfall
from tests.unit.engine.placement.gardens import SPRING, crop, planned

CABBAGE = crop("cabbage", "brassica", in_row_spacing_m=0.4, row_spacing_m=0.4, edible_parts=("head",))
ONION = crop("onion", "allium", in_row_spacing_m=0.1, row_spacing_m=0.3, edible_parts=("bulb",))
LETTUCE = crop("lettuce", "composite", in_row_spacing_m=0.3, row_spacing_m=0.3, edible_parts=("leaves",))
BEFORE, DURING = SPRING - timedelta(days=30), SPRING + timedelta(days=20)
"""A day on which nothing is in the ground yet, and one on which what goes in on SPRING stands."""


def wished(garden: GardenBook, requests: Sequence[PlantingRequest]) -> GardenBook:
    """The garden with a wish behind every request."""
    wishes = {
        one.wish_code: Wish(one.wish_code, one.crop.name, Amount(1, "plants"), priority=one.priority)
        for one in requests
    }
    return replace(garden, wishes=tuple(wishes.values()))


def season(
    garden: GardenBook, *requests: PlantingRequest, light: Sequence[BedLight] = (), **options: Any
) -> SeasonPlan:
    """The season plan of a small garden, up to its places."""
    placement = planned(garden, *requests, light=light, **options)
    return plan_with(wished(garden, requests), placement.plantings, placement.shortfalls)


def plan_with(
    garden: GardenBook, plantings: Sequence[Planting], shortfalls: Sequence[Shortfall] = ()
) -> SeasonPlan:
    return SeasonPlan(
        schema_version=1,
        revision="0" * 8,
        made_on=BEFORE,
        seed=1,
        book=garden,
        climate=None,
        sun=(),
        plantings=tuple(plantings),
        shortfalls=tuple(shortfalls),
        tasks=(),
        orders=(),
        warnings=(),
    )


def again(
    plan: SeasonPlan,
    requests: Sequence[PlantingRequest],
    *events: Event,
    today: date = DURING,
    book: GardenBook | None = None,
    light: Sequence[BedLight] = (),
) -> Replanned:
    """The plan made again, checked."""
    crops = {one.crop.name: one.crop for one in requests}
    made = replan(plan, book or plan.book, requests, light, (), crops, events, today=today)
    closed = made.book.leave_alone
    asked = [replace(one, not_beds=(*one.not_beds, *closed)) for one in made.requests]
    found = check(
        made.book, made.plantings, asked, crops, standing=made.standing, pins=made.pins, closed_beds=closed
    )
    assert found == ()
    return made


def problem_of(
    garden: GardenBook, *requests: PlantingRequest, light: Sequence[BedLight] = (), **options: Any
) -> PlacementProblem:
    crops = {one.crop.name: one.crop for one in requests}
    return build_problem(garden, requests, light, (), crops, COMMON_RULES, **options)
