"""Which of several facts is used: one small case for each sentence of the rule."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bedwright.catalogue.choice import Candidate, chosen

PLAIN = Candidate(10, 10, "", "read", 2, "B")


def test_a_row_marked_to_be_used_wins_over_a_better_standing() -> None:
    assert chosen([PLAIN, replace(PLAIN, standing="memory", decision="use")]) == 1


def test_a_row_marked_to_be_left_loses_to_a_weaker_one() -> None:
    assert chosen([replace(PLAIN, decision="leave"), replace(PLAIN, standing="memory")]) == 1


def test_nothing_is_used_where_every_row_is_left() -> None:
    assert chosen([replace(PLAIN, decision="leave")]) is None


def test_standings_rank_read_derived_weak_practice_memory() -> None:
    order = [replace(PLAIN, standing=s) for s in ("memory", "practice", "weak", "derived", "read")]
    while order:
        assert chosen(order) == len(order) - 1
        order.pop()


def test_a_weak_row_of_a_better_source_does_not_beat_a_read_one() -> None:
    assert chosen([replace(PLAIN, standing="weak", source_rank=1), PLAIN]) == 1


def test_among_equals_the_better_rank_of_source_wins() -> None:
    assert chosen([PLAIN, replace(PLAIN, source_rank=1)]) == 1


def test_the_middle_figure_wins_and_of_two_the_lower() -> None:
    rows = [replace(PLAIN, low=n, high=n) for n in (30, 10, 20)]
    assert chosen(rows) == 2
    assert chosen(rows[:2]) == 1


def test_ranges_are_compared_by_their_middle() -> None:
    assert chosen([replace(PLAIN, low=0, high=50), replace(PLAIN, low=10, high=20)]) == 1


def test_the_commonest_word_wins_then_the_first_source() -> None:
    rows = [
        replace(PLAIN, low=None, high=None, text=word, source_id=source)
        for word, source in (("hardy", "A"), ("tender", "C"), ("tender", "D"))
    ]
    assert chosen(rows) == 1
    assert chosen(rows[:2]) == 0


def test_the_order_of_rows_does_not_matter_between_sources() -> None:
    rows = [replace(PLAIN, source_id="Z"), replace(PLAIN, source_id="A")]
    assert rows[chosen(rows) or 0].source_id == "A"
    rows.reverse()
    assert rows[chosen(rows) or 0].source_id == "A"


def test_choosing_from_nothing_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(ValueError, match="nothing to choose from"):
        chosen([])
