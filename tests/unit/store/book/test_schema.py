"""The JSON Schema and the guide say what the reader does: all three come from one description."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import jsonschema
import pytest

from bedwright.model import bounds
from bedwright.model.bounds import Bounds
from bedwright.store.book import json_schema
from bedwright.store.book.kinds import Field, Kind, ListOf, Number, Position, Record, Text, keys_of
from bedwright.store.book.reference import MARKER, main, reference, renewed
from bedwright.store.book.schema import GARDEN_BOOK
from tests.builders import TINY_TEXT
from tests.plain_yaml import plain_yaml
from tests.unit.store.book import test_faults_of_values
from tests.unit.store.book.case import Case, edited

GUIDE = Path(__file__).parents[4] / "docs" / "garden-book.md"
SCHEMA = jsonschema.Draft202012Validator(json_schema())
SHAPE_FAULTS = {
    "latitude and longitude swapped beyond the poles", "no elevation", "no texture", "no outline",
    "centimetres given as metres", "metres given as centimetres", "too wide a bed", "a negative length",
    "a unit behind the number", "true for a number", "a list for a number", "half a plant", "an endless name",
    "an unknown soil", "an unknown key", "one length in two units", "two amounts", "no amount",
}  # fmt: skip
SHAPE_CASES = [case for case in test_faults_of_values.CASES if case.fault in SHAPE_FAULTS]


def fields_of(record: Record) -> list[Field]:
    return [field for below in records_in(record) for field in below.fields]


def bounds_of(kind: Kind) -> list[Bounds]:
    match kind:
        case Number() | Position():
            return [kind.bounds]
        case Text():
            return [kind.length]
        case ListOf():
            return [kind.count, *bounds_of(kind.item)]
        case _:
            return []


def test_the_schema_is_a_json_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(json_schema())


def test_the_books_of_the_project_fit_the_schema() -> None:
    demo = (files("bedwright.service") / "demo" / "garden-book.yaml").read_text(encoding="utf-8")
    for text in (TINY_TEXT, demo):
        assert [error.message for error in SCHEMA.iter_errors(plain_yaml(text))] == []


@pytest.mark.parametrize("case", SHAPE_CASES, ids=lambda case: case.fault)
def test_a_fault_of_shape_is_one_for_the_schema_too(case: Case) -> None:
    assert not SCHEMA.is_valid(plain_yaml(edited(case.old, case.bad)))
    if case.fault != "an unknown soil":  # the reader takes LOAM for loam, the schema does not
        assert SCHEMA.is_valid(plain_yaml(edited(case.old, case.good)))


def test_all_faults_of_shape_were_found_among_the_cases() -> None:
    assert {case.fault for case in SHAPE_CASES} == SHAPE_FAULTS


def test_the_guide_is_up_to_date() -> None:
    guide = GUIDE.read_text(encoding="utf-8")
    assert guide == renewed(guide), "run python -m bedwright.store.book.reference docs/garden-book.md"


def test_the_guide_names_every_key() -> None:
    text = reference()
    for field in fields_of(GARDEN_BOOK):
        assert f"| `{field.key}` |" in text


def test_a_guide_without_its_marker_is_refused() -> None:
    with pytest.raises(ValueError, match="no marker"):
        renewed("# The garden book\n")


def test_the_command_renews_the_part_below_the_marker(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    guide = tmp_path / "guide.md"
    guide.write_text(f"# By hand\n\n{MARKER}\nold\n", encoding="utf-8")
    assert main([str(guide)]) == 0
    assert guide.read_text(encoding="utf-8") == f"# By hand\n\n{MARKER}\n\n{reference()}"
    assert main([]) == 0
    assert capsys.readouterr().out == reference()


def test_the_example_in_the_guide_is_a_book() -> None:
    guide = GUIDE.read_text(encoding="utf-8")
    example = guide.split("```yaml\n")[1].split("```")[0]
    assert SCHEMA.is_valid(plain_yaml(example))


def test_every_bound_of_a_measured_value_is_written_in_one_place() -> None:
    named = {id(value) for value in vars(bounds).values() if isinstance(value, Bounds)}
    loose = [
        f"{field.key}: {limits}"
        for field in fields_of(GARDEN_BOOK)
        for limits in bounds_of(field.kind)
        if id(limits) not in named and isinstance(field.kind, Number | Position)
    ]
    assert loose == ["garden_book: 1 to 1"]


def records_in(record: Record) -> list[Record]:
    """A record and all below it."""
    kinds = [field.kind.item if isinstance(field.kind, ListOf) else field.kind for field in record.fields]
    return [record, *(found for kind in kinds if isinstance(kind, Record) for found in records_in(kind))]


def test_no_key_in_another_unit_is_also_a_key_of_its_own() -> None:
    for record in records_in(GARDEN_BOOK):
        own = {field.key for field in record.fields}
        twins = [key for key, written in keys_of(record).items() if key != written.field.key]
        assert own.isdisjoint(twins)
