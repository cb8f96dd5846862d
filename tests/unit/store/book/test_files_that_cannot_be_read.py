"""Files that are no garden book at all, and the least that is one."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from bedwright.model import bounds
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.book import read_book
from tests.builders import TINY_TEXT, tiny_book, tiny_catalogue

CATALOGUE = tiny_catalogue()


def problem_of(path: Path) -> Problem:
    with pytest.raises(BadDocumentError) as caught:
        read_book(path, CATALOGUE)
    assert len(caught.value.problems) == 1, str(caught.value)
    return caught.value.problems[0]


def put(path: Path, content: str | bytes) -> Path:
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return path


def test_a_book_in_a_file_is_read(tmp_path: Path) -> None:
    assert read_book(put(tmp_path / "book.yaml", TINY_TEXT), CATALOGUE) == tiny_book()


def test_a_book_with_a_byte_order_mark_and_windows_line_ends_is_read(tmp_path: Path) -> None:
    text = "\N{ZERO WIDTH NO-BREAK SPACE}" + TINY_TEXT.replace("\n", "\r\n")
    assert read_book(put(tmp_path / "book.yaml", text), CATALOGUE) == tiny_book()


@pytest.mark.parametrize(
    ("content", "got"),
    [
        ("", "no values"),
        ("# nothing yet\n\n", "no values"),
        ("---\n", "keys"),
        ("carrots", "carrots"),
        ("- carrots\n- onions\n", "a list of 2"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "not UTF-8"),
        (b"PK\x03\x04word processor", "cannot be printed"),
        (b"site: \xe9t\xe9\n", "not UTF-8"),
        (TINY_TEXT.encode("utf-16"), "not UTF-8"),
        ("site: {}\n---\nsite: {}\n", "a second document"),
    ],
    ids=[
        "empty", "only comments", "only a document mark", "one word", "a list", "a picture",
        "a word-processor file", "Latin-1", "UTF-16", "two documents",
    ],
)  # fmt: skip
def test_a_file_without_a_book_is_refused_in_one_sentence(
    tmp_path: Path, content: str | bytes, got: str
) -> None:
    problem = problem_of(put(tmp_path / "book.yaml", content))
    assert got in str(problem)


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    assert "no such file" in str(problem_of(tmp_path / "book.yaml"))


def test_a_folder_is_refused_with_a_hint(tmp_path: Path) -> None:
    assert "Add the name of the book" in str(problem_of(tmp_path))


def test_a_path_through_a_file_is_refused(tmp_path: Path) -> None:
    put(tmp_path / "book.yaml", TINY_TEXT)
    assert "cannot be read" in str(problem_of(tmp_path / "book.yaml" / "more"))


def test_a_path_with_a_null_sign_is_refused(tmp_path: Path) -> None:
    assert "cannot be read" in str(problem_of(tmp_path / "book\0.yaml"))


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_a_pipe_is_refused_without_waiting_for_it(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "book.yaml")
    assert "not a file" in str(problem_of(tmp_path / "book.yaml"))


def test_a_file_of_fifty_megabytes_is_refused_by_its_size_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "book.yaml"
    with path.open("wb") as file:
        file.truncate(50_000_000)

    def never(self: Path) -> bytes:
        raise AssertionError(f"{self} was opened")

    monkeypatch.setattr(Path, "read_bytes", never)
    assert "got 50.0 MB; expected at most 1 MB" in str(problem_of(path))


def test_a_file_of_the_largest_size_is_read(tmp_path: Path) -> None:
    filling = "#" * (int(bounds.BOOK_BYTES.high) - len(TINY_TEXT) - 1) + "\n"
    assert read_book(put(tmp_path / "book.yaml", TINY_TEXT + filling), CATALOGUE) == tiny_book()
    assert "at most 1 MB" in str(problem_of(put(tmp_path / "book.yaml", TINY_TEXT + filling + "#")))


class TestTheWeatherFile:
    """It lies in the folder of the book, unless another is given beside the book."""

    @pytest.fixture
    def book(self, tmp_path: Path) -> Callable[[str], Path]:
        def naming(weather_file: str) -> Path:
            text = TINY_TEXT.replace("weather:\n", f"weather:\n  file: {weather_file}\n")
            return put(tmp_path / "book.yaml", text)

        return naming

    def test_that_is_missing_is_told(self, book: Callable[[str], Path]) -> None:
        problem = problem_of(book("weather.csv"))
        assert (problem.where, problem.line) == ("weather.file", 10)
        assert "weather.csv, which is not there" in problem.got

    def test_that_is_a_folder_is_told(self, book: Callable[[str], Path], tmp_path: Path) -> None:
        (tmp_path / "records").mkdir()
        assert "which is not there" in problem_of(book("records")).got

    def test_in_a_folder_below_is_found(self, book: Callable[[str], Path], tmp_path: Path) -> None:
        (tmp_path / "records").mkdir()
        put(tmp_path / "records" / "station.csv", "")
        found = read_book(book("records/station.csv"), CATALOGUE)
        assert found.weather_file == "records/station.csv"

    def test_that_is_a_link_to_elsewhere_is_refused(
        self, book: Callable[[str], Path], tmp_path: Path, tmp_path_factory: pytest.TempPathFactory
    ) -> None:
        elsewhere = put(tmp_path_factory.mktemp("elsewhere") / "weather.csv", "")
        (tmp_path / "weather.csv").symlink_to(elsewhere)
        assert "a link to elsewhere" in str(problem_of(book("weather.csv")))

    def test_that_is_a_link_to_itself_is_refused(self, book: Callable[[str], Path], tmp_path: Path) -> None:
        (tmp_path / "weather.csv").symlink_to("weather.csv")
        assert "which is not there" in problem_of(book("weather.csv")).got

    def test_with_an_endless_name_is_told(self, book: Callable[[str], Path]) -> None:
        assert "which is not there" in problem_of(book("w" * 300)).got

    def test_is_not_looked_at_where_another_is_given(self, book: Callable[[str], Path]) -> None:
        found = read_book(book("/elsewhere/weather.csv"), CATALOGUE, weather_given=True)
        assert found.weather_file == "/elsewhere/weather.csv"
