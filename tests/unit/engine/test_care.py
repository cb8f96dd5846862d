"""What the planted season asks for, on the example and on cases checked by hand."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.catalogue import load_catalogue
from bedwright.engine.care import picking_weeks, soil_warm_from
from bedwright.engine.pipeline import plan_season
from bedwright.model.care import Care
from bedwright.model.weather import SeasonYears
from tests.builders import tiny_book, tiny_crop
from tests.demo import demo_plan
from tests.plantings import planting


@pytest.fixture(scope="module")
def care() -> Care:
    found = demo_plan().care
    assert found is not None
    return found


def test_every_bed_is_fed_or_told_to_be_tested_first(care: Care) -> None:
    plan = demo_plan()
    assert [bed.bed_code for bed in care.feeding.beds] == [bed.code for bed in plan.book.beds]
    for bed in care.feeding.beds:
        assert bed.uses or bed.notes


def test_water_is_told_for_every_planted_bed_with_known_needs(care: Care) -> None:
    plan = demo_plan()
    assert care.water is not None
    counted = {p.bed_code for p in plan.plantings if p.code not in care.water.not_counted}
    assert {bed.bed_code for bed in care.water.beds} == counted
    assert care.water.busiest in {week.start for week in care.water.weeks}
    for week in care.water.weeks:
        assert week.safe_l >= week.median_l >= 0


def test_a_larger_tank_never_covers_less(care: Care) -> None:
    assert care.water is not None
    shares = [tank.covered_share for tank in care.water.tanks]
    assert shares == sorted(shares)


def test_side_dressings_become_jobs(care: Care) -> None:
    jobs = [task for task in demo_plan().tasks if task.kind == "side dress"]
    assert len(jobs) == len(care.feeding.side_dressings) > 0


def test_weeks_and_hours_are_of_the_same_plan(care: Care) -> None:
    assert [week.week for week in care.weeks] == [week.week for week in care.hours.weeks]


def test_lead_and_the_other_cautions_name_rule_and_source(care: Care) -> None:
    assert care.safety.cautions
    for caution in care.safety.cautions:
        assert caution.rule
        assert caution.source_ids


def test_supplies_are_ordered_no_earlier_than_today(care: Care) -> None:
    assert min(line.order_by for line in care.supplies.lines) >= demo_plan().made_on


def test_without_a_record_no_water_is_worked_out_and_the_rest_is() -> None:
    plan = plan_season(tiny_book(), None, load_catalogue(), seed=1, today=date(2026, 12, 1))
    assert plan.care is not None
    assert plan.care.water is None
    assert plan.care.hours.weeks


def test_harvest_is_spread_from_first_to_last_pick() -> None:
    # 40 plants at 10 cm are 4 m of row; 1.5 kg a metre make 6 kg over 22 days, from a Monday.
    weeks, unknown = picking_weeks([planting()])
    assert unknown == ()
    assert [each.week for each in weeks] == [
        date(2027, 7, 12),
        date(2027, 7, 19),
        date(2027, 7, 26),
        date(2027, 8, 2),
    ]
    assert [each.kg for each in weeks] == pytest.approx([6 * 7 / 22] * 3 + [6 / 22], abs=0.001)


def test_a_crop_without_a_known_yield_is_named_and_not_drawn() -> None:
    crop = replace(tiny_crop("sorrel"), yield_kg_per_m_row=None)
    assert picking_weeks([planting(crop=crop)]) == ((), ("sorrel",))


def test_flowers_and_cover_crops_are_not_harvest() -> None:
    rye = replace(tiny_crop("winter rye"), kind="cover crop")
    assert picking_weeks([planting(crop=rye)]) == ((), ())


def test_soil_is_warm_from_the_end_of_the_first_warm_week() -> None:
    usual_c = np.concatenate([np.full(100, 5.0), np.full(265, 20.0)])
    years = SeasonYears(
        season_start=date(2027, 1, 1),
        years=(2000,),
        tmin_c=usual_c[None],
        tmax_c=usual_c[None],
        rain_mm=np.zeros((1, 365)),
        plant_tmin_c=usual_c[None],
        soil_temp_c=usual_c[None],
        soil_depth_m=0.05,
        ground_frost_allowance_c=2.3,
    )
    # Five days of 20 °C and two of 5 °C average 15.7 °C: the fifth warm day, 15 April.
    assert soil_warm_from(years) == date(2027, 4, 15)
    assert soil_warm_from(replace(years, soil_temp_c=np.full((1, 365), 10.0))) is None
