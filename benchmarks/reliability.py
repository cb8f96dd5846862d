"""Renews the tables of docs/validation/reliability.md from the real records beside the project."""

from __future__ import annotations

from pathlib import Path

from bedwright.engine.climate.calibration import (
    Verdict,
    frost_verdicts,
    leave_one_out_verdicts,
    markdown_table,
)
from bedwright.store.weather import read_weather

PROJECT = Path(__file__).parents[1]
WEATHER = PROJECT.parent / "shared" / "weather"
DOCUMENT = PROJECT / "docs" / "validation" / "reliability.md"

STATIONS = {
    "New York Central Park": "USW00094728.dly",
    "De Bilt": "debilt_260_daily_1980_2019.csv",
}


def main() -> None:
    ahead: list[Verdict] = []
    left_out: list[Verdict] = []
    for station, file in STATIONS.items():
        record = read_weather(WEATHER / file)
        ahead += frost_verdicts(record, station, southern=False, fitted=(1990, 2009), judged=(2010, 2019))
        left_out += leave_one_out_verdicts(record, station, southern=False)
    text = DOCUMENT.read_text(encoding="utf-8")
    text = between(text, "ahead", markdown_table(ahead))
    text = between(text, "left out", markdown_table(left_out))
    DOCUMENT.write_text(text, encoding="utf-8")
    print(f"renewed {DOCUMENT.relative_to(PROJECT)}")


def between(text: str, name: str, table: str) -> str:
    """The text with what stands between the marks of a name replaced."""
    opening, closing = f"<!-- table: {name} -->\n", f"<!-- end: {name} -->"
    head, rest = text.split(opening)
    _, tail = rest.split(closing)
    return f"{head}{opening}{table}\n{closing}{tail}"


if __name__ == "__main__":
    main()
