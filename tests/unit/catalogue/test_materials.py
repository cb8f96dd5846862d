"""The materials of the catalogue, and every fault of a broken file at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from bedwright.catalogue.load import load_catalogue
from bedwright.catalogue.materials import COLUMNS, load_materials, read_materials
from bedwright.model.problem import BadDocumentError
from bedwright.model.soil import Material

SOURCES = "id,rank,citation,seen\nS1,2,An extension leaflet,read\nS2,4,A firm,read\n"
GOOD = (
    "lime,kind,,,lime,,S1,trade usage,practice,,\n"
    "lime,calcium_carbonate_pct,95,100,,percent,S1,note 1,read,,\n"
    "lime,calcium_carbonate_pct,80,80,,percent,S2,label,weak,,\n"
)


def read(folder: Path, rows: str) -> tuple[Material, ...]:
    (folder / "sources.csv").write_text(SOURCES, encoding="utf-8")
    (folder / "materials.csv").write_text(",".join(COLUMNS) + "\n" + rows, encoding="utf-8")
    return read_materials(folder)


def by_name() -> dict[str, Material]:
    return {material.name: material for material in load_materials()}


def test_the_materials_that_a_garden_uses_are_there() -> None:
    wanted = {
        "compost", "composted cow manure", "fresh horse manure", "ground limestone", "sulphur", "blood meal",
        "bone meal", "ammonium sulphate", "sulphate of potash", "shredded leaves", "straw",
    }  # fmt: skip
    assert wanted <= by_name().keys()


def test_every_value_names_a_listed_source_where_in_it_and_how_well_it_stands() -> None:
    sources = load_catalogue().sources
    for material in load_materials():
        for fact in material.facts:
            assert fact.source_id in sources
            assert fact.locator
            assert fact.low <= fact.high


def test_every_material_that_feeds_can_be_measured_in_cups_or_litres() -> None:
    for material in load_materials():
        if material.kind in ("compost", "fertiliser"):
            assert material.kg_per_l()
            assert material.n_pct[1] + material.p2o5_pct[1] + material.k2o_pct[1] > 0


def test_what_may_carry_weedkiller_says_so() -> None:
    assert {name for name, material in by_name().items() if material.bioassay} == {
        "compost",
        "composted cow manure",
        "composted poultry manure",
        "fresh cow manure",
        "fresh horse manure",
        "fresh poultry manure",
        "fresh sheep manure",
        "grass clippings",
        "hay",
        "straw",
    }


def test_raw_manure_is_never_called_compost() -> None:
    manures = {name: material for name, material in by_name().items() if "manure" in name}
    assert all((material.kind == "manure") == name.startswith("fresh ") for name, material in manures.items())


def test_names_and_other_names_are_all_different() -> None:
    names = [name.lower() for m in load_materials() for name in (m.name, *m.also_called)]
    assert len(names) == len(set(names))


def test_the_better_row_is_used_and_the_other_stays_listed(tmp_path: Path) -> None:
    (lime,) = read(tmp_path, GOOD)
    assert lime.calcium_carbonate_pct == pytest.approx((95, 100))
    assert [(fact.source_id, fact.used) for fact in lime.facts] == [("S1", True), ("S2", False)]


@pytest.mark.parametrize(
    ("row", "column", "expected"),
    [
        ("lime,colour,1,1,,percent,S1,x,read,,", 2, "one of kind"),
        ("lime,n_pct,1,1,,percent,S9,x,read,,", 7, "an id of sources.csv"),
        ("lime,n_pct,1,1,,percent,S1,,read,,", 8, "what finds"),
        ("lime,n_pct,1,1,,percent,S1,x,sure,,", 9, "one of read"),
        ("lime,n_pct,one,1,,percent,S1,x,read,,", 3, "a number of percent"),
        ("lime,n_pct,3,1,,percent,S1,x,read,,", 3, "no more than high"),
        ("lime,n_pct,-1,1,,percent,S1,x,read,,", 3, "0 to 50 percent"),
        ("lime,n_pct,1,1,,g,S1,x,read,,", 6, "percent"),
        ("lime,n_pct,1,1,,percent,S1,x,read,use,", 10, "nothing, or use"),
        ("lime,bioassay,,,maybe,,S1,x,read,,", 5, "one of yes"),
        (",n_pct,1,1,,percent,S1,x,read,,", 1, "a material"),
    ],
)
def test_a_faulty_row_is_named_with_its_line_and_column(
    tmp_path: Path, row: str, column: int, expected: str
) -> None:
    with pytest.raises(BadDocumentError) as caught:
        read(tmp_path, GOOD + row + "\n")
    problem = caught.value.problems[0]
    assert (problem.file, problem.line, problem.column) == ("materials.csv", 5, column)
    assert problem.expected.startswith(expected)


def test_a_fertiliser_without_its_contents_is_refused_with_all_that_is_missing(tmp_path: Path) -> None:
    with pytest.raises(BadDocumentError) as caught:
        read(tmp_path, "bone,kind,,,fertiliser,,S1,trade usage,practice,,\n")
    assert [problem.where for problem in caught.value.problems] == [
        "bone.n_pct", "bone.p2o5_pct", "bone.k2o_pct", "bone.n_first_year_pct", "bone.bulk_density_kg_l",
    ]  # fmt: skip
