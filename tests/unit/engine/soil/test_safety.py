"""Manure, lead, heat and the sheet that gathers every caution."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.engine.soil import (
    SOIL_SOURCES,
    bioassay_steps,
    lead_band,
    lead_cautions,
    manure_cautions,
    safety_sheet,
    touches_soil,
    workday_weather,
)
from bedwright.engine.soil.heat import heat_index_c, heat_risk
from bedwright.model.book import Feature
from bedwright.model.safety import ASK_LOCALLY, EPA_2024, EPA_2025, LeadRule, ManureSpread, lead_rule_on
from bedwright.model.weather import FloatArray, WeatherRecord
from tests.builders import tiny_crop
from tests.unit.engine.soil.gardens import COMPOST, bed, planting

TODAY = date(2026, 11, 25)
TOMATO = replace(
    tiny_crop("tomato", "Solanaceae"),
    support="cane",
    edible_parts=("fruit",),
    poisonous_parts=("leaves", "green fruit"),
)
SQUASH = replace(tiny_crop("summer squash", "Cucurbitaceae"), edible_parts=("fruit", "flowers"))
CORN = replace(tiny_crop("sweet corn", "Poaceae"), edible_parts=("ears",), height_m=1.8)


def record(tmax_c: float, tmin_c: float, humidity: float | None = None) -> WeatherRecord:
    """Two years of the same day."""
    dates = np.arange("2024-01-01", "2026-01-01", dtype="datetime64[D]")

    def all_days(value: float) -> FloatArray:
        return np.full(len(dates), value)

    return WeatherRecord(
        "Test", "Invented", True, dates, all_days(tmin_c), all_days(tmax_c), all_days(0.0),
        rh_mean_pct=None if humidity is None else all_days(humidity),
    )  # fmt: skip


def test_what_hangs_clear_of_the_soil() -> None:
    assert touches_soil(tiny_crop())
    assert touches_soil(SQUASH)
    assert not touches_soil(TOMATO)
    assert not touches_soil(CORN)


def test_a_pick_too_soon_after_raw_manure_is_stopped() -> None:
    # First pick on 20 July, in one year of five from 13 July; manure on 1 April is free on 30 July.
    (caution,) = manure_cautions([ManureSpread("A", date(2027, 4, 1))], [planting()])
    assert (caution.gravity, caution.planting_code) == ("stop", "p")
    assert "2027-07-30" in caution.text
    assert "120 days" in caution.text
    assert ASK_LOCALLY in caution.text
    assert caution.source_ids == ("CFR_205_203",)


def test_ninety_days_do_for_what_hangs_clear() -> None:
    assert manure_cautions([ManureSpread("A", date(2027, 4, 1))], [planting(TOMATO)]) == ()
    assert len(manure_cautions([ManureSpread("A", date(2027, 4, 20))], [planting(TOMATO)])) == 1


def test_composted_manure_asks_for_no_wait() -> None:
    composted = ManureSpread("A", date(2027, 4, 20), "horse manure", composted=True)
    assert manure_cautions([composted], [planting(TOMATO)]) == ()


def test_manure_elsewhere_or_after_the_last_pick_is_no_matter() -> None:
    spread = [ManureSpread("B", date(2027, 6, 1)), ManureSpread("A", date(2027, 9, 21))]
    assert manure_cautions(spread, [planting()]) == ()
    rye = replace(tiny_crop("winter rye", "Poaceae"), kind="cover crop")
    assert manure_cautions([ManureSpread("A", date(2027, 6, 1))], [planting(rye)]) == ()


def test_manure_while_picking_goes_on_is_stopped() -> None:
    assert len(manure_cautions([ManureSpread("A", date(2027, 8, 1))], [planting()])) == 1


def test_the_rule_on_lead_is_that_of_the_day() -> None:
    assert lead_rule_on(date(2024, 6, 1)) == EPA_2024
    assert lead_rule_on(date(2025, 10, 15)) == EPA_2024
    assert lead_rule_on(date(2025, 10, 16)) == EPA_2025
    with pytest.raises(ValueError, match="no rule on lead"):
        lead_rule_on(date(2020, 1, 1))


def test_a_newer_or_local_rule_can_be_passed() -> None:
    local = LeadRule("Town", "Town of Example", date(2026, 6, 1), 80, None, None, "EPA_LEAD_2025")
    sheet = safety_sheet([bed(lead_mg_kg=90.0)], [], today=TODAY, lead_rules=(EPA_2025, local))
    assert sheet.cautions[0].rule.startswith("Town")
    assert sheet.cautions[0].gravity == "stop"


def test_a_stricter_rule_that_was_entered_holds_however_old_it_is() -> None:
    old = LeadRule("Town", "Town of Example", date(2019, 6, 1), 80, None, None, "EPA_LEAD_2025", entered=True)
    assert lead_rule_on(TODAY, (EPA_2024, EPA_2025, old)) is old
    lax = replace(old, screening_mg_kg=300.0)
    assert lead_rule_on(TODAY, (EPA_2024, EPA_2025, lax)) is EPA_2025
    newer = replace(lax, issued=date(2026, 6, 1))
    assert lead_rule_on(TODAY, (EPA_2024, EPA_2025, newer)) is newer
    to_come = replace(old, issued=date(2099, 1, 1))
    assert lead_rule_on(TODAY, (EPA_2025, to_come)) is EPA_2025


def test_a_lead_figure_that_cannot_be_is_refused() -> None:
    for figure in (-1, 1e9, float("nan")):
        with pytest.raises(ValueError, match="Check the unit"):
            lead_band(figure, EPA_2025)


def test_roots_and_leaves_move_to_a_bed_that_is_clean() -> None:
    beds = [bed("A", lead_mg_kg=320.0), bed("B", lead_mg_kg=30.0), bed("C", lead_mg_kg=150.0)]
    found = lead_cautions(beds, [planting(), planting(TOMATO, code="t")], EPA_2025)
    assert [(c.bed_code, c.planting_code) for c in found] == [("A", None), ("A", "p"), ("C", None)]
    assert "Move it to bed B" in found[1].text
    assert "100 mg/kg" in found[2].text
    assert all(ASK_LOCALLY in caution.text for caution in found)


def test_without_a_clean_bed_clean_soil_is_advised() -> None:
    found = lead_cautions([bed("A", lead_mg_kg=320.0)], [planting()], EPA_2025)
    assert "raised bed of clean soil" in found[1].text


def test_above_the_removal_level_no_food_is_grown() -> None:
    (caution,) = lead_cautions([bed(lead_mg_kg=700.0)], [], EPA_2025)
    assert "no food" in caution.text


def test_a_bed_without_a_lead_figure_is_to_be_measured() -> None:
    (caution,) = lead_cautions([bed(ph=6.5)], [], EPA_2025)
    assert "not measured" in caution.text


def test_heat_is_said_with_the_share_of_days() -> None:
    sheet = safety_sheet([], [], today=TODAY, workdays=[date(2027, 7, 10)], record=record(35, 22, 60))
    (caution,) = sheet.cautions
    assert (caution.kind, caution.day) == ("heat", date(2027, 7, 10))
    assert "100 % of recorded days" in caution.text
    assert "mean humidity" in caution.text
    assert sheet.workdays[0].n_days == 14


def test_without_humidity_the_heat_index_is_not_invented() -> None:
    (weather,) = workday_weather(record(35, 22), [date(2027, 7, 10)])
    assert weather.hottest_heat_index_c is None
    assert weather.shares == ()
    assert "not known" in weather.note


def test_frost_on_a_workday_is_said() -> None:
    sheet = safety_sheet([], [], today=TODAY, workdays=[date(2027, 1, 2)], record=record(3, -2, 80))
    assert [caution.kind for caution in sheet.cautions] == ["frost"]


def test_the_week_round_new_year_reaches_over_it() -> None:
    (weather,) = workday_weather(record(3, -2), [date(2027, 1, 1)])
    assert weather.n_days >= 12


def test_levels_of_heat_begin_at_their_figures() -> None:
    assert [heat_risk(c) for c in (32.7, 32.8, 39.5, 46.2)] == ["lower", "moderate", "high", "very high"]
    with pytest.raises(ValueError, match="expected"):
        heat_index_c(30, 101)


def test_the_sheet_gathers_all_and_puts_the_gravest_first() -> None:
    sheet = safety_sheet(
        [bed("A", lead_mg_kg=20.0), bed("B")],
        [planting(TOMATO)],
        today=TODAY,
        features=[Feature("W1", "water butt", "Butt by the shed", ((0.0, 0.0),))],
        manure=[ManureSpread("A", date(2027, 6, 1))],
        materials_used=[COMPOST],
        children_in={"A"},
    )
    kinds = [caution.kind for caution in sheet.cautions]
    assert kinds[0] == "raw manure"
    assert set(kinds) == {
        "raw manure",
        "lead",
        "no soil test",
        "herbicide residue",
        "roof water",
        "poisonous parts",
    }
    assert all(set(caution.source_ids) <= SOIL_SOURCES.keys() for caution in sheet.cautions)
    assert "green fruit" in next(c.text for c in sheet.cautions if c.kind == "poisonous parts")
    assert sheet.ask == ASK_LOCALLY


def test_poisonous_parts_are_said_where_children_work_and_only_there() -> None:
    sheet = safety_sheet([], [planting(TOMATO)], today=TODAY, children_in={"B"})
    assert sheet.cautions == ()


def test_the_pot_test_has_a_control() -> None:
    assert any("potting mix alone" in step for step in bioassay_steps())
