import csv
import io

import pytest

from bedwright.papers.csv_writing import csv_bytes
from bedwright.papers.tables import TABLES, plants_csv, rows_csv, tables_of
from tests.plans import demo_plan


def _read(table: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table.decode(), newline="")))


def test_there_is_one_line_for_every_plant_on_its_place() -> None:
    plan = demo_plan()
    plants = _read(plants_csv(plan, "metric"))
    assert len(plants) == sum(p.n_plants for p in plan.plantings)
    first = plants[0]
    assert (first["row"], float(first["along_m"]), float(first["across_m"])) == ("A1", 0.05, 0.15)
    # Bed A starts at the datum and its string runs north, so across is east.
    assert (float(first["east_m"]), float(first["north_m"])) == (0.15, 0.05)


def test_headers_name_their_units_in_both_systems() -> None:
    plan = demo_plan()
    assert "spacing_cm" in _read(rows_csv(plan, "metric"))[0]
    us = _read(rows_csv(plan, "us"))[0]
    assert float(us["spacing_in"]) == pytest.approx(10 / 2.54, abs=0.005)
    assert float(us["first_along_ft"]) == pytest.approx(0.05 / 0.3048, abs=0.0005)


def test_a_comma_a_quote_and_a_line_break_survive_the_round_trip() -> None:
    hard = 'beans, "runner"\nlast year\'s'
    assert (
        next(csv.DictReader(io.StringIO(csv_bytes(["name"], [[hard]]).decode(), newline="")))["name"] == hard
    )


@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_table_has_as_many_cells_as_headers_in_every_line(system: str) -> None:
    for name in tables_of(demo_plan()):
        lines = list(csv.reader(io.StringIO(TABLES[name](demo_plan(), system).decode(), newline="")))  # type: ignore[arg-type]
        assert len({len(line) for line in lines}) == 1
        assert len(lines) > 1
