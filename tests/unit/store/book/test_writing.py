"""Books written for people to go on editing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bedwright.store.book import write_book
from tests.builders import tiny_bed, tiny_book
from tests.unit.store.book.case import read


def test_a_written_book_is_laid_out_as_a_person_would() -> None:
    text = write_book(tiny_book())
    assert "\nbeds:\n  - code: A\n    name: First bed\n    rectangle: {length_m: 4, width_m: 1.2," in text
    assert "\n\nhistory:\n  - {bed: A, year: 2026, crops: [onion]}\n" in text
    assert "    variety: {name: Wall Garland, height_cm: 170}\n" in text
    assert "  stated_frost: {last_spring: 05-10, first_autumn: 10-05}\n" in text


def test_what_holds_when_left_out_is_left_out() -> None:
    text = write_book(tiny_book())
    for key in ("raised_m", "soil_depth_m", "watering", "goals", "people", "note", "coordinator"):
        assert f"{key}:" not in text


@pytest.mark.parametrize(
    "name",
    [
        *("no", "Yes", "null", "~", "1.2", "2027-01-01", "a: b", "a #b", "- a", "[a]", "{a}", "'a'", '"a"'),
        *("a, b", "*a", "&a", "!a", "a\\b", "%a", "@a", "é", "日本", "\U0001f955", "x" * 80),
    ],
)
def test_a_name_that_means_something_in_yaml_comes_back_as_it_was(name: str) -> None:
    book = replace(tiny_book(), beds=(replace(tiny_bed("A"), name=name), tiny_book().beds[1]))
    assert read(write_book(book)).beds[0].name == name


@pytest.mark.parametrize(
    "note", ["one\ntwo", "one\n\n  two\n three", "# not a comment\n- not a list", "a\n'\"\\"]
)
def test_a_note_of_several_lines_comes_back_as_it_was(note: str) -> None:
    book = replace(tiny_book(), note=note)
    text = write_book(book)
    assert "note: |-\n" in text
    assert read(text) == book
