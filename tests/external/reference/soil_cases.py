"""Runners of the cases on soil, manure, compost, lead and trade arithmetic."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np

from bedwright.engine.climate import annual_wave_c, damping_depth_m
from bedwright.engine.placement.layout import fit
from bedwright.engine.placement.packing.rows import pattern
from bedwright.engine.soil import (
    earliest_harvest,
    harvest_allowed,
    interpret,
    is_compost,
    layer_volume_m3,
    lead_band,
    lime_applications,
    lime_for_product,
    manganese_index,
    mass_for_nutrient,
    mass_of_other_grade,
    nutrients_in,
    read_figures,
)
from bedwright.engine.soil.compost import nitrogen_released_pct
from bedwright.engine.soil.tables import RUTGERS_MEHLICH_3
from bedwright.engine.timing.stated import stated_choices
from bedwright.engine.timing.successions import successions
from bedwright.engine.water.methods import litres
from bedwright.engine.work import own_rates_of
from bedwright.model.book import StatedFrost
from bedwright.model.safety import EPA_2024
from bedwright.model.season import DateChoice
from bedwright.model.soil import LabFigure, Material
from bedwright.model.units import (
    feet_to_metres,
    inches_to_mm,
    litres_to_us_gallons,
    m3_to_cubic_yards,
    square_feet_to_m2,
)
from bedwright.model.work import WorkRecord
from tests.builders import tiny_crop
from tests.external.reference.cases import Case, Runner, Values, plain

DAY_S = 86400


def manure_interval(case: Case) -> Values:
    allowed = harvest_allowed(
        case.day("incorporated"),
        case.day("harvest"),
        touching=case.inputs["edible_part_touches_soil"],
        composted=case.inputs["material"] == "finished compost",
    )
    return {"allowed": allowed}


def earliest_pick(case: Case) -> Values:
    return {"earliest_harvest": earliest_harvest(case.day("incorporated"), touching=True)}


def composting(case: Case) -> Values:
    held_f = case.number("temperature_held")
    days, turns = int(case.number("days")), int(case.number("turns"))
    system: Any = case.inputs["system"]
    return {"meets": is_compost(system, case.number("initial_c_to_n"), held_f, held_f, days, turns)}


def mehlich_class(case: Case) -> Values:
    analyte = case.inputs["nutrient"]
    (reading,) = read_figures([LabFigure(analyte, case.number("value"), "lb/acre")])
    found = interpret(RUTGERS_MEHLICH_3, analyte, reading.value)
    assert found is not None
    return {"class": found.class_word}


def release(case: Case) -> Values:
    kind: Any = "manure" if "fresh manure" in case.inputs["material"] else "compost"
    return {"range_percent": nitrogen_released_pct(Material("m", kind), int(case.number("year")))}


LEAD_BANDS = {
    "below": "below 100",
    "above several-sources level": "100 to 200: above the Jan 2024 level for several lead sources",
    "above screening level": "above the 200 screening level",
}


def layer(case: Case) -> Values:
    if "area" in case.inputs:
        area_m2 = square_feet_to_m2(case.number("area"))
    else:
        area_m2 = feet_to_metres(case.number("length")) * feet_to_metres(case.number("width"))
    return {"volume": m3_to_cubic_yards(layer_volume_m3(area_m2, inches_to_mm(case.number("depth"))))}


def inch_of_water(case: Case) -> Values:
    area_m2 = feet_to_metres(case.number("length")) * feet_to_metres(case.number("width"))
    return {"volume": litres_to_us_gallons(litres(inches_to_mm(case.number("depth")), area_m2))}


def stations(length_ft: float, spacing_in: float) -> int:
    """Plants along a length, half a spacing kept at both ends."""
    spacing_m = inches_to_mm(spacing_in) / 1000
    return int(fit(feet_to_metres(length_ft) - spacing_m, spacing_m))


def bag_contents(case: Case) -> Values:
    n_pct, p2o5_pct, k2o_pct = plain(case.inputs["grade"])
    found = nutrients_in(case.number("bag_mass"), (n_pct, p2o5_pct, k2o_pct))
    return {str(nutrient): mass for nutrient, mass in found.items()}


def square_spacing(case: Case) -> Values:
    # The chart gives an area; here a bed of 5 ft and the length that makes it up.
    spacing_in = case.number("spacing")
    return {"plants": stations(5, spacing_in) * stations(case.number("area") / 5, spacing_in)}


def triangular_spacing(case: Case) -> Values:
    # Pattern 1 of the packing: every plant as far from the six round it.
    spacing_in = case.number("spacing")
    in_row_in, between_in, _ = pattern(1, spacing_in, 1e6)
    return {"plants": case.number("area") * 144 / (in_row_in * between_in), "row_distance": between_in}


def potting_line(case: Case) -> Values:
    # Timed on 1200 flats: the rate the log gives; cost and output follow from it.
    minutes = case.number("workers") * case.number("hours") * 60
    (rate,) = own_rates_of([WorkRecord("sow under cover", date(2026, 3, 1), case.number("flats"), minutes)])
    return {
        "minutes_per_flat": rate.likely_min,
        "flats_per_worker_day": case.number("hours") * 60 / rate.likely_min,
        "cost_per_flat": rate.likely_min / 60 * case.number("wage"),
    }


def side_dressing(case: Case) -> Values:
    first, second = plain(case.inputs["grades_N"])
    rate = case.number("rate")
    return {"mass_21": mass_for_nutrient(rate, first), "mass_34": mass_for_nutrient(rate, second)}


def count_back(case: Case) -> Values:
    # Packet practice without a harvest period; dates are Mondays, so each weekday is tried as the frost's.
    frost_day = case.day("first_frost")
    days = case.number("days_to_maturity")
    crop = replace(
        tiny_crop("carrot"),
        days_to_maturity_days=(days, days),
        maturity_basis="sowing",
        harvest_span_days=0.0,
    )
    back = []
    for later in range(7):
        frost = frost_day + timedelta(days=later)
        stated = StatedFrost((4, 1), (frost.month, frost.day))
        last = stated_choices(crop, "sow", stated, date(frost_day.year, 1, 1))[-1].in_ground
        back.append((frost - last).days)
    return {"count_back": min(back), "latest_sowing": frost_day - timedelta(days=min(back))}


def sowings(case: Case) -> Values:
    # Picking follows sowing by the same days all through, so that turns of picking are turns of sowing.
    first, last = case.day("first"), case.day("last_allowed")
    n_days = (last - first).days + 1
    found = successions(
        [_choice(first + timedelta(days=day)) for day in range(n_days)],
        "keep picking",
        case.number("interval"),
    )
    days = [each.choices[each.best].in_ground for each in found]
    return {"sowings": len(days), "last_sowing": days[-1]}


def _choice(day: date) -> DateChoice:
    pick = day + timedelta(days=55)
    return DateChoice(None, None, day, None, pick, pick, pick, pick, pick, None, 0, ())


def wave(case: Case) -> Values:
    got = annual_wave_c(
        np.array([case.number("day_of_year")]),
        case.number("depth"),
        mean_c=case.number("mean"),
        surface_amplitude_c=case.number("surface_amplitude"),
        day_of_minimum=case.number("day_of_minimum"),
        diffusivity_m2_s=case.number("diffusivity"),
    )
    return {"temperature": got[0]}


SOIL_RUNNERS: dict[str, Runner] = {
    "nop_interval_.*": manure_interval,
    "manure_120_days": earliest_pick,
    "nop_compost_.*": composting,
    "rutgers_m3_.*": mehlich_class,
    "rutgers_mn_index": lambda case: {"index": manganese_index(case.number("mn"), case.number("ph"))},
    "psu_lime_cce": lambda case: {"lime": lime_for_product(case.number("recommended"), case.number("cce"))},
    "psu_lime_split_.*": lambda case: {"applications": lime_applications(case.number("recommended"))},
    "umaine_mulch_.*|compost_cornell_field|compost_100sqft_1in": layer,
    "(compost|manure)_n_release_.*": release,
    "soil_lead_.*": lambda case: {"band": LEAD_BANDS[lead_band(case.number("lead"), EPA_2024)]},
    "water_purdue_10x20": inch_of_water,
    "fert_umaine_grade_change": lambda case: {
        "mass": mass_of_other_grade(
            case.number("recommended_mass"), case.number("recommended_N"), case.number("own_N")
        )
    },
    "fert_umaine_bag_contents": bag_contents,
    "spacing_square_.*": square_spacing,
    "spacing_triangular_.*": triangular_spacing,
    "row_count_.*": lambda case: {"plants": stations(case.number("row"), case.number("spacing"))},
    "flat_transplant_labour": potting_line,
    "sidedress_csu_.*": side_dressing,
    "autumn_sow_.*": count_back,
    "succession_.*": sowings,
    "rainorshine_daily_d": lambda case: {
        "damping_depth": damping_depth_m(case.number("diffusivity"), case.number("period") / DAY_S)
    },
    "rainorshine_ratio": lambda case: {
        "ratio": damping_depth_m(5e-7, case.number("period_ratio")) / damping_depth_m(5e-7, 1)
    },
    "hillel_.*": wave,
}
"""By pattern of the id."""
