"""The checker finds each kind of fault in a plan spoilt on purpose, and none in the good plan."""

from __future__ import annotations

import ast
import inspect
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from bedwright.engine.placement import check
from bedwright.model.book import GardenBook
from bedwright.model.season import Planting, PlantingRequest, Row
from tests.unit.engine.placement.gardens import bed, book, choice, crop, lead, request, trellis

CARROT = crop()
DATES = choice()
ASKED = (
    request("carrot-1", CARROT, 24, (DATES,), not_beds=("B",)),
    request("onion-1", crop("onion", "allium"), 24, (DATES,)),
)
GARDEN = book(bed("A"), bed("B"), bed("C", soil_test=lead(320)))


def block(of: PlantingRequest, start_m: float, first_row: int) -> Planting:
    """Two rows across of 12 plants 10 cm apart, 30 cm apart, from a start along the bed."""
    rows = tuple(
        Row(f"A{first_row + number}", (at, 0.05), (at, 1.15), 12, 0.1)
        for number, at in enumerate((start_m + 0.15, start_m + 0.45))
    )
    return Planting(
        code=of.code,
        wish_code=of.wish_code,
        crop=of.crop,
        variety="",
        way="sow",
        bed_code="A",
        along_m=(start_m, start_m + 0.6),
        across_m=(0.0, 1.2),
        direction="across",
        rows=rows,
        dates=DATES,
        reasons=(),
        origins=(),
        request_code=of.code,
    )


GOOD = (block(ASKED[0], 0.0, 1), block(ASKED[1], 0.6, 3))


def moved(planting: Planting, along_m: float = 0.0, across_m: float = 0.0) -> Planting:
    """The planting with its rows shifted on the same ground."""
    rows = tuple(
        replace(
            row,
            start_m=(row.start_m[0] + along_m, row.start_m[1] + across_m),
            end_m=(row.end_m[0] + along_m, row.end_m[1] + across_m),
        )
        for row in planting.rows
    )
    return replace(planting, rows=rows)


def kinds(
    plantings: Sequence[Planting],
    garden: GardenBook = GARDEN,
    asked: Sequence[PlantingRequest] = ASKED,
) -> set[str]:
    return {
        violation.kind for violation in check(garden, plantings, asked, {"carrot": CARROT, "onion": CARROT})
    }


def with_rows(*rows: Row) -> Callable[[Planting], Planting]:
    return lambda planting: replace(planting, rows=rows)


def test_the_good_plan_has_no_fault() -> None:
    assert check(GARDEN, GOOD, ASKED) == ()


FAULTS: list[tuple[str, Callable[[Planting], Planting]]] = [
    ("plant outside the bed", lambda one: moved(one, across_m=0.10)),
    ("plant off its ground", lambda one: moved(one, along_m=0.3)),
    ("too close to the edge", lambda one: moved(one, across_m=0.02)),
    ("ground outside the bed", lambda one: replace(one, across_m=(0.0, 1.3))),
    ("crowded in the row", with_rows(Row("A1", (0.15, 0.05), (0.15, 1.15), 13, 1.1 / 12))),
    (
        "rows too close",
        with_rows(
            Row("A1", (0.15, 0.05), (0.15, 1.15), 12, 0.1), Row("A2", (0.40, 0.05), (0.40, 1.15), 12, 0.1)
        ),
    ),
    ("row askew", with_rows(Row("A1", (0.15, 0.05), (0.25, 1.15), 2, 1.1045361))),
    (
        "spacing stated is not the spacing drawn",
        with_rows(Row("A1", (0.15, 0.05), (0.15, 1.15), 12, 0.2)),
    ),
    ("no rows", with_rows()),
    ("empty row", with_rows(Row("A1", (0.15, 0.05), (0.15, 0.05), 0, 0.0))),
    ("row code used twice", with_rows(Row("A3", (0.15, 0.05), (0.15, 1.15), 12, 0.1))),
    ("row code of another bed", with_rows(Row("B1", (0.15, 0.05), (0.15, 1.15), 12, 0.1))),
    ("two plantings on the same ground", lambda one: replace(one, along_m=(0.0, 0.7))),
    ("crowding", lambda one: replace(moved(one, along_m=0.28), along_m=(0.28, 0.88))),
    ("planting code used twice", lambda one: replace(one, code="onion-1")),
    ("unknown bed", lambda one: replace(one, bed_code="Z")),
    ("bed not allowed", lambda one: replace(one, bed_code="B")),
    ("root or leaf crop in soil with lead", lambda one: replace(one, bed_code="C")),
    ("date not allowed", lambda one: replace(one, dates=choice(date(2027, 3, 1)))),
    ("not wanted", lambda one: replace(one, code="leek-1", request_code="leek-1")),
    ("unknown crop", lambda one: replace(one, crop=crop("leek", "allium"))),
    (
        "more than wanted",
        lambda one: replace(one, rows=(*one.rows, Row("A9", (0.75, 0.05), (0.75, 0.05), 1, 0.0))),
    ),
]


