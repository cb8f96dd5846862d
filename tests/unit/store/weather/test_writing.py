from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np

from bedwright.model.weather import WeatherRecord
from bedwright.store.weather import read_weather, write_weather_csv
from bedwright.store.weather.quantities import QUANTITIES


def test_a_real_record_comes_back_bit_for_bit(champion_record: WeatherRecord, tmp_path: Path) -> None:
    path = tmp_path / "record.csv"
    write_weather_csv(champion_record, path)
    back = read_weather(path)
    assert back.station == champion_record.station
    assert back.provenance == champion_record.provenance
    assert not back.invented
    assert (back.dates == champion_record.dates).all()
    for quantity in QUANTITIES:
        written, read = getattr(champion_record, quantity), getattr(back, quantity)
        assert (written is None) == (read is None)
        if written is not None:
            np.testing.assert_array_equal(read, written)


def test_every_quantity_and_gap_comes_back(champion_record: WeatherRecord, tmp_path: Path) -> None:
    days = slice(0, 730)
    tmin_c = champion_record.tmin_c[days].copy()
    tmin_c[5] = np.nan
    full = WeatherRecord(
        station="Nowhere",
        provenance="made\nfor a test",
        invented=True,
        dates=champion_record.dates[days],
        tmin_c=tmin_c,
        tmax_c=champion_record.tmax_c[days],
        rain_mm=champion_record.rain_mm[days],
        wind_m_s=np.full(730, 1 / 3),
        wind_height_m=2.5,
        rh_mean_pct=np.full(730, 71.0),
        rh_max_pct=np.full(730, 98.0),
        rh_min_pct=np.full(730, 40.0),
        radiation_mj_m2=np.full(730, 12.25),
        sunshine_h=np.full(730, 4.5),
        ground_tmin_c=tmin_c - 2,
    )
    path = tmp_path / "record.csv"
    write_weather_csv(full, path)
    back = read_weather(path)
    assert back.invented
    assert back.provenance == "made for a test"
    assert back.wind_height_m == 2.5
    for quantity in QUANTITIES:
        np.testing.assert_array_equal(getattr(back, quantity), getattr(full, quantity))


def test_a_written_file_opens_with_its_origin(champion_record: WeatherRecord, tmp_path: Path) -> None:
    path = tmp_path / "record.csv"
    write_weather_csv(replace(champion_record, invented=True, provenance="dice"), path)
    assert path.read_text().splitlines()[:3] == [
        "# invented: dice",
        "# station: Champion, Nebraska",
        "date,tmin_c,tmax_c,rain_mm",
    ]
