from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from bedwright.engine.climate import reference_et
from bedwright.engine.climate.air import wind_at_2m_m_s
from bedwright.engine.climate.radiation import (
    net_longwave_mj_m2,
    radiation_from_sunshine_mj_m2,
    radiation_from_temperature_mj_m2,
    sun_day,
)
from bedwright.model.weather import WeatherRecord

MakeRecord = Callable[..., WeatherRecord]


def test_method_words_name_what_was_measured_and_what_estimated(make_record: MakeRecord) -> None:
    record = make_record("2021-06-01", "2021-06-30")
    some = np.full(30, 5.0)
    cases = {
        "radiation from the range of temperature (Eq. 50), dew point taken as the minimum (Eq. 48)"
        " and wind taken as 2 m/s": record,
        "radiation from sunshine (Eq. 35), dew point": replace(record, sunshine_h=some),
        "measured radiation, mean humidity (Eq. 19) and measured wind": replace(
            record, radiation_mj_m2=some * 4, sunshine_h=some, rh_mean_pct=some * 14, wind_m_s=some
        ),
        "highest humidity (Eq. 18)": replace(record, rh_max_pct=some * 18),
        "highest and lowest humidity (Eq. 17)": replace(record, rh_max_pct=some * 18, rh_min_pct=some * 9),
    }
    for words, case in cases.items():
        result = reference_et(case, 45.0, 100.0)
        assert words in result.method
        assert np.isfinite(result.et_mm).all()


def test_bias_depends_on_what_is_estimated(make_record: MakeRecord) -> None:
    record = make_record("2021-06-01", "2021-06-30")
    some = np.full(30, 5.0)
    whole = replace(
        record, radiation_mj_m2=some * 4, rh_max_pct=some * 18, rh_min_pct=some * 9, wind_m_s=some
    )
    assert "reference method itself" in reference_et(whole, 45.0, 100.0).bias
    sunny = replace(whole, radiation_mj_m2=None, sunshine_h=some)
    assert "from sunshine" in reference_et(sunny, 45.0, 100.0).bias
    assert "Part of the inputs" in reference_et(replace(whole, wind_m_s=None), 45.0, 100.0).bias
    mean_only = replace(whole, rh_max_pct=None, rh_min_pct=None, rh_mean_pct=some * 14)
    assert "humidity known by one value a day" in reference_et(mean_only, 45.0, 100.0).bias
    bare = reference_et(record, 45.0, 100.0).bias
    assert "From temperature" in bare
    assert "Hargreaves (Eq. 52) gives" in bare


def test_polar_night_gives_nothing_and_no_error(make_record: MakeRecord) -> None:
    record = make_record("2021-12-15", "2021-12-31")
    result = reference_et(replace(record, tmin_c=record.tmin_c - 30, tmax_c=record.tmax_c - 40), 75.0, 10.0)
    assert result.et_mm.tolist() == [0.0] * 17


def test_sun_never_sets_in_polar_summer_and_never_rises_in_polar_winter() -> None:
    sun = sun_day(75, np.array([172.0, 355.0]))
    assert sun.daylight_h == pytest.approx([24.0, 0.0])
    assert sun.extraterrestrial_mj_m2[1] == 0.0


def test_sunshine_in_polar_night_counts_as_none() -> None:
    sun = sun_day(75, np.array([355.0]))
    assert radiation_from_sunshine_mj_m2(np.array([3.0]), sun)[0] == 0.0


def test_radiation_from_temperature_never_exceeds_a_clear_sky() -> None:
    sun = sun_day(40, np.array([180.0]))
    got = radiation_from_temperature_mj_m2(np.array([0.0]), np.array([40.0]), sun)
    assert got[0] == pytest.approx(0.75 * sun.extraterrestrial_mj_m2[0])


def test_the_darkest_day_still_loses_heat() -> None:
    nothing = np.array([0.0])
    lost = net_longwave_mj_m2(np.array([5.0]), np.array([8.0]), np.array([0.9]), nothing, np.array([5.0]))
    assert lost[0] > 0


def test_wind_measured_at_2_m_is_taken_as_it_is() -> None:
    assert wind_at_2m_m_s(np.array([3.0]), 2.0).tolist() == [3.0]


@pytest.mark.parametrize("height_m", [0.4, 201.0])
def test_wind_heights_out_of_reason_are_refused(height_m: float) -> None:
    with pytest.raises(ValueError, match=r"outside 0\.5 to 200 m"):
        wind_at_2m_m_s(np.array([3.0]), height_m)


@pytest.mark.parametrize("height_m", [0.5, 200.0])
def test_wind_heights_at_the_bounds_are_taken(height_m: float) -> None:
    assert np.isfinite(wind_at_2m_m_s(np.array([3.0]), height_m)).all()
