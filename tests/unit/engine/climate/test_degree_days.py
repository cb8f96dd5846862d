from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.climate import DegreeDayMethod, degree_days


@pytest.mark.parametrize("method", ["mean", "each limit", "four cases"])
def test_a_day_wholly_above_the_base_counts_its_mean(method: DegreeDayMethod) -> None:
    assert degree_days(np.array([12.0]), np.array([20.0]), base_c=10, method=method)[0] == pytest.approx(6)


@pytest.mark.parametrize("method", ["mean", "each limit", "four cases"])
def test_a_day_wholly_below_the_base_counts_nothing(method: DegreeDayMethod) -> None:
    assert degree_days(np.array([-3.0]), np.array([9.0]), base_c=10, method=method)[0] == 0


def test_shape_is_kept() -> None:
    tmin_c = np.zeros((3, 5))
    assert degree_days(tmin_c, tmin_c + 30, base_c=10).shape == (3, 5)


def test_an_upper_limit_not_above_the_base_is_refused() -> None:
    with pytest.raises(ValueError, match="not above the base"):
        degree_days(np.array([1.0]), np.array([2.0]), base_c=10, upper_c=10)


def test_four_cases_have_no_upper_limit() -> None:
    with pytest.raises(ValueError, match="without an upper limit"):
        degree_days(np.array([1.0]), np.array([2.0]), base_c=10, upper_c=30, method="four cases")