@pytest.mark.parametrize(("kind", "spoil"), FAULTS, ids=[kind for kind, _ in FAULTS])
def test_a_fault_is_found_by_name(kind: str, spoil: Callable[[Planting], Planting]) -> None:
    assert kind in kinds((spoil(GOOD[0]), GOOD[1]))


def test_ground_is_taken_again_only_after_it_is_cleared_and_prepared() -> None:
    # Cleared on 11 July; two days to prepare: the 14th is free, the 13th is not.
    after = {days: choice(DATES.clear_by + timedelta(days=days)) for days in (2, 3)}
    asked = (ASKED[0], replace(ASKED[1], choices=tuple(after.values())))
    second = replace(block(asked[1], 0.0, 3), dates=after[3])
    assert kinds((GOOD[0], second), asked=asked) == set()
    early = replace(second, dates=after[2])
    assert "two plantings on the same ground" in kinds((GOOD[0], early), asked=asked)


def test_a_climber_away_from_the_only_trellis_is_found() -> None:
    bean = crop("pole bean", "legume", climbs=True, support="trellis", edible_parts=("pods",))
    asked = (request("pole-bean-1", bean, 24, (DATES,)),)
    garden = book(bed("A"), bed("B", supports=trellis()))
    found = check(garden, (block(asked[0], 0.0, 1),), asked)
    assert [violation.kind for violation in found] == ["support missing"]


def test_a_climber_may_stand_anywhere_where_no_bed_has_a_trellis() -> None:
    bean = crop("pole bean", "legume", climbs=True, support="trellis", edible_parts=("pods",))
    asked = (request("pole-bean-1", bean, 24, (DATES,)),)
    assert check(book(bed("A")), (block(asked[0], 0.0, 1),), asked) == ()


def test_a_fault_names_codes_and_both_values_with_their_unit() -> None:
    spoilt = (with_rows(Row("A1", (0.15, 0.05), (0.15, 1.15), 13, 1.1 / 12))(GOOD[0]), GOOD[1])
    fault = next(one for one in check(GARDEN, spoilt, ASKED) if one.kind == "crowded in the row")
    assert str(fault) == "crowded in the row: A1 in bed A: is 0.0917, should be 0.1 m between plants"


def own_imports(module: Path) -> set[str]:
    """Modules of the engine that a module imports."""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module}
    return {name for name in imported if name.startswith("bedwright") and ".model." not in name}


def test_the_checker_shares_no_code_with_the_search() -> None:
    package = "bedwright.engine.placement"
    modules = sorted(Path(inspect.getfile(check)).parent.glob("check*.py"))
    assert len(modules) > 5
    allowed = {f"{package}.rules", *(f"{package}.{module.stem}" for module in modules)}
    for module in modules:
        assert own_imports(module) <= allowed, module.name
