from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.engine.timing import (
    allowed_days,
    date_choices,
    date_table,
    plan_dates,
    sowing_outcomes,
    successions,
)
from bedwright.engine.timing.outcomes import SEASON_DAYS, warming
from bedwright.model.book import Amount, Way, Wish
from bedwright.model.crop import Crop, FrostClass, GerminationPoint
from bedwright.model.weather import SeasonYears
from tests.builders import tiny_book, tiny_crop

N_DAYS = 615
FROST_CLASSES: st.SearchStrategy[FrostClass] = st.sampled_from(
    ("hardy", "half-hardy", "tender", "very tender")
)
SOME = settings(max_examples=40)


@st.composite
def seasons(draw: st.DrawFn) -> SeasonYears:
    """Four recorded seasons of any temperate to cold climate, with weather about it."""
    rng = np.random.default_rng(draw(st.integers(0, 10_000)))
    mean_c, swing_c = draw(st.floats(0, 22)), draw(st.floats(0, 14))
    coldest = draw(st.integers(0, 364))
    day = np.arange(N_DAYS)
    usual_c = mean_c - swing_c * np.cos(2 * np.pi * (day - coldest) / 365)
    daily_c = usual_c + rng.normal(0, draw(st.floats(0, 5)), (4, N_DAYS))
    half_range_c = draw(st.floats(1, 8))
    return SeasonYears(
        season_start=date(2027, 1, 1) + timedelta(days=draw(st.integers(0, 364))),
        years=(2000, 2001, 2002, 2003),
        tmin_c=daily_c - half_range_c,
        tmax_c=daily_c + half_range_c,
        rain_mm=np.zeros_like(daily_c),
        plant_tmin_c=daily_c - half_range_c - 2,
        soil_temp_c=usual_c + rng.normal(0, 1, (4, N_DAYS)),
        soil_depth_m=0.05,
        ground_frost_allowance_c=2.0,
    )


@st.composite
def crops(draw: st.DrawFn) -> Crop:
    """Annual crops of any pace and hardiness."""
    low_days, more_days = draw(st.floats(20, 120)), draw(st.floats(0, 40))
    frost_class = draw(FROST_CLASSES)
    points = (
        GerminationPoint(3.0, None, None, germinates=False),
        GerminationPoint(8.0, draw(st.floats(8, 50)), None, germinates=True),
        GerminationPoint(20.0, draw(st.floats(2, 20)), None, germinates=True),
        GerminationPoint(35.0, None, None, germinates=False),
    )
    return replace(
        tiny_crop(),
        germination=draw(st.sampled_from((points, ()))),
        days_to_maturity_days=(low_days, low_days + more_days),
        maturity_basis=draw(st.sampled_from(("sowing", "setting out"))),
        harvest_span_days=draw(st.floats(1, 90)),
        frost_class=frost_class,
        frost_kill_c=draw(st.floats(-12, 2)),
        heat_limit_c=draw(st.one_of(st.none(), st.floats(18, 38))),
        edible_parts=(draw(st.sampled_from(("leaves", "root", "fruit"))),),
        soil_temp_min_c=draw(st.floats(0, 16)),
    )


WAYS: st.SearchStrategy[Way] = st.sampled_from(("sow", "raise", "buy"))
LATITUDES = st.floats(-60, 60)


@SOME
@given(crop=crops(), years=seasons(), way=WAYS, latitude_deg=LATITUDES)
def test_picking_follows_coming_up_and_ends_no_earlier_than_it_begins(
    crop: Crop, years: SeasonYears, way: Way, latitude_deg: float
) -> None:
    found = sowing_outcomes(crop, years, way, latitude_deg=latitude_deg)
    worked = found.worked
    assert (found.last_pick >= found.first_pick)[worked].all()
    assert (found.first_pick > found.emerges)[worked].all()
    assert (found.emerges >= np.arange(SEASON_DAYS)[:, None])[worked].all()
    assert (found.first_pick[~worked] == -1).all()
    assert (found.ended[~worked] >= 0).all()


@SOME
@given(crop=crops(), years=seasons(), way=WAYS, latitude_deg=LATITUDES)
def test_dates_of_a_choice_stand_in_order(
    crop: Crop, years: SeasonYears, way: Way, latitude_deg: float
) -> None:
    table = date_table(crop, years, way, latitude_deg=latitude_deg)
    for choice in date_choices(table, frost_risk_pct=50, chance_wanted_pct=50):
        assert choice.in_ground <= choice.first_pick_early <= choice.first_pick <= choice.first_pick_late
        assert choice.first_pick <= choice.last_pick <= choice.clear_by
        assert choice.emerges is None or choice.in_ground <= choice.emerges <= choice.first_pick
        assert choice.chance is not None
        assert abs(choice.chance + sum(share for _, share in choice.failures) - 1) < 1e-9


