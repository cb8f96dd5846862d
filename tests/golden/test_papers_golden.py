"""Our own output kept to see what a change moves; renewed with `--renew-golden`.

week-list.txt   the jobs as the page says them: a change of words or order shows at once
rows.csv        the table of rows: a change of a header or a rounding shows at once
bed-rows.txt    the row table of the bed sheets in feet and inches
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from bedwright.papers.bed_sheets import bed_sheets_data
from bedwright.papers.measures import Measures
from bedwright.papers.tables import rows_csv
from bedwright.papers.week_list import weeks_of
from tests.plans import demo_plan

GOLDEN = Path(__file__).parent / "papers"


def _compare(name: str, text: str, *, renew: bool) -> None:
    path = GOLDEN / name
    if renew:
        path.write_text(text, encoding="utf-8", newline="")
    assert text == path.read_bytes().decode(), f"{name} moved; renew it with --renew-golden if that is meant"


def _week_lines() -> Iterator[str]:
    for week in weeks_of(demo_plan(), Measures("metric")):
        yield week["heading"]
        for part in week["beds"]:
            yield f"  {part['bed']}"
            for job in part["jobs"]:
                yield f"    {job['when']}: {job['title']}. {job['details']}"
        if week["going_on"]:
            yield f"  Going on: {'; '.join(week['going_on'])}"


def test_the_week_list_reads_as_before(renew_golden: bool) -> None:
    _compare("week-list.txt", "\n".join(_week_lines()) + "\n", renew=renew_golden)


def test_the_table_of_rows_reads_as_before(renew_golden: bool) -> None:
    _compare("rows.csv", rows_csv(demo_plan(), "metric").decode(), renew=renew_golden)


def test_the_rows_of_the_bed_sheets_read_as_before(renew_golden: bool) -> None:
    beds = bed_sheets_data(demo_plan(), "letter", "us")["beds"]
    lines = []
    for bed in beds:
        lines.append(bed["heading"])
        for layer in bed["layers"]:
            lines.append(f"  {layer['heading']}")
            lines += [f"    {' | '.join(row)}" for row in layer["rows"]]
    _compare("bed-rows.txt", "\n".join(lines) + "\n", renew=renew_golden)
