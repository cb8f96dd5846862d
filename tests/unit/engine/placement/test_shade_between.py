"""Sun that a crop takes from one in another bed is told with its hours, by the sun's own path."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bedwright.engine.placement.problem import PlacementProblem, build_problem
from bedwright.engine.placement.rules import COMMON_RULES
from bedwright.engine.placement.shade_between import shade_from_other_beds
from bedwright.engine.placement.standing import fixed_spots
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


@pytest.mark.parametrize("hours", [4.0, 12.0, None])
def test_the_reasons_of_a_planting_name_what_leaves_it_short(hours: float | None) -> None:
    of = garden(-1.7)
    light = [sun(each, hours) for each in of.beds] if hours else []
    asked = (
        request("corn-1", CORN, 24, only_beds=("B",)),
        request("lettuce-1", LETTUCE, 40, only_beds=("A",)),
    )
    made = planned(of, *asked, light=light)
    low = next(one for one in made.plantings if one.crop.name == "lettuce")
    told = [one.text for one in low.reasons if one.term == "shade by a taller crop"]
    assert any(text.startswith("Sweet corn (2.0 m) in bed B takes up to ") for text in told) == (hours == 4.0)
