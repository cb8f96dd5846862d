from __future__ import annotations

from dataclasses import replace

from bedwright.engine.timing import calendar_for_site
from tests.unit.engine.timing.case import (
    EQUATOR_DEG,
    quick_leaf,
    steady_years,
    table,
    tender_fruit,
    wave_years,
)


def test_every_crop_gets_a_row_in_order() -> None:
    crops = {"tender fruit": tender_fruit(), "quick leaf": quick_leaf()}
    rows = calendar_for_site(crops, wave_years(mean_c=13.0), latitude_deg=EQUATOR_DEG)
    assert [row.crop for row in rows] == ["tender fruit", "quick leaf"]
    for row in rows:
        assert row.no_window_reason == ""
        for window in row.windows:
            assert window.opens <= window.best.in_ground <= window.closes


def test_spring_and_autumn_windows_stand_apart() -> None:
    bolts = replace(quick_leaf(), heat_limit_c=24.0)
    row = calendar_for_site({"leaf": bolts}, wave_years(mean_c=13.0, swing_c=10.0), latitude_deg=EQUATOR_DEG)[
        0
    ]
    assert len(row.windows) == 2
    assert row.windows[0].closes < row.windows[1].opens


def test_a_crop_that_cannot_be_grown_carries_the_reason() -> None:
    row = calendar_for_site({"f": tender_fruit()}, steady_years(mean_c=10.5), latitude_deg=EQUATOR_DEG)[0]
    assert row.windows == ()
    assert row.no_window_reason


def test_the_southern_calendar_mirrors_the_northern() -> None:
    # The same weather, told from a season that begins half a year later south of the equator.
    north = wave_years(mean_c=12.0, n_years=3)
    later = replace(north, season_start=north.season_start.replace(month=7, day=2))
    rows = calendar_for_site({"f": tender_fruit()}, north, latitude_deg=45.0)
    mirrored = calendar_for_site({"f": tender_fruit()}, later, latitude_deg=-45.0)
    first, second = rows[0].windows[0], mirrored[0].windows[0]
    assert abs((first.opens - north.season_start).days - (second.opens - later.season_start).days) <= 1
    assert abs((first.closes - north.season_start).days - (second.closes - later.season_start).days) <= 3


def test_a_crop_that_fails_by_its_usual_way_is_shown_by_the_next_that_works() -> None:
    slow_to_come_up = replace(tender_fruit(), ways=("sow", "raise"), germination=table((10.0, 59.0)))
    row = calendar_for_site({"f": slow_to_come_up}, wave_years(mean_c=10.5), latitude_deg=EQUATOR_DEG)[0]
    assert row.windows
    assert row.way == "raise"
