from __future__ import annotations

from pathlib import Path

import pytest

from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.weather import read_weather, source_text


def problem_of(path: Path) -> Problem:
    with pytest.raises(BadDocumentError) as caught:
        read_weather(path)
    (problem,) = caught.value.problems
    assert problem.file == str(path)
    return problem


def test_a_missing_file_is_a_problem(tmp_path: Path) -> None:
    assert problem_of(tmp_path / "none.csv").got == "no such file"


def test_a_folder_is_a_problem(tmp_path: Path) -> None:
    assert problem_of(tmp_path).got == "a folder"


@pytest.mark.parametrize("content", [b"", b"\n \r\n", b"\xef\xbb\xbf\n"])
def test_an_empty_file_is_a_problem(content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "empty.csv"
    path.write_bytes(content)
    assert problem_of(path).got == "an empty file"


@pytest.mark.parametrize(
    ("content", "hint"),
    [
        (b"PK\x03\x04rest", "save the sheet as CSV"),
        (b"\x1f\x8brest", "unpack"),
        ("date,tmin_c".encode("utf-16"), "UTF-8"),
        (b"%PDF-1.7", "ask for the record"),
    ],
)
def test_a_file_of_another_kind_is_a_problem_with_a_way_out(
    content: bytes, hint: str, tmp_path: Path
) -> None:
    path = tmp_path / "weather.csv"
    path.write_bytes(content)
    assert hint in problem_of(path).hint


def test_binary_content_is_a_problem(tmp_path: Path) -> None:
    path = tmp_path / "weather.csv"
    path.write_bytes(b"date,tmin_c\x00\x01")
    assert problem_of(path).got == "binary content"


def test_a_huge_file_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(source_text, "MAX_BYTES", 1_000_000)
    path = tmp_path / "weather.csv"
    path.write_bytes(b"x" * 1_000_001)
    assert problem_of(path).expected == "at most 1 MB"
