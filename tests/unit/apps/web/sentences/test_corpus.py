"""Everything that plans, moves, estimates and faulty books say is German on a German page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from importlib.resources import files

import pytest
from django.utils import translation

from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.sentences import in_language, part_in_language, pieces_of, value_in_language
from bedwright.apps.web.sentences.quantities import WORDS, words_of
from bedwright.catalogue import load_catalogue
from bedwright.catalogue.sheet import fact_value
from bedwright.engine.pipeline import plan_again, plan_season, ready_to_move
from bedwright.engine.pipeline.ground import groundwork_of
from bedwright.engine.placement.changes import MoveRefusedError, move_planting
from bedwright.engine.work.traits import CAUTIONS
from bedwright.model.book import UnitSystem
from bedwright.model.changes import (
    BedClosed,
    BedLost,
    Event,
    HoursChanged,
    NotDelivered,
    PlantingFailed,
    PlantingLate,
)
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.season import SeasonPlan
from bedwright.service.compare import compare
from bedwright.store.book import read_book_text
from tests.demo import demo_loaded, demo_plan
from tests.unit.apps.web.sentences.gardens import FROST_DATES, NARROW, SCARCE, SITE, WEATHER

TODAY = date(2027, 1, 2)
UNITS: tuple[UnitSystem, ...] = ("metric", "us")
DEMO_TEXT = (files("bedwright.service") / "demo" / "garden-book.yaml").read_text(encoding="utf-8")


@pytest.fixture(autouse=True)
def german() -> Iterator[None]:
    with translation.override("de"):
        yield


def still_english(texts: Iterable[str]) -> list[str]:
    """Sentences that a German page would mark as English."""
    return sorted({piece.text for text in texts for piece in pieces_of(text) if piece.english})


def sentences_of(plan: SeasonPlan) -> Iterator[str]:
    """What the pages show of a plan."""
    yield from (*plan.warnings, *plan.happened)
    for planting in plan.plantings:
        yield from (reason.text for reason in planting.reasons)
        yield from (other.text for other in planting.alternatives)
        for origin in planting.origins:
            yield origin.rule
        yield from (cause for cause, _share in planting.dates.failures)
    for short in plan.shortfalls:
        yield from (short.why, *short.would_help)
    for change in plan.changes:
        yield from (change.text, change.why)
    if plan.care is not None:
        yield from (caution.text for caution in plan.care.safety.cautions)
    yield from (task.details for task in plan.tasks if task.kind == "side dress")


@cache
def scarce_plan() -> SeasonPlan:
    loaded = demo_loaded()
    book = book_of(SITE.format(units="metric") + WEATHER + SCARCE)
    return plan_season(book, loaded.record, loaded.catalogue, seed=1, today=TODAY)


def test_the_demonstration_plan_is_german() -> None:
    assert still_english(sentences_of(demo_plan())) == []


def test_every_number_of_a_planting_has_a_name_in_plain_words() -> None:
    quantities = {origin.quantity for each in demo_plan().plantings for origin in each.origins}
    assert quantities == set(WORDS)
    with translation.override("en"):
        assert {name for name in map(words_of, quantities) if "_" in name} == set()


def test_a_plan_short_of_hours_water_and_room_is_german() -> None:
    assert scarce_plan().shortfalls
    assert still_english(sentences_of(scarce_plan())) == []


def test_a_plan_without_weather_in_poor_beds_and_us_units_is_german() -> None:
    book = book_of(SITE.format(units="us") + FROST_DATES + NARROW)
    plan = plan_season(book, None, load_catalogue(), seed=1, today=TODAY)
    assert plan.shortfalls
    assert still_english(sentences_of(plan)) == []


def test_why_a_wish_has_no_date_is_german() -> None:
    loaded = demo_loaded()
    texts = [SITE.format(units="metric") + weather + NARROW for weather in (WEATHER, FROST_DATES)]
    reasons = []
    for text in texts:
        for start in ("2027-01-01", "2027-08-15"):
            book = replace(book_of(text), season_start=date.fromisoformat(start))
            requests = groundwork_of(book, loaded.record, loaded.catalogue).requests
            reasons += [one.no_window_reason for one in requests if not one.choices]
    assert len(set(reasons)) >= 4
    assert still_english(reasons) == []


def test_moves_by_hand_are_german_with_their_refusals() -> None:
    loaded, plan = demo_loaded(), scarce_plan()
    ready = ready_to_move(plan, loaded.record, loaded.catalogue, today=TODAY)
    told = []
    for planting in plan.plantings:
        for bed, along_m, days in (
            ("A", 0.0, 0),
            ("B", 2.5, 14),
            ("A", 5.9, 0),
            ("B", 0.0, 200),
            ("Q", 0, 0),
        ):
            day = planting.dates.in_ground + timedelta(days=days)
            try:
                moved = move_planting(ready.table, planting.code, bed, along_m, day)
            except MoveRefusedError as error:
                told.append(str(error))
            else:
                told += [moved.text, *(change.text for change in moved.changes)]
    assert still_english(told) == []


def test_a_plan_made_again_is_german_with_what_happened_and_what_differs() -> None:
    loaded, plan = demo_loaded(), scarce_plan()
    today = date(2027, 4, 25)
    standing = [one.code for one in plan.plantings if one.dates.in_ground < today <= one.dates.clear_by]
    begun = {one.code: one.dates.sow_under_cover or one.dates.in_ground for one in plan.plantings}
    coming = [code for code, day in begun.items() if day >= today]
    events: list[Event] = [HoursChanged(0.4), BedClosed("B")]
    events += [
        *(PlantingFailed(code) for code in standing[:1]),
        *(PlantingLate(code, 2) for code in standing[1:2]),
    ]
    events += [NotDelivered(code) for code in coming[:1]]
    events += [NotDelivered(code, date(2027, 8, 1)) for code in coming[1:2]]
    again = plan_again(plan, plan.book, loaded.record, loaded.catalogue, events, today=today)
    lost = plan_again(plan, plan.book, loaded.record, loaded.catalogue, [BedLost("A")], today=today)
    told = [*sentences_of(again), *sentences_of(lost)]
    for newer, older in ((again, plan), (lost, plan), (plan, lost)):
        found = compare(older, newer)
        told += [*found.met_now, *found.short_now]
        told += [text for change in found.changes for text in (change.text, change.why)]
    assert still_english(told) == []


def test_cautions_of_jobs_are_german() -> None:
    assert still_english(caution.text for caution in CAUTIONS.values()) == []


def test_what_is_known_of_neighbours_and_facts_is_german() -> None:
    catalogue = load_catalogue()
    told = [words for one in catalogue.neighbours for words in (one.effect, one.mechanism, one.note)]
    told += [fact.reason for crop in catalogue.crops.values() for fact in crop.facts]
    assert still_english(told) == []


def test_values_of_facts_are_german_in_either_units() -> None:
    shown = {
        fact_value(fact, units)
        for crop in load_catalogue().crops.values()
        for fact in crop.facts
        for units in UNITS
        # A botanical family has its Latin name in every language.
        if fact.quantity != "botanical_family"
    }
    assert sorted(value for value in shown if part_in_language("fact", value) is None) == []


SLIPS = (
    "",
    "null",
    "abc",
    "-7",
    "7.5",
    "99999999",
    "2027-02-30",
    "05-10",
    "[1, 2]",
    "{a: 1}",
    '"7,5 m"',
    "true",
)
"""Written in place of each value in turn."""
SPOILT_TEXTS = (
    "",
    "site: [1",
    "site: {name: 'x",
    "site:\n\tname: x",
    "a: b: c",
    "site: *gone",
    "site: !tag x",
    "site: 1\nsite: 2",
    "site: 1\n---\nsite: 2",
    "- a\n- b",
    "? [a]\n: b",
    "site: @x",
    "site: &a {<<: *a}",
    "x y z",
    "[" * 40,
)


def problems_of(text: str) -> Sequence[Problem]:
    try:
        read_book_text(text, "book.yaml", load_catalogue())
    except BadDocumentError as error:
        return error.problems
    return ()


def spoilt_books() -> Iterator[str]:
    """The demonstration book with one slip in every value, a few of them in each copy."""
    lines = DEMO_TEXT.splitlines()
    values = [
        number for number, line in enumerate(lines) if ": " in line and not line.lstrip().startswith("#")
    ]
    for kind, slip in enumerate(SLIPS):
        spoilt = list(lines)
        for number in values[kind % 3 :: 3]:
            before, _colon, _value = spoilt[number].rpartition(": ")
            closing = "}" * (
                spoilt[number].count("{") - before.count("{") - slip.count("{") + slip.count("}")
            )
            ends = "}" if spoilt[number].rstrip().endswith("}") else ""
            spoilt[number] = f"{before}: {slip}{closing or ends}"
        yield "\n".join(spoilt)


def test_problems_of_books_are_german() -> None:
    problems = [problem for text in (*SPOILT_TEXTS, *spoilt_books()) for problem in problems_of(text)]
    assert len({problem.expected for problem in problems}) > 40
    assert still_english(words for one in problems for words in (one.expected, one.hint)) == []


def test_what_a_problem_got_is_german_where_the_words_are_ours() -> None:
    assert value_in_language("keys with values") == "Schlüssel mit Werten"
    assert value_in_language("a list of 3") == "eine Liste von 3"
    assert value_in_language("the text") == "der Text"
    assert value_in_language("north") == "north"
    assert value_in_language('"a list of my own"') == '"a list of my own"'


def test_a_sentence_of_two_kinds_is_put_together_in_german() -> None:
    english = (
        "2 of 9 plants (1.5 m of row) found no ground 3 May to 7 June 2027, nor on the other dates that "
        "would do. Not allowed: bed A: ruled out in your wish."
    )
    assert in_language(english) == (
        "2 von 9 Pflanzen (1,5 m Reihe) fanden vom 3. Mai bis 7. Juni 2027 keinen Boden, auch nicht an den "
        "anderen Terminen, die passen würden. Nicht erlaubt: Beet A: in Ihrem Wunsch ausgeschlossen."
    )
