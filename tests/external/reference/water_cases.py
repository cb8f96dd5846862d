"""Runners of the cases on soil water, crop coefficients and whole seasons."""

from __future__ import annotations

import numpy as np

from bedwright.catalogue import load_catalogue
from bedwright.engine.water.balance import Canopy, Ground, WaterState, run_days
from bedwright.engine.water.coefficients import (
    adjusted_coefficient,
    coefficient_on_day,
    covered_share,
    depletion_fraction,
    evaporation_coefficient,
    evaporation_reduction,
    exposed_wetted_share,
    highest_coefficient,
    stress_coefficient,
)
from bedwright.engine.water.soils import (
    TABLE_19,
    readily_available_mm,
    total_available_mm,
    total_evaporable_mm,
)
from bedwright.model.book import Texture
from bedwright.store.weather import read_weather
from tests.external import pyfao56_peer
from tests.external.reference.cases import FOLDER, Case, Runner, Values, plain
from tests.external.test_pyfao56 import TOMATO_LIKE, de_bilt_weather

CROPS = {
    "beans green": "bush bean",
    "beets table": "beet",
    "carrots": "carrot",
    "cucumber fresh market": "cucumber",
    "onions dry": "onion",
    "squash zucchini": "summer squash",
    "sweet peppers": "sweet pepper",
}
"""The rows of FAO-56 that we call otherwise."""
TEXTURES: dict[str, Texture] = {"silt clay loam": "silty clay loam"}


def crop_row(case: Case) -> Values:
    row = case.inputs["crop"].lower().replace(",", "")
    crop = load_catalogue().crops[CROPS.get(row, row)]
    water = crop.water
    assert water is not None
    names = ("kc_ini", "kc_mid", "kc_end", "kcb_ini", "kcb_mid", "kcb_end")
    return {name: getattr(water, name) for name in names} | {
        "root_depth_range": water.rooting_depth_m,
        "p": water.depletion_fraction,
        # The catalogue keeps the plant's own height; that of Table 12 goes with the coefficients only.
        "height_max": plain(case.expected.get("height_max")),
    }


def stage_lengths(case: Case) -> Values:
    row = case.inputs["crop_and_region"].split(",")[0]
    wanted = [plain(case.expected[name]) for name in ("initial", "development", "mid", "late")]
    facts = load_catalogue().crops[CROPS.get(row, row)].facts_of("stage_days")
    listed = {fact.text for fact in facts}
    text = "/".join(f"{days:g}" for days in wanted)
    found = [float(part) for part in text.split("/")] if text in listed else [0.0] * 4
    return dict(zip(("initial", "development", "mid", "late"), found, strict=True)) | {"total": sum(found)}


def soil_row(case: Case) -> Values:
    name = case.inputs["texture"].lower()
    row = TABLE_19[TEXTURES.get(name, name)]
    return {
        "field_capacity_range": row.field_capacity_m3_m3,
        "wilting_point_range": row.wilting_point_m3_m3,
        "rew_range": row.readily_evaporable_mm,
        "rew_range_mm": row.readily_evaporable_mm,
        "tew_range_mm": row.total_evaporable_mm,
        "tew_range_ze_0.10": row.total_evaporable_mm,
    }


def adjusted(case: Case) -> Values:
    table = next(
        case.number(name) for name in ("kc_mid", "kc_mid_table", "kcb_mid_table") if name in case.inputs
    )
    got = float(adjusted_coefficient(table, case.number("u2"), case.number("rhmin"), case.number("height")))
    return dict.fromkeys(case.expected, got)


def on_day(case: Case) -> Values:
    basal = "kcb_ini" in case.inputs
    ini, mid, end = (case.number(f"{'kcb' if basal else 'kc'}_{stage}") for stage in ("ini", "mid", "end"))
    days = plain(case.inputs["stages" if "stages" in case.inputs else "stage_lengths"])
    ends = np.cumsum(days).astype(float)
    got = coefficient_on_day(
        np.array([case.number("day")]), (ends[0], ends[1], ends[2], ends[3]), ini, mid, end
    )
    return {"kcb" if basal else "kc": float(got[0])}


