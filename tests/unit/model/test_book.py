"""What follows from the records of a garden book by plain rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import get_args

import pytest

from bedwright.engine.work.rates import RATES
from bedwright.model.book import (
    BOOK_LEAD_RULE,
    JOB_UNITS,
    WEEKLY_JOBS,
    Job,
    PackOffer,
    Propagation,
    StatedLeadRule,
    Supplier,
)
from bedwright.model.safety import LEAD_RULES, lead_rule_on
from bedwright.model.supplies import RaisingSpace, SupplierOffer
from tests.builders import tiny_book


def test_the_jobs_of_a_book_are_those_of_the_labour_table() -> None:
    assert set(get_args(Job)) == set(JOB_UNITS) == set(RATES)
    assert {job: RATES[job].per for job in JOB_UNITS} == JOB_UNITS
    assert {name for name, rate in RATES.items() if rate.weekly} == WEEKLY_JOBS


@pytest.mark.parametrize(
    ("room", "space"),
    [
        (Propagation(bench_m2=4.0, lamp_m2=1.5, n_trays=20), RaisingSpace(1.5, 20)),
        (Propagation(bench_m2=4.0), RaisingSpace(4.0, None)),
        (Propagation(n_trays=6), RaisingSpace(None, 6)),
    ],
)
def test_the_lesser_of_bench_and_lamps_limits_the_trays(room: Propagation, space: RaisingSpace) -> None:
    assert room.space == space


def test_offers_are_flat_and_materials_by_mass_are_in_kilograms() -> None:
    packs = (
        PackOffer("carrot", True, 5.0, "g", 2.4, "Amber Finger"),
        PackOffer("bone meal", False, 2500.0, "g", 7.0),
    )
    book = replace(tiny_book(), suppliers=(Supplier("Fen Seeds", "GBP", packs, 10),))
    assert book.offers == (
        SupplierOffer("carrot", "Amber Finger", "Fen Seeds", 5.0, "g", 2.4, "GBP", 10),
        SupplierOffer("bone meal", "", "Fen Seeds", 2.5, "kg", 7.0, "GBP", 10),
    )


def test_a_rule_on_lead_entered_in_the_book_goes_before_older_ones() -> None:
    stated = StatedLeadRule("Fen Borough", date(2026, 5, 4), 80.0, "Leaflet 12, read at the town hall")
    found = lead_rule_on(date(2027, 1, 1), (*LEAD_RULES, stated.rule))
    assert found == stated.rule
    assert (found.screening_mg_kg, found.source_id) == (80.0, BOOK_LEAD_RULE)
    assert stated.source.id == BOOK_LEAD_RULE
    assert "Leaflet 12" in stated.source.citation


def test_beds_where_children_work_are_named() -> None:
    book = tiny_book()
    first, second = book.beds
    assert replace(book, beds=(first, replace(second, children=True))).children_in == ("B",)
