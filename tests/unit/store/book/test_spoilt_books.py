"""Whatever happens to a book, the reader gives a book or its problems, never anything else."""

from __future__ import annotations

from importlib.resources import files

from hypothesis import example, given, settings
from hypothesis import strategies as st

from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.book import read_book_text
from tests.builders import TINY_TEXT, tiny_catalogue

DEMO_TEXT = (files("bedwright.service") / "demo" / "garden-book.yaml").read_text(encoding="utf-8")
CATALOGUE = tiny_catalogue()
SPOILERS = (
    *(
        "",
        " ",
        "\n",
        "\t",
        ":",
        ": ",
        "- ",
        "#",
        "'",
        '"',
        "{",
        "}",
        "[",
        "]",
        ",",
        "&a ",
        "*a",
        "!x ",
        "!!int ",
    ),
    *(
        "|",
        ">-",
        "%",
        "@",
        "`",
        "?",
        "? ",
        "---",
        "...",
        "<<: ",
        "~",
        "null",
        "true",
        ".nan",
        "-.inf",
        "1e999",
    ),
    *(
        "-1",
        "0",
        "9" * 50,
        "0x10",
        "2027-02-30",
        "05-10",
        "\\",
        "\\x",
        "\\UFFFFFFFF",
        "\\ud800",
        "%YAML 1.1\n---\n",
    ),
    *("\0", "\x7f", "\x85", "\u2028", "\ufeff", "\U0001f955"),
)


def problems_in(text: str) -> tuple[Problem, ...]:
    try:
        read_book_text(text, "book.yaml", CATALOGUE)
    except BadDocumentError as error:
        return error.problems or (Problem("", None, None, "", "", ""),)
    return ()


def is_a_book_or_has_problems(text: str) -> None:
    for problem in problems_in(text):
        assert problem.got
        assert problem.expected
        assert len(str(problem).splitlines()) == 1


@st.composite
def spoilt(draw: st.DrawFn, text: str) -> str:
    """A text with a few pieces cut out, doubled, moved or replaced."""
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.integers(0, 12)))
        piece = draw(st.one_of(st.sampled_from(SPOILERS), st.text(max_size=5), st.just(text[start:end] * 2)))
        text = text[:start] + piece + text[end:]
    return text


@settings(max_examples=300)
@given(text=spoilt(TINY_TEXT))
@example(text="%YAML 1.\n---\na")
@example(text='"\\UFFFFFFFF"')
@example(text="&")
@example(text="a: *")
def test_a_spoilt_small_book(text: str) -> None:
    is_a_book_or_has_problems(text)


@settings(max_examples=25)
@given(text=spoilt(DEMO_TEXT))
def test_a_spoilt_demonstration_book(text: str) -> None:
    is_a_book_or_has_problems(text)


@st.composite
def moved_lines(draw: st.DrawFn) -> str:
    """The lines of a book with some left out, doubled or moved to other places and depths."""
    lines = TINY_TEXT.splitlines()
    for _ in range(draw(st.integers(1, 5))):
        line = lines.pop(draw(st.integers(0, len(lines) - 1)))
        n_copies = draw(st.integers(0, 2))
        indent = " " * draw(st.integers(0, 6))
        place = draw(st.integers(0, len(lines)))
        lines[place:place] = [indent + line.strip()] * n_copies
    return "\n".join(lines)


@settings(max_examples=200)
@given(text=moved_lines())
def test_a_book_with_its_lines_out_of_order(text: str) -> None:
    is_a_book_or_has_problems(text)


@settings(max_examples=200)
@given(text=st.text(st.sampled_from("ab:- \n{}[],&*!|>'\"%@#?~1.\t"), max_size=60))
@example(text="1\n\n1")
def test_a_text_of_signs(text: str) -> None:
    is_a_book_or_has_problems(text)