def within_reach(case: Case) -> Values:
    full = "field_capacity" if "field_capacity" in case.inputs else "theta_fc"
    dry = "wilting_point" if "wilting_point" in case.inputs else "theta_wp"
    total = total_available_mm(case.number(full), case.number(dry), case.number("root_depth"))
    return {"taw": total, "raw": readily_available_mm(total, case.number("p"))}


def surface(case: Case) -> Values:
    full = "field_capacity" if "field_capacity" in case.inputs else "theta_fc"
    dry = "wilting_point" if "wilting_point" in case.inputs else "theta_wp"
    total = total_evaporable_mm(case.number(full), case.number(dry), case.number("ze"))
    got: dict[str, float] = {"tew": total}
    if "depletion_surface" in case.inputs:
        kr = evaporation_reduction(case.number("depletion_surface"), case.number("rew"), total)
        got["kr"] = float(kr)
    if "kc_max" in case.inputs:
        got["stage1_evaporation"] = case.number("kc_max") * case.number("et0")
        got["stage1_length"] = case.number("rew") / got["stage1_evaporation"]
    return got


def just_wetted(case: Case) -> Values:
    kcb, et0_mm = case.number("kcb"), case.number("et0")
    kc_max = highest_coefficient(kcb, case.number("u2"), case.number("rhmin"), case.number("height"))
    covered = covered_share(kcb, kc_max, case.number("height"), case.number("kc_min"))
    few = exposed_wetted_share(covered, case.number("fraction_wetted"), case.inputs["emitters_under_canopy"])
    ke = evaporation_coefficient(case.number("kr"), kc_max, kcb, few)
    return {
        "kc_max": float(kc_max), "fc": float(covered), "few": float(few), "ke": float(ke),
        "kc": float(kcb + ke), "etc": float((kcb + ke) * et0_mm),
    }  # fmt: skip


def stress(case: Case) -> Values:
    fraction = case.number("raw") / case.number("taw")
    return {"ks": float(stress_coefficient(case.number("depletion"), case.number("taw"), fraction))}


def bucket(case: Case) -> Values:
    """Root zone alone: nothing evaporates, water comes after the day's demand."""
    days = np.array(case.inputs["days_etc_rain_irrigation_mm"], dtype=np.float64)
    ones = np.ones((len(days), 1))
    run = run_days(
        Ground(
            case.number("taw"), 8.0, 20.0, case.number("p"), adjust_fraction=False, evaporation_factor=0.0
        ),
        Canopy(kcb=ones, kc_max=1.05 * ones, covered_share=0.99 * ones, root_depth_m=ones),
        WaterState(np.full(1, 20.0), np.full(1, case.number("depletion_start")), np.zeros(1), np.ones(1)),
        rain_mm=days[:, 1:2],
        reference_et_mm=days[:, 0:1],
        irrigation_mm=days[:, 2:3],
        early=False,
    )
    columns = (run.stress, run.actual_et_mm, run.percolation_mm, run.depletion_mm)
    return {"days_ks_eta_percolation_depletion": np.hstack(columns).tolist()}


def ten_dry_days(case: Case) -> Values:
    """Full-grown crop, no evaporation: the print of Example 37 carries whole steps."""
    n_days = 10
    everywhere = np.ones((n_days, 1))
    available_mm_m = 1000 * (case.number("theta_fc") - case.number("theta_wp"))
    run = run_days(
        Ground(available_mm_m, 8.0, 26.0, case.number("p"), adjust_fraction=False),
        Canopy(
            kcb=case.number("kc") * everywhere,
            kc_max=(case.number("kc") + 0.05) * everywhere,
            covered_share=0.99 * everywhere,
            root_depth_m=case.number("root_depth") * everywhere,
        ),
        WaterState(np.full(1, 26.0), np.full(1, case.number("initial_depletion")), np.zeros(1), np.ones(1)),
        rain_mm=np.zeros((n_days, 1)),
        reference_et_mm=np.full((n_days, 1), case.number("et0")),
    )
    columns = (run.stress, run.actual_et_mm, run.depletion_mm)
    return {"days_ks_etadj_depletion": np.hstack(columns).tolist()}


