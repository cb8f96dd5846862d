"""Hours by the square metre before places are known, from the labour table and the people of the book."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bedwright.engine.placement.weekly import Wanted, week_tables
from bedwright.engine.work import RATES, bed_hours
from bedwright.model.book import HelpingHands, StatedRate
from tests.unit.engine.placement.gardens import SPRING, book, choice, crop

SEASON = (SPRING - timedelta(days=100), SPRING + timedelta(days=400))
PEOPLE = (HelpingHands("gardener", 6.0, *SEASON, paid=True), HelpingHands("group", 7.0, *SEASON))


def test_a_book_without_people_has_no_hours() -> None:
    assert bed_hours(book(), None) is None


def test_minutes_of_the_table_become_hours_by_the_square_metre() -> None:
    found = bed_hours(book(people=PEOPLE), None)
    assert found is not None
    likely = {name: rate.likely_min for name, rate in RATES.items()}
    # 3.3 m of row sown, or 10 plants set out: the mean of the two.
    put_in = (likely["sow"] * 3.3 + likely["set out"] * 10) / 2
    assert found.plant_h_m2 == pytest.approx((likely["prepare"] + put_in) / 60)
    assert found.tend_h_m2 == pytest.approx((likely["weed"] + likely["water"]) / 60)
    assert found.clear_h_m2 == pytest.approx(likely["clear"] / 60)


def test_a_rate_stated_in_the_book_goes_before_the_table() -> None:
    garden = book(people=PEOPLE, labour_rates=(StatedRate("clear", 30.0),))
    found = bed_hours(garden, None)
    assert found is not None
    assert found.clear_h_m2 == pytest.approx(0.5)


def test_hours_of_volunteers_count_by_what_practised_people_would_do() -> None:
    found = bed_hours(book(people=PEOPLE), None)
    assert found is not None
    wanted = Wanted("carrot-1", crop(), "", "sow", 10, 40.0, (choice(),), 0)
    promised = week_tables([wanted], found).promised_h
    assert promised is not None
    # 6 h paid, and 7 h of volunteers who take 1.75 times as long.
    assert promised.max() == pytest.approx(6 + 7 / 1.75)
    same = week_tables([wanted], replace(found, volunteer_factor=1.0)).promised_h
    assert same is not None
    assert same.max() == pytest.approx(13)


def test_hours_are_promised_by_the_day() -> None:
    start = date(2027, 5, 5)  # a Wednesday
    hands = HelpingHands("gardener", 7.0, start, start + timedelta(days=60), paid=True)
    found = bed_hours(book(people=(hands,)), None)
    assert found is not None
    wanted = Wanted("carrot-1", crop(), "", "sow", 10, 40.0, (choice(),), 0)
    tables = week_tables([wanted], found)
    assert tables.promised_h is not None
    week = (start.toordinal() - tables.first_day) // 7
    assert tables.promised_h[week - 1 : week + 2].tolist() == pytest.approx([0, 5, 7])
