"""A changed book woven into an old text always says exactly the changed book."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings

from bedwright.apps.web.gardens.reading import book_of
from bedwright.model.book import GardenBook
from bedwright.model.problem import BadDocumentError
from bedwright.store.book import write_book
from bedwright.store.weaving import weave
from tests.strategies import books


@given(books(), books())
@settings(max_examples=60)
def test_any_book_can_be_woven_into_the_text_of_any_other(old: GardenBook, new: GardenBook) -> None:
    old_text = write_book(old)
    try:
        read, wanted = book_of(old_text), book_of(write_book(new))
    except BadDocumentError:
        # Drawn for a small catalogue; the whole one knows more of some crops.
        assume(False)
        pytest.fail("not reached")
    assert book_of(weave(old_text, wanted, book_of)) == wanted
    assert weave(old_text, read, book_of) == old_text
