"""Frost dates, degree days and season lengths of whole records against the public package xclim (0.62).

Where definitions differ the test says how, and compares what both mean alike.
"""

from __future__ import annotations

import numpy as np
import pytest
import xarray as xr
from xclim import indices

from bedwright.engine.climate import degree_days, frost_days, frost_free_days_by_year
from bedwright.engine.climate.dates import year_of
from bedwright.model.weather import FloatArray, WeatherRecord

RECORDS = ("de_bilt", "central_park")

pytestmark = pytest.mark.shared_weather


@pytest.fixture(params=RECORDS)
def record(request: pytest.FixtureRequest) -> WeatherRecord:
    found: WeatherRecord = request.getfixturevalue(request.param)
    return found


def array(record: WeatherRecord, values: FloatArray) -> xr.DataArray:
    return xr.DataArray(
        values,
        dims="time",
        coords={"time": record.dates.astype("datetime64[ns]")},
        attrs={"units": "degC"},
    )


def own_days_of_year(record: WeatherRecord, threshold_c: float, season: str) -> list[float]:
    days = frost_days(
        record.dates,
        record.tmin_c,
        threshold_c,
        "spring" if season == "spring" else "autumn",
        southern=False,
    )
    return [np.nan if day is None else float(day.timetuple().tm_yday) for day in days.dates]


@pytest.mark.parametrize("threshold_c", [0.0, -2.2, -4.4])
def test_last_spring_frost_of_every_year(record: WeatherRecord, threshold_c: float) -> None:
    # xclim counts days below the threshold and before 1 July unless told otherwise; ours are at or below and
    # up to 31 July.
    peer = indices.last_spring_frost(
        array(record, record.tmin_c), thresh=f"{threshold_c} degC", op="<=", before_date="08-01"
    ).to_numpy()
    assert own_days_of_year(record, threshold_c, "spring") == pytest.approx(peer, nan_ok=True)


@pytest.mark.parametrize("threshold_c", [0.0, -2.2, -4.4])
def test_first_autumn_frost_of_every_year(record: WeatherRecord, threshold_c: float) -> None:
    # Named for the daily mean, but the index takes any temperature; same two differences as in spring.
    peer = indices.first_day_temperature_below(
        array(record, record.tmin_c), thresh=f"{threshold_c} degC", op="<=", after_date="08-01"
    ).to_numpy()
    assert own_days_of_year(record, threshold_c, "autumn") == pytest.approx(peer, nan_ok=True)


def test_xclims_own_default_gives_other_days_where_the_minimum_is_exactly_zero(record: WeatherRecord) -> None:
    below = indices.last_spring_frost(array(record, record.tmin_c), before_date="08-01").to_numpy()
    ours = np.array(own_days_of_year(record, 0.0, "spring"))
    assert (below <= ours).all()
    assert (below < ours).any()


@pytest.mark.parametrize("base_c", [4.4, 10.0])
def test_yearly_degree_days(record: WeatherRecord, base_c: float) -> None:
    # xclim sums the mean of the day above the base: McMaster & Wilhelm's method 1.
    tmean_c = (record.tmin_c + record.tmax_c) / 2
    peer = indices.growing_degree_days(array(record, tmean_c), thresh=f"{base_c} degC").to_numpy()
    ours = degree_days(record.tmin_c, record.tmax_c, base_c=base_c)
    years = year_of(record.dates)
    # rounding of sums only
    assert np.bincount(years - years[0], weights=ours) == pytest.approx(peer, abs=1e-6)


def test_frost_free_season_is_never_shorter_than_xclims(record: WeatherRecord) -> None:
    # xclim's frost-free season starts with the first run of 5 days without frost and ends with the first
    # frost after 1 July, so an early warm spell opens it although frost returns; ours starts after the last
    # frost of spring. Both end on the day before the first frost. So xclim's is at least as long.
    peer = indices.frost_free_season_length(array(record, record.tmin_c), window=5, op=">").to_numpy()
    ours = frost_free_days_by_year(record.dates, record.tmin_c, southern=False)
    assert (ours <= peer + 1e-9).all()
    last = indices.last_spring_frost(array(record, record.tmin_c), op="<=", before_date="08-01").to_numpy()
    first = indices.first_day_temperature_below(
        array(record, record.tmin_c), op="<=", after_date="08-01"
    ).to_numpy()
    assert ours == pytest.approx(first - last - 1)


def test_thermal_growing_season_lies_around_the_frost_free_one(record: WeatherRecord) -> None:
    # Another thing with a like name: xclim's growing season runs from the first to the last spell of 6 days
    # with a mean above 5 °C. Frosts fall inside it: it is longer than ours in nearly every year.
    tmean_c = (record.tmin_c + record.tmax_c) / 2
    peer = indices.growing_season_length(array(record, tmean_c)).to_numpy()
    ours = frost_free_days_by_year(record.dates, record.tmin_c, southern=False)
    assert np.mean(peer > ours) > 0.9
