from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from bedwright.engine.climate import GROUND_FROST_ALLOWANCE_C, measured_allowance_c, plant_minimum
from bedwright.model.weather import WeatherRecord

MakeRecord = Callable[..., WeatherRecord]


def test_without_measurements_the_allowance_of_de_bilt_is_taken(make_record: MakeRecord) -> None:
    plants = plant_minimum(make_record("2020-01-01", "2020-12-31"))
    assert not plants.measured
    assert plants.tmin_c[0] == pytest.approx(10 - GROUND_FROST_ALLOWANCE_C)
    assert "De Bilt" in plants.basis


def test_measured_minima_are_taken_as_they_are(make_record: MakeRecord) -> None:
    record = make_record("2020-01-01", "2020-12-31")
    record = replace(record, tmin_c=np.full(366, 3.0), ground_tmin_c=np.full(366, -1.0))
    plants = plant_minimum(record)
    assert plants.measured
    assert plants.allowance_c == pytest.approx(4.0)
    assert plants.tmin_c.tolist() == [-1.0] * 366
    assert plants.basis == "Minimum at 10 cm above the ground as measured at the station."


def test_nights_without_measurement_take_the_records_own_allowance(make_record: MakeRecord) -> None:
    record = make_record("2020-01-01", "2020-12-31")
    ground = np.full(366, -1.0)
    ground[10] = np.nan
    plants = plant_minimum(replace(record, tmin_c=np.full(366, 3.0), ground_tmin_c=ground))
    assert plants.tmin_c[10] == pytest.approx(-1.0)
    assert "on 1 days without it" in plants.basis


def test_too_few_nights_at_risk_fall_back_on_de_bilt(make_record: MakeRecord) -> None:
    record = make_record("2020-06-01", "2020-08-31")
    plants = plant_minimum(replace(record, ground_tmin_c=record.tmin_c - 5))
    assert plants.allowance_c == GROUND_FROST_ALLOWANCE_C


@pytest.mark.parametrize("n_nights", [59, 60])
def test_sixty_nights_are_enough(n_nights: int) -> None:
    tmin_c = np.full(n_nights, 2.0)
    found = measured_allowance_c(tmin_c, tmin_c - 3, np.full(n_nights, 4))
    assert found == (pytest.approx(3.0) if n_nights == 60 else None)


def test_only_cool_nights_of_spring_and_autumn_are_at_risk() -> None:
    tmin_c = np.concatenate([np.full(100, 2.0), np.full(100, 8.0), np.full(100, 2.0)])
    ground_c = tmin_c - np.repeat([3.0, 1.0, 6.0], 100)
    months = np.repeat([4, 4, 7], 100)
    assert measured_allowance_c(tmin_c, ground_c, months) == pytest.approx(3.0)
