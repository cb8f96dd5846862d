from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from bedwright.engine.water import METHODS, season_demand, tank_sizing
from bedwright.engine.water.season import demand_run, needed_mm, season_days
from bedwright.engine.water.tank import run_tank
from bedwright.model.water import WaterSupply
from tests.unit.engine.water.waterings import PLANTED, START, SUPPLY, day, patch, steady


def test_a_dry_season_needs_what_the_crop_uses() -> None:
    garden = [patch(way="buy", emerges=None)]
    seasons = steady(n_years=3)
    run = demand_run(garden, seasons)
    alive = slice((PLANTED - START).days, (day(99) - START).days + 1)
    assert run.stress[alive].min() > 0.99
    season = season_demand(garden, seasons, SUPPLY)
    # 12 cups of a quarter of a litre on planting day are part of it
    assert season.beds[0].season_median_l == pytest.approx(run.irrigation_mm[:, 0, 0].sum() * 4 / 0.85)
    assert season.beds[0].season_median_l == season.beds[0].season_safe_l
    used_mm = run.actual_et_mm[alive].sum() / 3
    missing_mm = run.depletion_mm[alive][-1].mean() - run.depletion_mm[alive.start - 1].mean()
    grown_in_mm = 0.0
    given_mm = run.irrigation_mm[alive].sum() / 3 - run.percolation_mm[alive].sum() / 3
    assert given_mm == pytest.approx(used_mm - missing_mm + grown_in_mm, abs=0.5)


def test_a_wet_season_needs_no_water_but_the_cups_of_planting_day() -> None:
    season = season_demand([patch(way="buy", emerges=None)], steady(rain_mm=20, n_years=2), SUPPLY)
    assert season.beds[0].season_safe_l == pytest.approx(12 * 0.25 / 0.85)


def test_weeks_add_up_to_the_season_where_all_years_are_alike() -> None:
    season = season_demand([patch()], steady(n_years=2), SUPPLY)
    bed = season.beds[0]
    assert sum(week.safe_l for week in bed.weeks) == pytest.approx(bed.season_safe_l)
    assert bed.weeks[1].start.toordinal() - bed.weeks[0].start.toordinal() == 7
    busiest = season.busiest_week
    assert busiest.safe_tap_min == pytest.approx(busiest.safe_l / 15)
    assert busiest.safe_mm == pytest.approx(busiest.safe_l / 4)


def test_weeks_of_water_begin_on_monday_whatever_day_the_season_does() -> None:
    for late in range(7):
        first = START + timedelta(days=late)
        whole = steady(n_years=2)
        seasons = replace(whole, dates=whole.dates + np.timedelta64(late, "D"))
        season = season_demand([patch()], seasons, SUPPLY)
        weeks = season.weeks
        assert {week.start.weekday() for week in weeks} == {0}
        assert 0 <= (first - weeks[0].start).days < 7
        assert sum(week.safe_l for week in weeks) == pytest.approx(season.beds[0].season_safe_l)


def test_a_watering_is_booked_on_the_days_it_makes_good() -> None:
    garden, seasons = [patch()], steady(n_years=2)
    run = demand_run(garden, seasons)
    needed = needed_mm(run, garden, seasons)
    assert needed.sum(axis=0) == pytest.approx(run.irrigation_mm.sum(axis=0))
    assert needed.min() >= 0
    assert needed[: (PLANTED - START).days].sum() == 0
    # no watering day towers above the day's own use once the crop stands
    standing = slice((day(40) - START).days, (day(80) - START).days)
    assert needed[standing].max() < 1.6 * run.actual_et_mm[standing].max()


def test_eight_years_of_ten_need_less_than_the_safe_amount() -> None:
    seasons = steady(n_years=5)
    scale = np.array([0.8, 0.9, 1.0, 1.1, 1.2])
    varied = replace(seasons, reference_et_mm=seasons.reference_et_mm * scale)
    season = season_demand([patch()], varied, SUPPLY)
    totals = season.daily_l.sum(axis=0)
    assert season.beds[0].season_safe_l == pytest.approx(np.quantile(totals, 0.8))
    assert season.beds[0].season_median_l == pytest.approx(np.quantile(totals, 0.5))
    assert season.beds[0].n_years == 5


