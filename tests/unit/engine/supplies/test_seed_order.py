"""Seeds counted from the drawn rows, the drawer first."""

from dataclasses import replace
from datetime import date

import pytest

from bedwright.engine.supplies import order_lines
from bedwright.engine.supplies.seed_order import seeds_for
from bedwright.model.book import SeedLot
from bedwright.model.season import OrderLine, Planting
from tests.builders import tiny_crop
from tests.plantings import planting

TODAY = date(2026, 12, 1)


def order(
    *plantings: Planting, lots: tuple[SeedLot, ...] = (), packets: dict[tuple[str, str], int] | None = None
) -> OrderLine:
    (line,) = order_lines(plantings, lots, packets or {}, season_year=2027, today=TODAY)
    return line


def lot(code: str = "L1", packed_year: int = 2026, **changes: object) -> SeedLot:
    return replace(SeedLot(code, "carrot", "", packed_year, count=1000), **changes)  # type: ignore[arg-type]


def test_sown_seed_is_plants_over_germination_and_field_factor() -> None:
    # 40 plants x 1.15 spare / (0.55 standard x 0.7 field factor) = 119.5, so 120.
    assert order(planting()).n_seeds_to_buy == 120


def test_never_fewer_than_the_seeds_each_station_is_sown_with() -> None:
    crop = replace(tiny_crop(), seeds_per_station=5)
    assert order(planting(crop=crop)).n_seeds_to_buy == 200


def test_raised_plants_need_no_field_factor() -> None:
    # 40 x 1.15 / 0.55 = 83.6, so 84.
    assert order(planting(way="raise")).n_seeds_to_buy == 84


def test_bought_plants_are_counted_with_spare_and_no_seed() -> None:
    line = order(planting(way="buy"))
    assert line.n_plants_to_buy == 46
    assert line.n_seeds_needed == 0
    assert line.bought_as == "young plants"


def test_cloves_are_bought_as_cloves() -> None:
    crop = replace(tiny_crop("garlic"), planting_stock="clove", ways=("buy",))
    assert order(planting(way="buy", crop=crop)).bought_as == "cloves"


def test_the_drawer_is_used_before_anything_is_bought() -> None:
    line = order(planting(), lots=(lot(),))
    assert line.n_seeds_to_buy == 0
    assert [(use.lot_code, use.n_seeds) for use in line.from_drawer] == [("L1", 120)]


def test_the_oldest_lot_is_used_first_and_what_is_missing_is_bought() -> None:
    line = order(planting(), lots=(lot("NEW", 2026, count=10), lot("OLD", 2025, count=50)))
    assert [use.lot_code for use in line.from_drawer] == ["OLD", "NEW"]
    assert line.n_seeds_to_buy == 120 - 50 - 10


def test_seed_past_its_life_is_set_aside_until_it_is_tested() -> None:
    line = order(planting(), lots=(lot(packed_year=2020),))
    assert line.from_drawer == ()
    assert any("test before use" in origin.rule for origin in line.origins)


def test_an_own_test_goes_before_age_and_standard_and_shows_its_range() -> None:
    line = order(planting(), lots=(lot(packed_year=2020, tested_sown=10, tested_sprouted=4),))
    (use,) = line.from_drawer
    # 40 x 1.15 / (0.4 x 0.7) = 164.3
    assert use.n_seeds == 165
    assert (round(use.germination_low_pct), round(use.germination_high_pct)) == (17, 69)


def test_a_lot_that_failed_its_test_is_not_used() -> None:
    line = order(planting(), lots=(lot(tested_sown=20, tested_sprouted=0),))
    assert line.from_drawer == ()
    assert line.n_seeds_to_buy == 120


def test_a_weighed_lot_is_turned_into_seeds() -> None:
    # 0.1 g at 800 seeds a gram is 80 seeds.
    line = order(planting(), lots=(lot(count=None, mass_g=0.1),))
    assert line.from_drawer[0].n_seeds == 80
    assert line.n_seeds_to_buy == 40


def test_a_lot_is_shared_by_two_lines_but_never_used_twice() -> None:
    early, late = planting("a", variety="Early"), planting("b", variety="Late", row_code="A2")
    lines = order_lines((early, late), (lot(count=130),), {}, season_year=2027, today=TODAY)
    assert sum(use.n_seeds for line in lines for use in line.from_drawer) == 130


def test_a_lot_of_another_variety_does_not_serve() -> None:
    assert order(planting(variety="Early"), lots=(lot(variety="Late"),)).from_drawer == ()


def test_packets_are_rounded_up() -> None:
    line = order(planting(variety="Early"), packets={("carrot", "Early"): 50})
    assert line.n_packets_to_buy == 3


def test_plantings_of_one_crop_and_variety_share_a_line() -> None:
    line = order(planting("a", row_code="A1"), planting("b", row_code="A2"))
    assert line.n_plants == 80
    assert line.planting_codes == ("A1", "A2")


def test_seed_is_ordered_four_weeks_before_it_is_needed_but_not_in_the_past() -> None:
    assert order(planting()).order_by == date(2027, 4, 5)
    (late,) = order_lines([planting()], [], {}, season_year=2027, today=date(2027, 4, 20))
    assert late.order_by == date(2027, 4, 20)


def test_no_number_of_dead_seeds_is_enough() -> None:
    with pytest.raises(ValueError, match="none comes up"):
        seeds_for(10, 10, 0, 0)
