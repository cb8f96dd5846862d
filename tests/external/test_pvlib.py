"""Sun position and sun on sloping ground against pvlib, over places and a whole year."""

from datetime import date, datetime

import numpy as np
import pandas as pd
import pytest
from pvlib.irradiance import aoi_projection, isotropic
from pvlib.solarposition import get_solarposition

from bedwright.engine.sunlight import days_since_j2000, rise_and_set, site_light, sun_position
from bedwright.engine.sunlight.open_sky import direct_light_weight
from bedwright.engine.sunlight.places import Slope
from bedwright.model.book import Site

PLACES = [(40.779, -73.969), (52.1, 5.18), (-33.87, 151.21), (-1.29, 36.82), (64.1, -21.9)]


@pytest.mark.parametrize(("latitude_deg", "longitude_deg"), PLACES)
def test_position_through_a_year(latitude_deg: float, longitude_deg: float) -> None:
    times = pd.date_range("2027-01-01", "2027-12-31 23:00", freq="7h", tz="UTC")
    theirs = get_solarposition(times, latitude_deg, longitude_deg, method="nrel_numpy")
    start = days_since_j2000(datetime.fromisoformat("2027-01-01T00:00:00+00:00"))
    days = start + np.arange(len(times)) * 7 / 24
    elevation_deg, azimuth_deg = sun_position(days, latitude_deg, longitude_deg)
    # Stated accuracy of the low-precision method: 0.01°, doubled for parallax.
    assert np.abs(elevation_deg - theirs["elevation"].to_numpy()).max() < 0.02
    turn_deg = (azimuth_deg - theirs["azimuth"].to_numpy() + 180) % 360 - 180
    # Near the zenith azimuth is ill defined, so the difference is weighed by its arc on the sky.
    arc_deg = np.abs(turn_deg) * np.cos(np.radians(elevation_deg))
    assert arc_deg.max() < 0.02


# Computed with pvlib 0.16.1 (SPA, centre at -0.8333°, every minute of the local day); astral 3.2 agrees
# within 0.006 h. Tolerance 0.034 h: two minutes.
@pytest.mark.parametrize(
    ("place", "day", "utc_offset_h", "rise_h", "set_h"),
    [
        ((40.779, -73.969), date(2024, 3, 20), -5, 5.9727, 18.1429),
        ((40.779, -73.969), date(2024, 6, 20), -5, 4.4091, 19.5118),
        ((47.6, -122.33), date(2024, 4, 15), -8, 5.3212, 18.9996),
        ((51.48, 0.0), date(2024, 6, 20), 0, 3.7107, 20.3464),
        ((-1.29, 36.82), date(2024, 9, 22), 3, 6.3677, 18.4754),
    ],
)
def test_rise_and_set_of_a_local_day(
    place: tuple[float, float], day: date, utc_offset_h: float, rise_h: float, set_h: float
) -> None:
    times = rise_and_set(day, *place, utc_offset_h)
    assert times is not None
    assert times == pytest.approx((rise_h, set_h), abs=0.034)


# Computed with pvlib 0.16.1 (SPA, no refraction); astral 3.2 and an independent script agree within 0.03°.
@pytest.mark.parametrize(
    ("place", "moment", "elevation_deg", "azimuth_deg", "shadow_m"),
    [
        ((40.779, -73.969), "2024-06-20T16:00:00+00:00", 68.86, 140.737, 0.773),
        ((47.6, -122.33), "2024-04-15T23:30:00+00:00", 33.748, 245.453, None),
        ((51.48, 0.0), "2024-12-21T12:00:00+00:00", 15.078, 180.406, 7.424),
        ((-33.87, 151.21), "2024-12-21T02:00:00+00:00", 79.463, 351.496, 0.372),
        ((39.7425, -105.1786), "2024-09-22T15:00:00+00:00", 23.804, 111.577, None),
    ],
)
def test_position_and_the_shadow_of_a_two_metre_post(
    place: tuple[float, float], moment: str, elevation_deg: float, azimuth_deg: float, shadow_m: float | None
) -> None:
    ours = sun_position(days_since_j2000(datetime.fromisoformat(moment)), *place)
    assert float(ours[0]) == pytest.approx(elevation_deg, abs=0.1)
    assert float(ours[1]) == pytest.approx(azimuth_deg, abs=0.1)
    if shadow_m is not None:
        assert 2 / np.tan(np.radians(float(ours[0]))) == pytest.approx(shadow_m, abs=0.02)


SLOPES = [(6.0, 180.0), (11.0, 230.0), (20.0, 10.0), (35.0, 95.0)]


@pytest.mark.parametrize(("slope_deg", "aspect_deg"), SLOPES)
@pytest.mark.parametrize(("latitude_deg", "longitude_deg"), PLACES[:3])
def test_hours_of_sun_on_an_open_slope(
    latitude_deg: float, longitude_deg: float, slope_deg: float, aspect_deg: float
) -> None:
    site = Site("S", latitude_deg, longitude_deg, 0.0, "UTC", slope_deg=slope_deg, aspect_deg=aspect_deg)
    ours_h = site_light(site, [], box_m=(0.0, 0.0, 1.0, 1.0), cell_m=1.0).sun_h[:, 0, 0]
    times = pd.date_range("2026-01-01", "2026-12-31 23:58", freq="4min", tz="UTC")
    sun = get_solarposition(times, latitude_deg, longitude_deg, method="nrel_numpy")
    facing = aoi_projection(slope_deg, aspect_deg, sun["zenith"], sun["azimuth"])
    lit = (np.asarray(facing) > 0) & (sun["elevation"].to_numpy() > 0)
    theirs_h = pd.Series(lit, times).groupby(times.month).mean().to_numpy() * 24
    # Ours leaves out the sun behind the ground by directions 0.75° apart, 3 minutes of time.
    assert ours_h == pytest.approx(theirs_h, abs=0.08)


@pytest.mark.parametrize(("slope_deg", "aspect_deg"), SLOPES)
def test_direct_light_on_a_slope(slope_deg: float, aspect_deg: float) -> None:
    times = pd.date_range("2026-01-01", "2026-12-31", freq="7h", tz="UTC")
    sun = get_solarposition(times, 52.1, 5.18, method="nrel_numpy")
    sun = sun[sun["elevation"] > 0.5]
    day, elevation_rad = sun.index.day_of_year.to_numpy(float), np.radians(sun["elevation"].to_numpy())
    azimuth_rad = np.radians(sun["azimuth"].to_numpy())
    level = direct_light_weight(0.0)(day, elevation_rad, azimuth_rad)
    sloping = direct_light_weight(0.0, slope=Slope(slope_deg, aspect_deg))(day, elevation_rad, azimuth_rad)
    theirs = np.maximum(aoi_projection(slope_deg, aspect_deg, sun["zenith"], sun["azimuth"]), 0)
    assert sloping / level == pytest.approx(theirs / np.sin(elevation_rad), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(("slope_deg", "aspect_deg"), SLOPES)
def test_sky_over_an_open_slope(slope_deg: float, aspect_deg: float) -> None:
    site = Site("S", 52.1, 5.18, 0.0, "UTC", slope_deg=slope_deg, aspect_deg=aspect_deg)
    light = site_light(site, [], box_m=(0.0, 0.0, 1.0, 1.0), cell_m=1.0, months=(6,))
    assert light.sky_share[0, 0, 0] == pytest.approx(float(isotropic(slope_deg, 1.0)), abs=1e-4)