def test_watering_only_on_mondays_waters_only_on_mondays() -> None:
    run = demand_run([patch()], steady(), watering_weekdays=[1])
    days = steady().dates[np.flatnonzero(run.irrigation_mm[:, 0, 0])]
    assert days.size > 0
    assert {int(value.astype(object).isoweekday()) for value in days} == {1}


def test_beds_are_told_apart_and_add_up() -> None:
    garden = [patch("P", "B"), patch("Q", "A"), patch("R", "B", area_m2=2.0)]
    season = season_demand(garden, steady(n_years=2), SUPPLY)
    assert [bed.bed_code for bed in season.beds] == ["A", "B"]
    assert season.beds[1].planted_area_m2 == 6
    assert sum(bed.season_safe_l for bed in season.beds) == pytest.approx(season.daily_l[:, 0].sum())


def test_mulch_and_drip_need_less_than_a_hose_on_open_soil() -> None:
    def needed_l(**changes: object) -> float:
        return season_demand([patch(**changes)], steady(n_years=2), SUPPLY).beds[0].season_safe_l  # type: ignore[arg-type]

    assert needed_l(mulch_cover_share=1.0) < needed_l()
    assert needed_l(method=METHODS["drip"]) < needed_l()
    assert needed_l(sun_share=0.5) < needed_l()


def test_every_figure_has_an_origin_with_a_listed_source() -> None:
    from bedwright.engine.water import SOURCES  # noqa: PLC0415

    bed = season_demand([patch()], steady(n_years=2), SUPPLY).beds[0]
    named = {source for origin in bed.origins for source in origin.source_ids}
    assert named <= set(SOURCES)
    assert {"field_capacity_m3_m3", "efficiency", "water_mm"} <= {o.quantity for o in bed.origins}


def test_a_tap_that_gives_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match=r"tap_flow_l_min: got 0; expected 0\.5 to 100 L/min"):
        season_demand([patch()], steady(n_years=2), WaterSupply(0.0))


def test_no_planting_and_no_watering_day_are_refused() -> None:
    with pytest.raises(ValueError, match="no planting"):
        season_demand([], steady(n_years=2), SUPPLY)
    with pytest.raises(ValueError, match="watering_weekdays"):
        season_demand([patch()], steady(n_years=2), SUPPLY, watering_weekdays=[])


def test_the_season_reaches_to_the_last_pick() -> None:
    assert season_days([patch()], START) == (day(99) - START).days + 1


def test_a_tank_gives_what_fell_the_day_before() -> None:
    needed = np.array([[50.0], [50.0], [50.0]])
    rain = np.array([[10.0], [0.0], [0.0]])
    # 10 mm on 10 m² at 80 %: 80 L
    run = run_tank(needed, rain, roof_area_m2=10, tank_l=200)
    assert run.given_l[:, 0] == pytest.approx([0, 50, 30])
    assert run_tank(needed, rain, roof_area_m2=10, tank_l=60).overflow_l[0, 0] == pytest.approx(20)


def test_tanks_are_judged_over_all_seasons() -> None:
    season = season_demand([patch()], steady(rain_mm=2, n_years=2), SUPPLY)
    small, large = tank_sizing(season, roof_area_m2=20, tanks_l=[50, 2000])
    assert 0 < small.covered_share < large.covered_share <= 1
    assert small.days_empty_per_season >= large.days_empty_per_season
    assert small.mean_tap_l == pytest.approx(season.daily_l.sum(axis=0).mean() * (1 - small.covered_share))


def test_an_impossible_tank_or_roof_is_refused() -> None:
    season = season_demand([patch()], steady(n_years=2), SUPPLY)
    with pytest.raises(ValueError, match="tank_l: got 0"):
        tank_sizing(season, roof_area_m2=20, tanks_l=[0])
    with pytest.raises(ValueError, match="roof_area_m2: got -1"):
        tank_sizing(season, roof_area_m2=-1, tanks_l=[100])
