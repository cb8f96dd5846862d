"""Faults of history, wishes, people and seed: names, orders of dates, repeats."""

from __future__ import annotations

import pytest

from tests.unit.store.book.case import Case

WISH = "  - crop: lettuce\n    plants: 12\n"


def listed(key: str, *entries: str) -> str:
    """A list of records put before the wishes."""
    return f"{key}: [{', '.join('{' + entry + '}' for entry in entries)}]\nwishes:\n"


CASES = (
    Case(
        "history of an unknown bed",
        "{bed: A, year: 2026",
        "{bed: C, year: 2026",
        "{bed: B, year: 2026",
        "history[1].bed",
        "the code of a bed",
    ),
    Case(
        "history of the future",
        "{bed: A, year: 2026",
        "{bed: A, year: 2027",
        "{bed: A, year: 1900",
        "history[1].year",
        "before 2027-01-01",
    ),
    Case(
        "an unknown crop in history",
        "crops: [onion]",
        "crops: [onoin]",
        "crops: [Onion]",
        "history[1].crops[1]",
        "Is onion meant?",
    ),
    Case(
        "an unknown family",
        "[Asteraceae]",
        "[Asteracea]",
        "[asteraceae]",
        "history[2].families[1]",
        "Is Asteraceae meant?",
    ),
    Case(
        "a family by no name of its own",
        "[Asteraceae]",
        "[Bellflowers]",
        "[asteraceae]",
        "history[2].families[1]",
        "The families are A",
    ),
    Case(
        "a list where it must be said which",
        "beds: {only: [B]}",
        "beds: [B]",
        "beds: {only: [B]}",
        "wishes[2].beds",
        "Say which list it is: write `only: [A, B]` below it.",
    ),
    Case(
        "a decimal comma within braces",
        "width_m: 1.2, east_m: 0",
        "width_m: 1,2, east_m: 0",
        "width_m: 1.2, east_m: 0",
        "beds[1].rectangle.2",
        "write a point in place of a decimal comma",
    ),
    Case(
        "a wish for an unknown bed",
        "{only: [B]}",
        "{only: [X]}",
        "{not: [A]}",
        "wishes[2].beds.only[1]",
        'got "X"; expected the code of a bed of this book. The beds are A, B.',
    ),
    Case(
        "a bed wanted and refused",
        "{only: [B]}",
        "{only: [B], not: [B]}",
        "{only: [B], not: [A]}",
        "wishes[2].beds.not[1]",
        "in `only` and in `not`",
    ),
    Case(
        "a bed named twice",
        "{only: [B]}",
        "{only: [B, B]}",
        "{only: [B, A]}",
        "wishes[2].beds.only[2]",
        "each entry once",
    ),
    Case(
        "an unknown crop",
        "crop: carrot",
        "crop: carott",
        "crop: CARROT",
        "wishes[1].crop",
        "Is carrot meant?",
    ),
    Case(
        "harvest dates in the wrong order",
        WISH,
        WISH + "    harvest: {from: 2027-09-01, to: 2027-08-31}\n",
        WISH + "    harvest: {from: 2027-09-01, to: 2027-09-01}\n",
        "wishes[3].harvest.to",
        "may be swapped",
    ),
    Case(
        "harvest before the season",
        WISH,
        WISH + "    harvest: {to: 2026-12-31}\n",
        WISH + "    harvest: {to: 2027-01-01}\n",
        "wishes[3].harvest.to",
        "Check the year",
    ),
    Case(
        "harvest long after the season",
        WISH,
        WISH + "    harvest: {from: 2029-01-01}\n",
        WISH + "    harvest: {from: 2028-12-31}\n",
        "wishes[3].harvest.from",
        "Check the year",
    ),
    Case(
        "no sowing",
        "successions: 3",
        "successions: 0",
        "successions: 20",
        "wishes[3].successions",
        "1 to 20 sowings",
    ),
    Case(
        "a word that is not keep picking",
        "successions: 3",
        "successions: keep piking",
        "successions: keep picking",
        "wishes[3].successions",
        "Is keep picking meant?",
    ),
    Case(
        "a variety without a name",
        "{name: Wall Garland, height_cm: 170}",
        "{height_cm: 170}",
        "Wall Garland",
        "wishes[2].variety.name",
        "got nothing",
    ),
    Case(
        "a packet height in another unit",
        "height_cm: 170",
        "height_cm: 4.9",
        "height_cm: 5",
        "wishes[2].variety.height_cm",
        "The catalogue has 40 for tomato",
    ),
    Case(
        "a packet depth in inches",
        "height_cm: 170",
        "sow_depth_mm: 0.5",
        "sow_depth_in: 0.5",
        "wishes[2].variety.sow_depth_mm",
        "check the unit",
    ),
    Case(
        "a wish code used twice",
        WISH,
        WISH + "    code: x\n" + WISH + "    code: X\n",
        WISH + "    code: x\n" + WISH + "    code: y\n",
        "wishes[4].code",
        "a code of its own",
    ),
    Case(
        "a neighbour of itself",
        "wishes:\n",
        listed("neighbours", "together: [pea, pea]"),
        listed("neighbours", "together: [pea, carrot]"),
        "neighbours[1].together[2]",
        "each entry once",
    ),
    Case(
        "one neighbour alone",
        "wishes:\n",
        listed("neighbours", "apart: [pea]"),
        listed("neighbours", "apart: [pea, onion]"),
        "neighbours[1].apart",
        "expected 2 crops",
    ),
    Case(
        "a period backwards",
        "wishes:\n",
        "goals: {quiet_weeks: [{name: w, start: 2027-08-02, end: 2027-08-01}]}\nwishes:\n",
        "goals: {quiet_weeks: [{name: w, start: 2027-08-02, end: 2027-08-02}]}\nwishes:\n",
        "goals.quiet_weeks[1].end",
        "may be swapped",
    ),
    Case(
        "hours promised in the past",
        "wishes:\n",
        listed("people", "name: w, hours_per_week: 1, start: 2026-04-01, end: 2026-10-01"),
        listed("people", "name: w, hours_per_week: 1, start: 2026-04-01, end: 2027-10-01"),
        "people[1].end",
        "not before the season begins",
    ),
    Case(
        "hours backwards",
        "wishes:\n",
        listed("people", "name: w, hours_per_week: 1, start: 2027-08-02, end: 2027-08-01"),
        listed("people", "name: w, hours_per_week: 1, start: 2027-08-02, end: 2027-08-02"),
        "people[1].end",
        "may be swapped",
    ),
    Case(
        "neither paid nor unpaid",
        "wishes:\n",
        listed("people", "name: w, hours_per_week: 1, start: 2027-08-02, end: 2027-08-02, paid: 1"),
        listed("people", "name: w, hours_per_week: 1, start: 2027-08-02, end: 2027-08-02, paid: true"),
        "people[1].paid",
        "true or false",
    ),
    Case(
        "more sprouts than seeds",
        "wishes:\n",
        listed(
            "seed_drawer", "code: S, crop: pea, packed_year: 2026, germination_test: {sown: 10, sprouted: 11}"
        ),
        listed(
            "seed_drawer", "code: S, crop: pea, packed_year: 2026, germination_test: {sown: 10, sprouted: 10}"
        ),
        "seed_drawer[1].germination_test.sprouted",
        "at most the 10 seeds",
    ),
    Case(
        "seed from the future",
        "wishes:\n",
        listed("seed_drawer", "code: S, crop: pea, packed_year: 2028"),
        listed("seed_drawer", "code: S, crop: pea, packed_year: 2027"),
        "seed_drawer[1].packed_year",
        "2027 or earlier",
    ),
    Case("no beds", "wishes:\n", "beds: []\nwishes:\n", "wishes:\n", "beds", 'the key "beds" again'),
    Case(
        "a version from later",
        "site:\n",
        "garden_book: 2\nsite:\n",
        "garden_book: 1\nsite:\n",
        "garden_book",
        "expected 1.",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.fault)
def test_a_fault_is_told_where_it_is_and_its_twin_is_accepted(case: Case) -> None:
    case.check()