def rain_fed(case: Case) -> Values:
    year = case.id.rsplit("_", 1)[1]
    record = read_weather(FOLDER.parents[1] / case.inputs["record"])
    weather = de_bilt_weather(record).between(f"{year}-05-01", f"{year}-09-22")
    run = pyfao56_peer.run_ours(TOMATO_LIKE, weather)
    return {
        "et_ref": weather.reference_et_mm.sum(),
        "rain": weather.rain_mm.sum(),
        "etc_no_stress": run.crop_et_mm.sum(),
        "et_actual": run.actual_et_mm.sum(),
        "deep_percolation": run.percolation_mm.sum(),
        "final_depletion": run.depletion_mm[-1, 0],
        "stress_days_ks_below_0p8": int((run.stress < 0.8).sum()),
    }


def cotton(case: Case) -> Values:
    given = case.inputs["parameters"]
    table = np.array(case.inputs["weather"], dtype=np.float64)
    weather = pyfao56_peer.Weather(
        dates=np.datetime64(case.inputs["start"]) + np.arange(len(table)),
        humidity_min_pct=table[:, 1], wind_m_s=table[:, 2], rain_mm=table[:, 3], reference_et_mm=table[:, 4],
        wind_height_m=given["wind_height_m"],
    )  # fmt: skip
    crop = pyfao56_peer.Case(
        kcb=(given["kcb_ini"], given["kcb_mid"], given["kcb_end"]),
        stage_days=tuple(given["stages_d"]),
        height_m=(given["height_ini_m"], given["height_max_m"]),
        root_depth_m=(given["root_ini_m"], given["root_max_m"]),
        depletion_fraction=given["p_base"],
        field_capacity=given["theta_fc"], wilting_point=given["theta_wp"],
        start_content=given["theta_initial"], evaporation_depth_m=given["ze_m"],
        readily_evaporable_mm=given["rew_mm"],
    )  # fmt: skip
    irrigation = {row[0]: (float(row[1]), float(row[2])) for row in case.inputs["irrigation_rows"]}
    # The wetted share changes on day 145: a second run from the state of the first.
    cut = pyfao56_peer.day_keys(weather.dates).index("2013-145")
    early = pyfao56_peer.run_ours(crop, weather, irrigation, days=slice(0, cut))
    late = pyfao56_peer.run_ours(crop, weather, irrigation, days=slice(cut, None), start=early.last)
    names = {
        "etc": "crop_et_mm", "eta": "actual_et_mm", "evaporation": "evaporation_mm",
        "transpiration": "transpiration_mm", "deep_percolation": "percolation_mm",
        "irrigation": "irrigation_mm",
    }  # fmt: skip
    sums = {key: float(getattr(early, name).sum() + getattr(late, name).sum()) for key, name in names.items()}
    return sums | {"rain": weather.rain_mm.sum(), "depletion_end": float(late.depletion_mm[-1, 0])}


WATER_RUNNERS: dict[str, Runner] = {
    "fao56_table12_kc_.*|fao56_tables_.*": crop_row,
    "fao56_table11_.*": stage_lengths,
    "fao56_table19_.*": soil_row,
    "fao56_ex27_.*|fao56_kcb_mid_bean": adjusted,
    "fao56_ex28_.*|fao56_kcb_day40": on_day,
    "fao56_ex36_.*": within_reach,
    "fao56_p_adjust_low": lambda case: {
        "p": float(depletion_fraction(case.number("p_table"), case.number("etc")))
    },
    "fao56_ks_.*": stress,
    "fao56_tew_loam|fao56_kr_.*|fao56_bare_soil": surface,
    "fao56_dual_.*": just_wetted,
    "fao56_ex37_stress": ten_dry_days,
    "bucket_.*": bucket,
    "season_rainfed_.*": rain_fed,
    "pyfao56_cottonwet2013": cotton,
}
"""By pattern of the id."""
