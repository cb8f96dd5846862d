"""Forms made from the schema: what is shown comes back, what is wrong finds its box."""

from __future__ import annotations

from typing import Any

import pytest
from django.http import QueryDict
from hypothesis import Phase, assume, given, settings

from bedwright.apps.web.gardens.document import book_of_document
from bedwright.apps.web.gardens.entry.boxes import Box, boxes_of, every_box, place_problems
from bedwright.apps.web.gardens.entry.posted import entry_of
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.gardens.sections import ALL_SECTIONS, Section
from bedwright.apps.web.gardens.surroundings import surroundings_of
from bedwright.model.book import GardenBook, UnitSystem
from bedwright.model.problem import BadDocumentError
from bedwright.service.demo_garden import demo_book
from bedwright.store.book import write_book
from bedwright.store.book.document import to_document
from bedwright.store.book.kinds import Number
from tests.strategies import books

_PHASES = (Phase.explicit, Phase.reuse, Phase.generate)
"""Without shrinking, which takes minutes on whole books and says little more."""


@pytest.fixture(scope="module")
def demo() -> GardenBook:
    with demo_book() as path:
        return book_of(path.read_text(encoding="utf-8"))


def as_posted(boxes: list[Box]) -> QueryDict:
    """What a browser sends for boxes that nobody touched."""
    data = QueryDict(mutable=True)
    for box in every_box(boxes):
        if box.shape in {"amount", "one_of"}:
            data[box.choice_name] = box.choice
        if box.shape == "ticks":
            data.setlist(box.name, list(box.values))
        elif box.shape == "flag":
            if box.value:
                data[box.name] = box.value
        elif box.shape not in {"record", "rows", "one_of"}:
            data[box.name] = box.value.replace("\n", "\r\n")
    return data


def entries_of(section: Section, document: dict[str, Any]) -> list[dict[str, Any]]:
    value = section.value_in(document)
    return [dict(entry) for entry in value] if section.is_list else [dict(value)]


def sent_back(book: GardenBook, units: UnitSystem, language: str = "en") -> dict[str, Any]:
    """The book's document after every form was opened and kept without a change."""
    document = to_document(book)
    around = surroundings_of(book)
    around = type(around)(units, around.beds, around.choices, around.suggestions)
    for section in ALL_SECTIONS:
        entries = []
        for entry in entries_of(section, document):
            boxes = boxes_of(section.record, entry, around, skip=section.skip)
            kept = {key: entry[key] for key in section.skip if key in entry}
            entries.append({**entry_of(boxes, as_posted(boxes), language), **kept})
        document = section.put_into(document, tuple(entries) if section.is_list else entries[0])
    return document


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("language", ["en", "de"])
def test_keeping_every_form_untouched_changes_nothing(
    demo: GardenBook, units: UnitSystem, language: str
) -> None:
    assert book_of_document(sent_back(demo, units, language)) == demo


@given(books())
@settings(max_examples=25, phases=_PHASES)
def test_any_book_passes_through_its_forms_unchanged_even_in_feet(drawn: GardenBook) -> None:
    try:
        book = book_of(write_book(drawn))
    except BadDocumentError:
        assume(False)
        raise
    assert book_of_document(sent_back(book, "us")) == book


def wish_problems(demo: GardenBook, entry: dict[str, Any]) -> tuple[list[Box], list[str]]:
    """Boxes of a new wish with its problems in them, and the problems that found no box."""
    document = to_document(demo)
    section = next(each for each in ALL_SECTIONS if each.slug == "wishes")
    wishes = section.value_in(document)
    boxes = boxes_of(section.record, entry, surroundings_of(demo))
    with pytest.raises(BadDocumentError) as caught:
        book_of_document(section.put_into(document, (*wishes, entry)))
    elsewhere = place_problems(boxes, caught.value.problems, f"wishes[{len(wishes) + 1}]")
    return boxes, [str(problem) for problem in elsewhere]


def box_named(boxes: list[Box], name: str) -> Box:
    return next(box for box in every_box(boxes) if box.name == name)


def test_a_problem_stands_in_its_box_in_the_words_of_the_command_line(demo: GardenBook) -> None:
    boxes, elsewhere = wish_problems(
        demo, {"crop": "carot", "row_m": "1,5", "variety": {"name": "X", "height_cm": 9000}, "priority": 7}
    )
    assert elsewhere == []
    (crop,) = box_named(boxes, "crop").problems
    assert "carrot" in crop.hint
    amount = next(box for box in boxes if box.shape == "amount")
    assert amount.problems[0].hint == "Write a point in place of the comma."
    assert box_named(boxes, "variety.height_cm").problems[0].expected.startswith("a number, 1 to 500")
    assert box_named(boxes, "priority").problems


def test_a_missing_amount_is_told_at_the_amount(demo: GardenBook) -> None:
    boxes, elsewhere = wish_problems(demo, {"crop": "carrot"})
    assert elsewhere == []
    assert next(box for box in boxes if box.shape == "amount").problems


def test_a_number_with_a_decimal_comma_is_read_on_a_german_page(demo: GardenBook) -> None:
    section = next(each for each in ALL_SECTIONS if each.slug == "wishes")
    boxes = boxes_of(section.record, {}, surroundings_of(demo))
    amount = next(box for box in boxes if box.shape == "amount")
    data = QueryDict(mutable=True)
    data["crop"], data[amount.name], data[amount.choice_name] = "carrot", "2,5", "row_m"
    assert entry_of(boxes, data, "de") == {"crop": "carrot", "row_m": 2.5}
    assert entry_of(boxes, data, "en")["row_m"] != 2.5


def test_the_bounds_shown_are_those_of_the_schema(demo: GardenBook) -> None:
    section = next(each for each in ALL_SECTIONS if each.slug == "wishes")
    priority = next(each for each in section.record.fields if each.key == "priority")
    assert isinstance(priority.kind, Number)
    box = box_named(boxes_of(section.record, {}, surroundings_of(demo)), "priority")
    assert "1 to 5" in box.help
