"""The page docs/weather-files.md says what the reader does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bedwright.model.problem import BadDocumentError
from bedwright.store.weather import read_weather
from bedwright.store.weather.headers import DATE_NAMES, KNOWN, column_of

GUIDE = (Path(__file__).parents[4] / "docs" / "weather-files.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```weather\n(.*?)```", GUIDE, flags=re.DOTALL)


def test_the_guide_has_examples() -> None:
    assert len(EXAMPLES) == 8


@pytest.mark.parametrize("example", EXAMPLES)
def test_an_example_of_the_guide_lacks_nothing_but_length(example: str, tmp_path: Path) -> None:
    path = tmp_path / "weather"
    path.write_text(example)
    with pytest.raises(BadDocumentError) as caught:
        read_weather(path)
    assert {problem.expected for problem in caught.value.problems} <= {
        "at least 365, one full year",
        "a row for at least half of the days",
    }


def test_the_table_of_the_guide_names_every_column_that_is_understood() -> None:
    rows = re.findall(r"^\| (`\w+`.*)\|$", GUIDE, flags=re.MULTILINE)
    named = set(re.findall(r"`(\w+)`", " ".join(rows)))
    assert named >= set(KNOWN) | DATE_NAMES
    assert all(name in DATE_NAMES or column_of(name, 0) for name in named)