@SOME
@given(years=seasons(), crop=crops(), latitude_deg=LATITUDES, risk_pct=st.sampled_from((5, 10, 25, 50)))
def test_nothing_tender_is_out_before_its_date(
    years: SeasonYears, crop: Crop, latitude_deg: float, risk_pct: int
) -> None:
    tender = replace(crop, frost_class="tender")
    table = date_table(tender, years, "raise", latitude_deg=latitude_deg)
    spring = warming(years) >= 0
    freezing = years.tmin_c <= tender.frost_kill_c
    for choice in date_choices(table, frost_risk_pct=risk_pct):
        out = (choice.in_ground - years.season_start).days
        caught = 0
        for year in range(years.n_years):
            frosts = np.flatnonzero(freezing[year, out:]) + out
            unripe = frosts.size and frosts[0] <= table.outcomes.ripe[out, year]
            caught += bool(unripe and spring[frosts[0]])
        assert 100 * caught / years.n_years <= risk_pct


@SOME
@given(years=seasons(), crop=crops(), latitude_deg=LATITUDES, warmer_c=st.floats(0, 10))
def test_warmer_air_never_costs_a_crop_that_only_frost_limits(
    years: SeasonYears, crop: Crop, latitude_deg: float, warmer_c: float
) -> None:
    cool_lover = replace(crop, heat_limit_c=None)
    warmer = replace(years, tmin_c=years.tmin_c + warmer_c, tmax_c=years.tmax_c + warmer_c)
    before = sowing_outcomes(cool_lover, years, "raise", latitude_deg=latitude_deg)
    after = sowing_outcomes(cool_lover, warmer, "raise", latitude_deg=latitude_deg)
    assert (after.worked | ~before.worked).all()
    both = before.worked & after.worked
    assert (after.first_pick <= before.first_pick)[both].all()


@SOME
@given(
    years=seasons(),
    crop=crops(),
    way=WAYS,
    latitude_deg=LATITUDES,
    risks_pct=st.tuples(st.floats(1, 50), st.floats(1, 50)),
    wanted_pct=st.floats(50, 99),
)
def test_accepting_more_risk_never_takes_a_date_away(
    years: SeasonYears,
    crop: Crop,
    way: Way,
    latitude_deg: float,
    risks_pct: tuple[float, float],
    wanted_pct: float,
) -> None:
    table = date_table(crop, years, way, latitude_deg=latitude_deg)
    careful = allowed_days(table, frost_risk_pct=min(risks_pct), chance_wanted_pct=wanted_pct)
    bold = allowed_days(table, frost_risk_pct=max(risks_pct), chance_wanted_pct=wanted_pct)
    assert (bold | ~careful).all()


@SOME
@given(years=seasons(), crop=crops(), way=WAYS, n_days=st.integers(0, 364))
def test_the_same_weather_gives_the_same_fates_whatever_month_it_is_called(
    years: SeasonYears, crop: Crop, way: Way, n_days: int
) -> None:
    # On the equator light is plenty all year, so that only the weather counts.
    renamed = replace(years, season_start=years.season_start + timedelta(days=n_days))
    one = sowing_outcomes(crop, years, way, latitude_deg=0.0)
    other = sowing_outcomes(crop, renamed, way, latitude_deg=0.0)
    for name in ("emerges", "first_pick", "last_pick", "cause"):
        assert (getattr(one, name) == getattr(other, name)).all()


@SOME
@given(years=seasons(), crop=crops(), latitude_deg=LATITUDES, wanted=st.integers(1, 20))
def test_successions_begin_to_yield_one_after_another(
    years: SeasonYears, crop: Crop, latitude_deg: float, wanted: int
) -> None:
    table = date_table(crop, years, "sow", latitude_deg=latitude_deg)
    choices = date_choices(table, days=range(SEASON_DAYS))
    found = successions(choices, wanted, crop.harvest_span_days)
    assert len(found) <= wanted
    assert bool(found) == bool(choices)
    picks = [each.choices[each.best].first_pick for each in found]
    assert picks == sorted(picks)
    assert len(set(picks)) == len(picks)


@SOME
@given(
    years=seasons(),
    crop=crops(),
    latitude_deg=LATITUDES,
    n_plants=st.integers(1, 60),
    wanted=st.one_of(st.integers(1, 12), st.just("keep picking")),
    today_day=st.integers(-100, 400),
)
def test_no_plant_is_lost_and_nothing_is_begun_in_the_past(
    years: SeasonYears,
    crop: Crop,
    latitude_deg: float,
    n_plants: int,
    wanted: int,
    today_day: int,
) -> None:
    wish = Wish("w", "carrot", Amount(float(n_plants), "plants"), successions=wanted)
    book = replace(tiny_book(), season_start=years.season_start, wishes=(wish,))
    book = replace(book, site=replace(book.site, latitude_deg=latitude_deg))
    today = years.season_start + timedelta(days=today_day)
    found = plan_dates(book, {"carrot": crop}, years, today=today)
    assert sum(request.n_plants for request in found) == n_plants
    for request in found:
        assert bool(request.choices) == (request.best is not None) == (not request.no_window_reason)
        assert all((choice.sow_under_cover or choice.in_ground) >= today for choice in request.choices)
