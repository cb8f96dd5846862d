"""A book written and read again is the same book, whatever is in it."""

from __future__ import annotations

import jsonschema
from hypothesis import HealthCheck, given, settings

from bedwright.model.book import GardenBook
from bedwright.store.book import json_schema, read_book_text, write_book
from tests.builders import tiny_catalogue
from tests.plain_yaml import plain_yaml
from tests.strategies import books

CATALOGUE = tiny_catalogue()
SCHEMA = jsonschema.Draft202012Validator(json_schema())
SLOW_TO_DRAW = (HealthCheck.too_slow, HealthCheck.data_too_large)


@settings(max_examples=60, suppress_health_check=SLOW_TO_DRAW)
@given(book=books())
def test_a_book_written_and_read_again_is_equal(book: GardenBook) -> None:
    assert read_book_text(write_book(book), "book.yaml", CATALOGUE) == book


@settings(max_examples=40, suppress_health_check=SLOW_TO_DRAW)
@given(book=books())
def test_a_written_book_fits_the_json_schema(book: GardenBook) -> None:
    document = plain_yaml(write_book(book))
    errors = [error.message for error in SCHEMA.iter_errors(document)]
    assert errors == []
