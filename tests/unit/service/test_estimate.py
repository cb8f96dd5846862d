from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bedwright.catalogue import crop_name, load_catalogue
from bedwright.model.book import Amount, GardenBook
from bedwright.model.crop import Catalogue
from bedwright.model.estimate import SeasonEstimate
from bedwright.service.estimate import Estimator
from bedwright.store.book import read_book_text

TODAY = date(2026, 12, 1)
BOOK = """\
site: {name: Small garden, latitude_deg: 52, longitude_deg: 0, elevation_m: 20, time_zone: Europe/London}
season: {start: 2027-01-01}
weather: {stated_frost: {last_spring: 05-05, first_autumn: 10-10}}
beds:
  - {code: A, rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}, texture: loam}
  - {code: B, rectangle: {length_m: 2, width_m: 1, east_m: 3, north_m: 0, bearing_deg: 0}, texture: loam}
wishes:
  - {crop: carrot, row_m: 4}
  - {crop: lettuce, plants: 8}
"""


@pytest.fixture(scope="module")
def catalogue() -> Catalogue:
    return load_catalogue()


def book_of(text: str, catalogue: Catalogue) -> GardenBook:
    return read_book_text(
        text, "book.yaml", catalogue, crop_named=lambda written: crop_name(written, catalogue)
    )


def estimate(text: str, catalogue: Catalogue) -> SeasonEstimate:
    return Estimator(None, catalogue).estimate(book_of(text, catalogue), today=TODAY)


def test_a_small_garden_with_few_wishes_has_ground_and_dates_enough(catalogue: Catalogue) -> None:
    found = estimate(BOOK, catalogue)
    assert found.ground_m2 == pytest.approx(4 * 1.2 + 2 * 1)
    assert found.short == ()
    assert found.dateless == ()
    assert [wish.most_plants for wish in found.wishes] == [wish.wanted_plants for wish in found.wishes]
    assert found.fullest is not None
    assert 0 < found.fullest.ground_m2 < found.ground_m2


def test_plants_beyond_the_ground_are_counted(catalogue: Catalogue) -> None:
    found = estimate(BOOK.replace("plants: 8", "plants: 400"), catalogue)
    (short,) = found.short
    assert short.crop == "lettuce"
    lettuce = catalogue.crops["lettuce"]
    # No more than all the ground cut without loss, and not far from it: the dates may spread.
    most = found.ground_m2 / (lettuce.in_row_spacing_m * lettuce.row_spacing_m)
    assert 0.5 * most < short.most_plants < 400
    assert found.fullest is not None
    assert found.fullest.ground_m2 <= found.ground_m2 * (1 + 1e-6)


def test_a_wish_kept_to_one_bed_gets_no_ground_elsewhere(catalogue: Catalogue) -> None:
    free = estimate(BOOK.replace("plants: 8", "plants: 100"), catalogue)
    kept = estimate(BOOK.replace("plants: 8", "plants: 100, beds: {only: [B]}"), catalogue)
    assert kept.wishes[1].most_plants < free.wishes[1].most_plants


def test_hours_are_said_to_be_short_only_where_people_are_named_and_too_few(catalogue: Catalogue) -> None:
    assert not estimate(BOOK, catalogue).people_named
    wide = BOOK.replace("plants: 8", "plants: 100")
    few = wide + "people:\n  - {name: Wren, hours_per_week: 0.1, start: 2027-01-01, end: 2027-12-31}\n"
    many = few.replace("0.1", "40")
    found = estimate(few, catalogue)
    assert found.people_named
    assert found.short_weeks
    assert all(week.short_h >= 0.5 for week in found.short_weeks)
    assert estimate(many, catalogue).short_weeks == ()


def test_a_wish_for_which_no_date_does_carries_the_reason(catalogue: Catalogue) -> None:
    found = estimate(BOOK + "  - {crop: parsnip, plants: 5, harvest: {to: 2027-01-20}}\n", catalogue)
    (wish,) = found.dateless
    assert wish.crop == "parsnip"
    assert wish.no_window_reason
    assert wish.most_plants == 0


def test_a_book_without_wishes_is_no_fault(catalogue: Catalogue) -> None:
    head, _, _ = BOOK.partition("wishes:")
    found = estimate(head + "wishes: []\n", catalogue)
    assert (found.wishes, found.weeks, found.fullest, found.harvest_kg) == ((), (), None, 0)


def test_an_estimator_gives_for_a_changed_wish_what_a_new_one_gives(catalogue: Catalogue) -> None:
    book = book_of(BOOK, catalogue)
    kept = Estimator(None, catalogue)
    kept.estimate(book, today=TODAY)
    carrot, lettuce = book.wishes
    changed = replace(book, wishes=(carrot, replace(lettuce, amount=Amount(30, "plants"))))
    assert kept.estimate(changed, today=TODAY) == Estimator(None, catalogue).estimate(changed, today=TODAY)
