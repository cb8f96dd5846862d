"""Damping depth, yearly wave and daily soil temperature against their sources."""

from __future__ import annotations

import math

import numpy as np
import pytest

from bedwright.engine.climate import annual_wave_c, damping_depth_m, fill_gaps, soil_temperature_c
from bedwright.engine.climate.soil_temperature import bare_soil_surface_c
from bedwright.model.weather import WeatherRecord


def test_damping_depth_of_the_daily_wave_as_printed() -> None:
    # Rain or Shine (Oklahoma State Univ. open textbook), section 13.4, Eq. 13-4 and 13-5: 0.117 m (read)
    assert damping_depth_m(5e-7, 1) == pytest.approx(0.117, abs=0.0006)


def test_the_yearly_wave_reaches_19_times_as_deep_as_the_daily() -> None:
    # Same section: 19.1 (read)
    assert damping_depth_m(5e-7, 365) / damping_depth_m(5e-7, 1) == pytest.approx(19.1, abs=0.05)


# Hillel 1982 as given by the soil physics toolkit of Oklahoma State University (equation read); values
# worked by a script outside the project, the last three confirmed there by finite differences of the
# heat equation. 0.006: printed to a hundredth.
@pytest.mark.parametrize(
    ("mean_c", "amplitude_c", "coldest", "diffusivity", "depth_m", "day", "expected_c"),
    [
        (11.0, 11.5, 20, 5e-7, 0.05, 105, 9.54),
        (11.0, 11.5, 20, 5e-7, 0.10, 121, 12.35),
        (11.0, 11.5, 20, 5e-7, 0.50, 121, 10.49),
        (12.9, 12.3, 20, 5e-7, 0.05, 110, 12.37),
        (12.9, 12.3, 20, 5e-7, 0.10, 130, 16.13),
        (11.5, 9.0, 25, 4e-7, 0.20, 150, 15.27),
    ],
)
def test_the_yearly_wave_at_a_depth(
    mean_c: float,
    amplitude_c: float,
    coldest: float,
    diffusivity: float,
    depth_m: float,
    day: float,
    expected_c: float,
) -> None:
    got = annual_wave_c(
        np.array([day]),
        depth_m,
        mean_c=mean_c,
        surface_amplitude_c=amplitude_c,
        day_of_minimum=coldest,
        diffusivity_m2_s=diffusivity,
    )
    assert got[0] == pytest.approx(expected_c, abs=0.006)


@pytest.mark.parametrize(("diffusivity", "depth_m"), [(5e-7, 2.24), (4e-7, 2.004)])
def test_damping_depth_of_the_yearly_wave(diffusivity: float, depth_m: float) -> None:
    assert damping_depth_m(diffusivity, 365) == pytest.approx(depth_m, abs=0.001)


def test_daily_step_of_kaetterer_and_andren_for_bare_soil() -> None:
    # Kätterer & Andrén 2009, equations read in the documentation of the R package reclim: surface
    # T (0.95 + 0.05 exp(-0.4 (LAI - 3))), 0.2 T below zero; step 0.24 exp(-0.017 z), z in cm; LAI 0 here.
    tmean_c = np.array([8.0, 12.0, -5.0, 6.0])
    factor = 0.95 + 0.05 * math.exp(1.2)
    surface_c = [8 * factor, 12 * factor, -1.0, 6 * factor]
    assert bare_soil_surface_c(tmean_c) == pytest.approx(surface_c)
    soil_c = soil_temperature_c(tmean_c, 0.05, 100)
    share = 0.24 * math.exp(-0.017 * 5)
    for day in range(3):
        step = share * (surface_c[day] - soil_c[day])
        assert soil_c[day + 1] == pytest.approx(soil_c[day] + step)


def test_the_mean_year_of_the_daily_series_follows_hillels_wave(central_park: WeatherRecord) -> None:
    # Two sources against each other: the daily method averaged over 30 years, and the wave through the
    # same surface. 2.5 °C: the year is not one sine, and the daily method lags the surface by 4.5 days,
    # which at 0.25 °C a day in spring is 1.1 °C by itself.
    record, _, _ = fill_gaps(central_park)
    tmean_c = (record.tmin_c + record.tmax_c) / 2
    soil_c = soil_temperature_c(tmean_c, 0.05, 1)
    day = (record.dates - record.dates.astype("datetime64[Y]")).astype(int) + 1
    year_c = np.array([soil_c[day == d].mean() for d in range(1, 366)])
    surface_c = bare_soil_surface_c(tmean_c)
    surface_year_c = np.array([surface_c[day == d].mean() for d in range(1, 366)])
    angle = 2 * np.pi * np.arange(1, 366) / 365
    cosine_c, sine_c = (
        2 * (surface_year_c * np.cos(angle)).mean(),
        2 * (surface_year_c * np.sin(angle)).mean(),
    )
    wave_c = annual_wave_c(
        np.arange(1.0, 366.0),
        0.05,
        mean_c=float(surface_year_c.mean()),
        surface_amplitude_c=math.hypot(cosine_c, sine_c),
        day_of_minimum=math.atan2(-sine_c, -cosine_c) * 365 / (2 * math.pi),
    )
    assert np.abs(year_c - wave_c).max() < 2.5


def test_soil_in_spring_is_close_to_the_us_regressions_on_an_eleven_day_mean(
    central_park: WeatherRecord,
) -> None:
    # Zheng, Hunt & Running 1993, Climate Research 2:183-191 (abstract read) estimate soil at 10 cm from the
    # mean air temperature of the 11 days before, with standard errors of 1.5 to 2.9 °C. Their regional
    # coefficients were not seen, so only lag and spread are compared: after a straight-line fit the two
    # smoothings of the same air must agree far better than that error.
    record, _, _ = fill_gaps(central_park)
    tmean_c = (record.tmin_c + record.tmax_c) / 2
    mean_11_c = np.convolve(tmean_c, np.ones(11) / 11, mode="full")[: tmean_c.size]
    soil_c = soil_temperature_c(tmean_c, 0.10, 1)
    months = record.dates.astype("datetime64[M]").astype(int) % 12 + 1
    spring = np.isin(months, (3, 4, 5))
    slope, intercept = np.polyfit(mean_11_c[spring], soil_c[spring], 1)
    rest_c = soil_c[spring] - (slope * mean_11_c[spring] + intercept)
    assert rest_c.std() < 1.5
