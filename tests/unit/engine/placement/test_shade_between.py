"""Sun that a crop takes from one in another bed is weighed and told, by the sun's own path."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bedwright.engine.placement.problem import PlacementProblem, build_problem
from bedwright.engine.placement.rules import COMMON_RULES
from bedwright.engine.placement.shade_between import points_between, shade_between, shade_from_other_beds
from bedwright.engine.placement.sight import level_of
from bedwright.engine.placement.standing import fixed_spots
from bedwright.engine.placement.value import plan_terms
from bedwright.model.book import Bed, GardenBook
from bedwright.model.ground import Rectangle
from tests.unit.engine.placement.gardens import bed, book, crop, planned, request, sun

LETTUCE = crop("lettuce", "composite", height_m=0.3, in_row_spacing_m=0.3, row_spacing_m=0.3)
CORN = crop("sweet corn", "grass", height_m=2.0, in_row_spacing_m=0.3, row_spacing_m=0.6)


def garden(north_m: float, bearing_deg: float = 90.0, latitude_deg: float = 52.0) -> GardenBook:
    """Bed A on the baseline, and bed B with its near corner so far north of it."""
    beyond = bed("B", Rectangle(4.0, 1.2, 0.0 if bearing_deg == 90 else 4.0, north_m, bearing_deg))
    return book(bed("A"), beyond, latitude_deg=latitude_deg)


def problem_of(of: GardenBook, hours: float = 4.0) -> PlacementProblem:
    """Corn in bed B and lettuce in bed A, planted over the whole of each."""
    asked = (
        request("corn-1", CORN, 24, only_beds=("B",)),
        request("lettuce-1", LETTUCE, 40, only_beds=("A",)),
    )
    made = planned(of, *asked)
    light = [sun(each, hours) for each in of.beds]
    return build_problem(of, asked, light, [], {}, COMMON_RULES, standing=made.plantings)


def lost(problem: PlacementProblem) -> tuple[float, float]:
    """Hours that the lettuce loses, and those of them it needs."""
    spots = fixed_spots(problem)
    low = next(spot for spot in spots if problem.requests[spot.request].crop.name == "lettuce")
    found = list(shade_from_other_beds(problem, low, spots))
    return sum(one.lost_h for one in found), sum(one.short_h for one in found)


def raised(of: GardenBook, raised_m: float) -> GardenBook:
    """With bed A raised."""
    beds: list[Bed] = [replace(one, raised_m=raised_m) if one.code == "A" else one for one in of.beds]
    return replace(of, beds=tuple(beds))


def test_a_tall_crop_to_the_south_takes_more_sun_than_one_to_the_north() -> None:
    # Bed A lies south of its baseline, from 0 to -1.2 m; so does bed B.
    south, north = lost(problem_of(garden(-1.7)))[0], lost(problem_of(garden(1.7)))[0]
    assert south > 1.0
    assert south > 2 * north
    under = lost(problem_of(garden(-1.7, latitude_deg=-35.0)))[0]
    assert under < south


def test_far_beds_take_nothing() -> None:
    assert lost(problem_of(garden(-40.0))) == (0.0, 0.0)


def test_a_bed_turned_round_takes_the_same_sun() -> None:
    # The same ground with its baseline on the other side, running west.
    here = garden(-1.7)
    turned = replace(here, beds=(here.beds[0], bed("B", Rectangle(4.0, 1.2, 4.0, -2.9, 270.0))))
    assert lost(problem_of(turned))[0] == pytest.approx(lost(problem_of(here))[0], abs=0.35)


def test_only_sun_below_the_need_is_short() -> None:
    plenty, just = problem_of(garden(-1.7), hours=12.0), problem_of(garden(-1.7), hours=4.0)
    assert lost(plenty)[1] == 0
    assert lost(just)[1] == pytest.approx(lost(just)[0])


def test_a_raised_bed_loses_less() -> None:
    assert lost(problem_of(raised(garden(-1.7), 0.8)))[0] < lost(problem_of(garden(-1.7)))[0]


FULL = (
    request("corn-1", CORN, 26, only_beds=("B",), priority=5),
    request("lettuce-1", LETTUCE, 52, only_beds=("A",), priority=5),
)
"""As many as each bed holds, so that nothing can make way."""


@pytest.mark.parametrize("hours", [4.0, 12.0, None])
def test_the_reasons_of_a_planting_name_what_leaves_it_short(hours: float | None) -> None:
    of = garden(-1.7)
    made = planned(of, *FULL, light=[sun(each, hours) for each in of.beds] if hours else [])
    low = next(one for one in made.plantings if one.crop.name == "lettuce")
    told = [one for one in low.reasons if one.term == "shade by a taller crop"]
    assert any(one.text.startswith("Sweet corn (2.0 m) in bed B takes up to ") for one in told) == (
        hours == 4.0
    )
    assert sum(one.gain for one in told) == pytest.approx(made.terms["shade by a taller crop"], abs=0.01)
    assert (made.terms["shade by a taller crop"] < -1) == (hours == 4.0)


def test_a_tall_crop_is_put_where_it_takes_no_sun_that_is_needed() -> None:
    # One bed south of the lettuce, one north of it: with sun to spare it does not matter which.
    of = book(
        bed("A"),
        bed("B", Rectangle(4.0, 1.2, 0.0, -1.7, 90.0)),
        bed("C", Rectangle(4.0, 1.2, 0.0, 1.7, 90.0)),
    )
    lettuce, corn = (
        request("lettuce-1", LETTUCE, 52, only_beds=("A",)),
        request("corn-1", CORN, 26, not_beds=("A",)),
    )
    made = planned(of, lettuce, corn, light=[sun(each, 4.0) for each in of.beds], effort=20_000)
    assert not made.shortfalls
    tall = next(one for one in made.plantings if one.crop.name == "sweet corn")
    assert tall.bed_code == "C"
    assert made.terms["shade by a taller crop"] > -1


def test_what_a_block_adds_to_a_plan_counts_shade_both_ways() -> None:
    problem = problem_of(garden(-1.7))
    spots = fixed_spots(problem)
    for spot in spots:
        others = [other for other in spots if other is not spot]
        whole, rest = (plan_terms(problem, found)["shade by a taller crop"] for found in (spots, others))
        assert whole < 0
        assert points_between(problem, spot, others) == pytest.approx(whole - rest)


@pytest.mark.parametrize(("north_m", "hours", "n_pairs"), [(-1.7, 4.0, 1), (-1.7, 16.0, 0), (-40.0, 4.0, 0)])
def test_beds_too_far_or_too_well_lit_are_passed_over(north_m: float, hours: float, n_pairs: int) -> None:
    # Corn is nowhere low, and lettuce nowhere tall.
    assert len(problem_of(garden(north_m), hours).pairs) == n_pairs


def test_no_block_takes_more_sun_than_its_beds_may() -> None:
    problem = problem_of(garden(-1.7))
    for (low_bed, tall_bed), pair in problem.pairs.items():
        low, tall = (
            next(one for one in fixed_spots(problem) if one.bed == bed) for bed in (low_bed, tall_bed)
        )
        found = shade_between(problem, low, tall)
        assert found is not None
        assert 0 < found.lost_h <= pair.most_h[level_of(1.7), found.month]
