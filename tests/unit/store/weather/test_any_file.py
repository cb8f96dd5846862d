"""Whatever a file holds, the reader gives a record or says what is wrong."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.weather import read_weather

DAYS = [np.datetime64("2019-01-01") + day for day in range(370)]
PLAIN = "date,tmin_c,tmax_c,rain_mm\n" + "\n".join(f"{day},1.5,18.5,0.4" for day in DAYS)
NOAA = "STATION,DATE,PRCP,TMAX,TMAX_ATTRIBUTES,TMIN\n" + "\n".join(
    f'ZZ000000001,{day},4,185,",,S",15' for day in DAYS
)
LONG = "\n".join(
    f"ZZ000000001,{str(day).replace('-', '')},{element},{value},,,S,"
    for day in DAYS
    for element, value in (("TMAX", 185), ("TMIN", 15), ("PRCP", 4))
)
DLY = "\n".join(
    f"ZZ000000001{year}{month:02d}{element}" + "".join(f"{value:5}  S" for _ in range(28)) + "-9999   " * 3
    for year in (2019, 2020)
    for month in range(1, 13)
    for element, value in (("TMAX", 185), ("TMIN", 15), ("PRCP", 4))
)

SNIPPETS = st.one_of(
    st.text(max_size=6),
    st.sampled_from(
        [
            "-9999",
            '"',
            ",",
            ";",
            "\n",
            "\r",
            "\t",
            "#",
            " ",
            "e9",
            "inf",
            "nan",
            "٣",
            "-",
            "1/2/2020",
            "\u2028",
        ]
    ),
)


@pytest.mark.parametrize("text", [PLAIN, NOAA, LONG, DLY], ids=["plain", "noaa", "long", "dly"])
def test_the_unspoilt_text_is_read(text: str, tmp_path: Path) -> None:
    path = tmp_path / "weather"
    path.write_text(text)
    assert read_weather(path).tmax_c[0] == 18.5


def reads_or_tells(content: bytes, path: Path) -> None:
    path.write_bytes(content)
    problems: tuple[Problem, ...] = ()
    try:
        record = read_weather(path)
    except BadDocumentError as error:
        problems = error.problems
    if problems:
        assert all(problem.got and problem.expected for problem in problems)
        return
    assert (np.diff(record.dates).astype(int) == 1).all()
    assert not (record.tmin_c > record.tmax_c).any()
    assert not (record.rain_mm < 0).any()


@settings(max_examples=150)
@given(
    text=st.sampled_from([PLAIN, NOAA, LONG, DLY]),
    changes=st.lists(st.tuples(st.floats(0, 1), st.integers(0, 30), SNIPPETS), min_size=1, max_size=4),
)
def test_a_spoilt_text_is_read_or_its_problems_are_told(
    text: str, changes: list[tuple[float, int, str]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    for where, length, snippet in changes:
        # Squared, so that many changes fall near the header.
        start = int(where**2 * len(text))
        text = text[:start] + snippet + text[start + length :]
    reads_or_tells(text.encode("utf-8", "replace"), tmp_path_factory.getbasetemp() / "spoilt")


@settings(max_examples=100)
@given(content=st.binary(max_size=400))
def test_any_bytes_are_read_or_their_problems_are_told(
    content: bytes, tmp_path_factory: pytest.TempPathFactory
) -> None:
    reads_or_tells(content, tmp_path_factory.getbasetemp() / "bytes")
