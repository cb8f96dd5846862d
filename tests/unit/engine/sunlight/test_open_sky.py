"""Light of open and of shaded ground."""

from dataclasses import replace

import numpy as np
import pytest

from bedwright.engine.sunlight import average_light, clear_light, daily_light_mj_m2
from bedwright.model.light import OpenLight
from bedwright.model.weather import WeatherRecord

CLEAR_40N = clear_light(40.0, 100.0, [1.0] * 12)


def record(sunshine_h: float | None = None, radiation_mj_m2: float | None = None) -> WeatherRecord:
    """Two even years."""
    dates = np.arange(np.datetime64("2020-01-01"), np.datetime64("2022-01-01"))
    return WeatherRecord(
        "Evenham",
        "Invented",
        invented=True,
        dates=dates,
        tmin_c=np.full(dates.size, 5.0),
        tmax_c=np.full(dates.size, 15.0),
        rain_mm=np.zeros(dates.size),
        sunshine_h=None if sunshine_h is None else np.full(dates.size, sunshine_h),
        radiation_mj_m2=None if radiation_mj_m2 is None else np.full(dates.size, radiation_mj_m2),
    )


def test_sun_and_sky_together_are_the_clear_day_of_fao_56() -> None:
    total = np.add(CLEAR_40N.direct_mj_m2, CLEAR_40N.diffuse_mj_m2)
    # FAO-56 Eq. 37 on Table 2.6, 40 N in June, 41.9 MJ: (0.75 + 0.002) of it; table value from memory.
    assert total[5] == pytest.approx(0.752 * 41.9, rel=0.015)


def test_humid_air_lets_less_of_the_sun_itself_through() -> None:
    humid = clear_light(40.0, 100.0, [2.5] * 12)
    assert np.all(np.array(humid.direct_mj_m2) < np.array(CLEAR_40N.direct_mj_m2))


def test_polar_night_has_no_light() -> None:
    light = clear_light(80.0, 0.0, [0.3] * 12)
    assert light.direct_mj_m2[11] == light.diffuse_mj_m2[11] == 0


@pytest.mark.parametrize(
    "weather",
    [record(), record(sunshine_h=4.0), record(radiation_mj_m2=8.0)],
    ids=["range", "sunshine", "measured"],
)
def test_an_average_sky_is_never_brighter_than_a_clear_one(weather: WeatherRecord) -> None:
    light = average_light(weather, 40.0, 100.0)
    clear = clear_light(40.0, 100.0, [0.872] * 12)
    assert np.all(np.array(light.direct_mj_m2) >= 0)
    assert np.all(np.array(light.diffuse_mj_m2) >= 0)
    assert np.all(
        np.add(light.direct_mj_m2, light.diffuse_mj_m2)
        <= np.add(clear.direct_mj_m2, clear.diffuse_mj_m2) + 1e-9
    )
    assert all(0 <= share <= 1 for share in light.sunshine_share)
    assert "Evenham" in light.basis


def test_measured_radiation_is_kept() -> None:
    # One of the two years is a leap year, so its months lie a day otherwise than in a common year.
    light = average_light(record(radiation_mj_m2=6.0), 40.0, 100.0)
    assert light.direct_mj_m2[5] + light.diffuse_mj_m2[5] == pytest.approx(6.0, rel=1e-3)


def test_a_month_the_record_lacks_counts_as_clear() -> None:
    half = record(radiation_mj_m2=6.0)
    assert half.radiation_mj_m2 is not None
    months = half.dates.astype("datetime64[M]").astype(int) % 12
    gappy = replace(half, radiation_mj_m2=np.where(months == 5, np.nan, half.radiation_mj_m2))
    light = average_light(gappy, 40.0, 0.0)
    assert light.direct_mj_m2[5] + light.diffuse_mj_m2[5] > 25


def test_polar_night_under_the_record_has_no_light_either() -> None:
    light = average_light(record(), 80.0, 0.0)
    assert light.direct_mj_m2[11] == light.diffuse_mj_m2[11] == 0


def test_shaded_ground_gets_its_shares_of_both() -> None:
    light = OpenLight((10.0,) * 12, (4.0,) * 12, (1.0,) * 12, "")
    found = daily_light_mj_m2(np.full((12, 2, 3), 0.5), np.full((12, 2, 3), 0.75), light)
    assert found.shape == (12, 2, 3)
    assert found == pytest.approx(8.0)
