"""Texts that are awkward YAML: refused in words, in little time and memory, or read as meant."""

from __future__ import annotations

import pytest

from bedwright.model.bounds import BOOK_DEPTH
from tests.builders import TINY_TEXT, tiny_book
from tests.unit.store.book.case import edited, problems_of, read


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        (TINY_TEXT.replace("  name: Tiny", "\tname: Tiny"), 2, "Indent with spaces"),
        (TINY_TEXT.replace("name: Tiny garden", "name: Tiny: garden"), 2, "colon into quotation marks"),
        (TINY_TEXT.replace("name: Tiny garden", 'name: "Tiny garden'), 2, "Close the quotation marks"),
        (TINY_TEXT.replace("bearing_deg: 90}", "bearing_deg: 90", 1), 14, "Close every bracket"),
        (TINY_TEXT.replace("  latitude_deg: 52.3", " latitude_deg: 52.3"), 3, "Indent keys of one entry"),
        (TINY_TEXT.replace("name: Tiny garden", "name: @garden"), 2, "quotation marks"),
        (TINY_TEXT.replace("name: Tiny garden", "name: *garden"), 2, "&garden before it is used"),
        (TINY_TEXT.replace("site:", "? [a, b]\n: 1\nsite:"), 1, "a word before the colon"),
        (TINY_TEXT.replace("  name: Tiny garden", "  <<: {name: x}"), 2, "not part of YAML 1.2"),
        (TINY_TEXT.replace("Tiny garden", "!!python/name:os.system x"), 2, "exclamation mark"),
        (TINY_TEXT.replace("Tiny garden", "!garden x"), 2, "exclamation mark"),
        (TINY_TEXT.replace("site:", "%YAML 9.9\n---\nsite:"), None, "YAML text"),
        (TINY_TEXT.replace("site:", "site: &s\n  features: [*s]"), 2, "a name marked earlier"),
        (TINY_TEXT + "stock: " + "[" * 5000, None, f"more than {BOOK_DEPTH.high:g}"),
        (TINY_TEXT + "stock: " + "{a: " * 5000, None, f"more than {BOOK_DEPTH.high:g}"),
    ],
    ids=[
        "a tab", "a colon in a value", "open quotation marks", "an open bracket", "uneven indents",
        "a kept sign", "an unknown alias", "a list as a key", "a merge key", "a tag that runs code", "a tag",
        "another YAML", "an alias inside itself", "five thousand lists", "five thousand records",
    ],
)  # fmt: skip
def test_awkward_yaml_is_told_in_words(text: str, line: int | None, words: str) -> None:
    problems = problems_of(text)
    told = [problem for problem in problems if words in str(problem)]
    assert told, [str(problem) for problem in problems]
    assert line is None or told[0].line == line


def test_a_repeated_key_is_told_with_the_line_of_the_first() -> None:
    (problem,) = problems_of(TINY_TEXT + "season:\n  start: 2027-02-01\n")
    assert problem.where == "season"
    assert problem.line == TINY_TEXT.count("\n") + 1
    assert "the first is on line 7" in str(problem)


def test_aliases_that_multiply_are_refused_before_they_fill_the_memory() -> None:
    laughs = "\n".join(f"l{n}: &l{n} [{', '.join([f'*l{n - 1}'] * 10)}]" for n in range(1, 30))
    problems = problems_of(f"l0: &l0 [ha]\n{laughs}\n{TINY_TEXT}")
    assert "more values than any garden needs" in str(problems[-1])
    assert problems[-1].line == 6


def test_a_value_repeated_by_an_alias_is_read() -> None:
    text = edited("texture: loam", "texture: &soil loam").replace("texture: sandy loam", "texture: *soil")
    assert [bed.texture for bed in read(text).beds] == ["loam", "loam"]


def test_a_fault_in_a_repeated_value_points_to_where_it_is_written() -> None:
    text = edited("texture: loam", "texture: &soil lome").replace("texture: sandy loam", "texture: *soil")
    assert {problem.line for problem in problems_of(text)} == {15}


def test_a_text_that_is_one_huge_flat_list_is_refused_in_one_problem() -> None:
    (problem,) = problems_of(TINY_TEXT + "stock: [" + "1, " * 2000 + "]\n")
    assert problem.where == "stock"
    assert "a list of 2000" in str(problem)


def test_a_mark_for_one_document_is_read() -> None:
    assert read("%YAML 1.2\n---\n" + TINY_TEXT + "...\n") == tiny_book()


@pytest.mark.parametrize("word", ["no", "yes", "on", "off", "y", "n", "1e3", "012", "2027-01-01", "1:30"])
def test_a_word_that_older_yaml_turned_into_something_else_stays_a_word(word: str) -> None:
    assert read(edited("First bed", word)).beds[0].name == word


def test_a_code_of_digits_alone_is_a_code() -> None:
    text = edited("  - crop: lettuce\n", "  - crop: lettuce\n    code: 007\n")
    assert read(text).wishes[2].code == "007"


def test_a_space_that_does_not_break_is_a_space() -> None:
    assert read(edited("First bed", "First\N{NO-BREAK SPACE}bed")) == tiny_book()
