"""Germination of lots and of new seed."""

import pytest

from bedwright.engine.supplies.germination import wilson_interval_pct


def test_four_of_ten_leaves_the_true_share_between_17_and_69_percent() -> None:
    # Wilson 1927; recomputed by hand: centre 0.4277, half width 0.2597.
    low_pct, high_pct = wilson_interval_pct(4, 10)
    assert low_pct == pytest.approx(16.8, abs=0.05)
    assert high_pct == pytest.approx(68.7, abs=0.05)


def test_a_test_in_which_nothing_came_up_still_allows_a_few() -> None:
    low_pct, high_pct = wilson_interval_pct(0, 10)
    assert low_pct == 0
    assert 20 < high_pct < 35


@pytest.mark.parametrize(("n_sprouted", "n_sown"), [(11, 10), (-1, 10), (0, 0)])
def test_impossible_counts_are_refused(n_sprouted: int, n_sown: int) -> None:
    with pytest.raises(ValueError, match="cannot have"):
        wilson_interval_pct(n_sprouted, n_sown)
