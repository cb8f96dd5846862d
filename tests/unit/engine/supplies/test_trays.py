"""Trays, potting mix and room under cover."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from bedwright.engine.supplies import (
    SOURCES,
    TRAYS,
    most_trays,
    order_lines,
    raising_weeks,
    tray_for,
    tray_needs,
    tray_uses,
    weeks_over,
)
from bedwright.model.book import SeedLot
from bedwright.model.supplies import RaisingSpace
from tests.builders import tiny_crop
from tests.plantings import RAISED_DATES, planting

SOWN = date(2027, 3, 29)
OUT = date(2027, 5, 3)


@pytest.mark.parametrize("n_plants", [1, 40, 56, 57, 200])
def test_trays_told_before_places_are_sought_are_those_counted_afterwards(n_plants: int) -> None:
    """With new seed, and with a lot of the drawer that comes up badly."""
    grown = replace(planting(way="raise"), rows=(replace(planting().rows[0], n_plants=n_plants),))
    tested = SeedLot("S1", "carrot", "", 2026, count=30, tested_sown=10, tested_sprouted=4)
    for drawer in ([], [tested]):
        uses = tray_uses([grown], drawer, season_year=2027)
        orders = order_lines([grown], drawer, {}, season_year=2027, today=date(2026, 12, 1))
        (need,) = tray_needs([grown], orders)
        assert uses[grown.crop.name, grown.variety].n_trays(n_plants) == need.n_trays


def test_room_is_told_in_whole_trays() -> None:
    # A tray covers 0.54 m by 0.28 m, 0.1512 m2.
    assert most_trays(RaisingSpace()) is None
    assert most_trays(RaisingSpace(bench_m2=0.5)) == 3
    assert most_trays(RaisingSpace(bench_m2=0.1512 * 4)) == 4
    assert most_trays(RaisingSpace(bench_m2=10.0, trays=6)) == 6


def test_wide_crops_get_large_cells_and_close_ones_small() -> None:
    cells = [tray_for(replace(tiny_crop(), in_row_spacing_m=m)).cells for m in (0.4, 0.39, 0.16, 0.15)]
    assert cells == [50, 72, 72, 128]


def test_cells_are_counted_as_the_seed_order_counts_seeds() -> None:
    # 40 plants x 1.15 spare / 0.55 standard = 83.6, so 84, as in the order.
    (need,) = tray_needs([planting(way="raise")])
    (line,) = order_lines([planting(way="raise")], [], {}, season_year=2027, today=date(2026, 12, 1))
    assert need.n_cells == line.n_seeds_to_buy == 84
    assert (need.cells_per_tray, need.n_trays) == (128, 1)
    assert need.mix_l == pytest.approx(84 * 0.022)
    assert need.bench_m2 == pytest.approx(0.54 * 0.28)


def test_only_plants_raised_here_need_trays() -> None:
    assert tray_needs([planting(), planting("b", way="buy", row_code="A2")]) == ()


def test_a_germination_test_changes_the_cells_and_shows_its_range() -> None:
    lot = SeedLot("L1", "carrot", "", 2026, count=1000, tested_sown=10, tested_sprouted=4)
    raised = planting(way="raise")
    orders = order_lines([raised], [lot], {}, season_year=2027, today=date(2026, 12, 1))
    (need,) = tray_needs([raised], orders)
    # 40 x 1.15 / 0.4 = 115. Wilson 1927, 4 of 10: 16.8 to 68.7 %, so 19 to 79 plants.
    assert need.n_cells == 115
    rule = next(origin.rule for origin in need.origins if origin.quantity == "n_cells")
    assert "17 to 69 %" in rule
    assert "19 to 79 plants" in rule


def test_seed_of_the_drawer_and_new_seed_are_mixed_as_they_are_used() -> None:
    lot = SeedLot("L1", "carrot", "", 2026, count=57, tested_sown=100, tested_sprouted=40)
    raised = planting(way="raise")
    orders = order_lines([raised], [lot], {}, season_year=2027, today=date(2026, 12, 1))
    (need,) = tray_needs([raised], orders)
    # 57 of 115 seeds of the lot leave half the need, 43 new seeds at 55 %: 46.5 % all together.
    assert need.n_cells == orders[0].n_seeds_needed == 100


def test_what_a_cell_holds_is_marked_as_a_first_guess() -> None:
    for tray in TRAYS.values():
        guess = next(origin for origin in tray.origins if origin.quantity == "cell_ml")
        assert guess.standing == "memory"
        assert "first guess" in guess.rule
        for origin in tray.origins:
            assert set(origin.source_ids) <= SOURCES.keys()


def test_bench_is_taken_from_sowing_to_the_day_before_planting_out() -> None:
    weeks = raising_weeks(tray_needs([planting(way="raise")]))
    assert [week.week for week in weeks] == [SOWN + timedelta(days=7 * k) for k in range(5)]
    assert all(week.trays == 1 for week in weeks)
    assert [round(week.mix_l, 3) for week in weeks] == [1.848, 0, 0, 0, 0]


def test_the_fullest_day_of_a_week_counts() -> None:
    # One leaves on Wednesday, the other is sown on Thursday: never both on the bench.
    first = planting("a", way="raise", dates=replace(RAISED_DATES, in_ground=date(2027, 4, 14)))
    later = planting(
        "b", way="raise", row_code="A2", dates=replace(RAISED_DATES, sow_under_cover=date(2027, 4, 15))
    )
    sooner = planting(
        "c", way="raise", row_code="A3", dates=replace(RAISED_DATES, sow_under_cover=date(2027, 4, 13))
    )
    week = date(2027, 4, 12)
    apart = {each.week: each.trays for each in raising_weeks(tray_needs([first, later]))}
    together = {each.week: each.trays for each in raising_weeks(tray_needs([first, sooner]))}
    assert (apart[week], together[week]) == (1, 2)


def test_weeks_that_do_not_fit_are_told_with_what_is_missing() -> None:
    weeks = raising_weeks(tray_needs([planting(way="raise", n_plants=80)]))
    assert weeks[0].trays == 2
    assert weeks_over(weeks, RaisingSpace(bench_m2=0.3024, trays=2)) == ()
    over = weeks_over(weeks, RaisingSpace(bench_m2=0.25, trays=1))
    assert len(over) == len(weeks)
    assert over[0].over_trays == 1
    assert over[0].over_bench_m2 == pytest.approx(0.0524)
    # 0.06 m2 is 0.65 square feet.
    assert "1 tray too many and 0.06 m² (0.6 ft²) of bench missing" in over[0].text


def test_no_limit_is_never_exceeded() -> None:
    assert weeks_over(raising_weeks(tray_needs([planting(way="raise")])), RaisingSpace()) == ()


def test_nothing_raised_takes_no_weeks() -> None:
    assert raising_weeks(()) == ()


def test_the_guide_prints_the_trays_as_they_are() -> None:
    guide = (Path(__file__).parents[4] / "docs" / "supplies.md").read_text(encoding="utf-8")
    for tray in TRAYS.values():
        line = next(line for line in guide.splitlines() if line.startswith(f"| {tray.cells} cells |"))
        assert f"| {tray.cell_ml:g} ml | {tray.mix_l:.1f} L ({tray.mix_l / 3.785411784:.2f} US gal) |" in line
