"""Clear nights after planting, and until when covers are kept ready."""

import numpy as np

from bedwright.engine.timing.ground_frost import cover_from


def nights(*last_days: int, n_days: int = 365) -> np.ndarray[tuple[int, int], np.dtype[np.bool_]]:
    table = np.zeros((len(last_days), n_days), dtype=np.bool_)
    for year, day in enumerate(last_days):
        if day >= 0:
            table[year, day] = True
    return table


def test_covers_stay_ready_until_nine_years_in_ten_are_past_their_last_ground_frost() -> None:
    share, until = cover_from(nights(100, 110, 120, 130, 140, 150, 160, 170, 180, 190), 105)
    assert share == 0.9
    assert until == 180


def test_no_cover_where_a_ground_frost_is_rare_by_then() -> None:
    share, until = cover_from(nights(100, 100, 100, 100, 100, 100, 100, 100, 100, 140), 120)
    assert share == 0.1
    assert until is None


def test_years_without_a_ground_frost_count_as_years() -> None:
    share, until = cover_from(nights(-1, -1, -1, -1, -1, -1, -1, -1, 130, 140), 100)
    assert share == 0.2
    assert until == 130


def test_the_spring_of_the_next_year_is_not_this_ones() -> None:
    share, until = cover_from(nights(300, 310, n_days=600), 100)
    assert (share, until) == (0.0, None)
