"""The loader refuses a catalogue with any fault and names all of them."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest

from bedwright.catalogue.load import DATA_FILES, load_catalogue, read_catalogue
from bedwright.catalogue.rows import CROP_COLUMNS, FACT_COLUMNS, NEIGHBOUR_COLUMNS, SOURCE_COLUMNS
from bedwright.model.problem import BadDocumentError

Row = dict[str, str]

NEEDED = (
    ("botanical_family", "", "Apiaceae"),
    ("rotation_group", "", "umbel"),
    ("life_cycle", "", "annual"),
    ("ways", "", "sow"),
    ("planting_stock", "", "seed"),
    ("support", "", "none"),
    ("climbs", "", "no"),
    ("roots", "", "leave undisturbed"),
    ("stem_depth", "", "level with the cell"),
    ("soak_cell", "", "no"),
    ("edible_parts", "", "root; leaves"),
    ("frost_tolerance", "", "hardy"),
    ("in_row_spacing_cm", "5", ""),
    ("bed_row_spacing_cm", "20", ""),
    ("seeds_per_station", "3", ""),
    ("sow_depth_mm", "13", ""),
    ("mature_height_cm", "30", ""),
    ("mature_spread_cm", "15", ""),
    ("days_to_maturity", "70", "sowing"),
    ("harvest_span_days", "30", ""),
    ("germination_soil_temp_min_c", "4", ""),
    ("frost_kill_c", "-8", ""),
    ("min_sun_hours", "4", ""),
)
UNITS = {
    "in_row_spacing_cm": "cm", "bed_row_spacing_cm": "cm", "seeds_per_station": "seeds", "sow_depth_mm": "mm",
    "mature_height_cm": "cm", "mature_spread_cm": "cm", "days_to_maturity": "days",
    "harvest_span_days": "days", "germination_soil_temp_min_c": "degC", "frost_kill_c": "degC",
    "min_sun_hours": "h/day",
}  # fmt: skip


def fact(crop: str, quantity: str, figure: str, text: str) -> Row:
    return {
        "crop": crop, "quantity": quantity, "low": figure, "high": figure, "text": text,
        "unit": UNITS.get(quantity, ""), "source_id": "CHART", "locator": "row " + crop,
        "standing": "read", "decision": "", "reason": "",
    }  # fmt: skip


@dataclass
class Files:
    """A whole small catalogue of two crops, to be spoilt in one place."""

    sources: list[Row] = field(
        default_factory=lambda: [
            {"id": "CHART", "rank": "2", "citation": "A chart", "seen": "all of it"},
            {"id": "MEMORY", "rank": "9", "citation": "No publication", "seen": "nothing"},
        ]
    )
    crops: list[Row] = field(
        default_factory=lambda: [
            {
                "name": name, "latin_name": "Daucus carota", "plan_code": code, "kind": "vegetable",
                "source_id": "CHART", "locator": "heading",
            }
            for name, code in (("carrot", "CAR"), ("parsnip", "PNP"))
        ]
    )  # fmt: skip
    facts: list[Row] = field(
        default_factory=lambda: [fact(crop, *needed) for crop in ("carrot", "parsnip") for needed in NEEDED]
    )
    neighbours: list[Row] = field(default_factory=list)

    def the(self, quantity: str) -> Row:
        """The carrot's row of a quantity."""
        return next(row for row in self.facts if row["quantity"] == quantity)

    def write(self, folder: Path) -> Path:
        columns = (SOURCE_COLUMNS, CROP_COLUMNS, FACT_COLUMNS, NEIGHBOUR_COLUMNS)
        tables = (self.sources, self.crops, self.facts, self.neighbours)
        for name, heading, rows in zip(DATA_FILES, columns, tables, strict=True):
            text = io.StringIO()
            writer = csv.DictWriter(text, heading, lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)
            folder.joinpath(name).write_text(text.getvalue(), encoding="utf-8")
        return folder


Spoil = Callable[[Files], object]

FAULTS: dict[str, tuple[Spoil, str, str]] = {
    "value without a source": (
        lambda f: f.the("sow_depth_mm").update(source_id=""),
        "facts.csv:17:7: source_id",
        "an id of sources.csv",
    ),
    "unknown source": (
        lambda f: f.the("sow_depth_mm").update(source_id="HEARSAY"),
        "facts.csv:17:7: source_id: got 'HEARSAY'",
        "an id of sources.csv",
    ),
    "value without a locator": (
        lambda f: f.the("sow_depth_mm").update(locator=""),
        "facts.csv:17:8: locator",
        "finds the value",
    ),
    "unknown quantity": (
        lambda f: f.the("sow_depth_mm").update(quantity="sow_depth_inches"),
        "facts.csv:17:2: quantity: got 'sow_depth_inches'",
        "a quantity of the vocabulary",
    ),
    "unknown unit": (
        lambda f: f.the("sow_depth_mm").update(unit="furlong"),
        "facts.csv:17:6: unit: got 'furlong'",
        "mm",
    ),
    "low above high": (
        lambda f: f.the("sow_depth_mm").update(low="20", high="13"),
        "facts.csv:17:3: low: got '20'",
        "no more than high, which is 13",
    ),
    "figure out of bounds": (
        lambda f: f.the("sow_depth_mm").update(low="130", high="130"),
        "facts.csv:17:3: low: got '130'",
        "0 to 80 mm",
    ),
    "figure that is no number": (
        lambda f: f.the("sow_depth_mm").update(low="shallow"),
        "facts.csv:17:3: low: got 'shallow'",
        "a number of mm",
    ),
    "word outside the permitted ones": (
        lambda f: f.the("roots").update(text="cut off"),
        "facts.csv:9:5: text: got 'cut off'",
        "one of tease, leave undisturbed",
    ),
    "maturity without the day it counts from": (
        lambda f: f.the("days_to_maturity").update(text=""),
        "facts.csv:20:5: text",
        "one of sowing, setting out",
    ),
    "unknown way": (
        lambda f: f.the("ways").update(text="sow graft"),
        "facts.csv:5:5: text: got 'sow graft'",
        "one of sow, raise, buy",
    ),
    "unknown crop": (
        lambda f: f.the("sow_depth_mm").update(crop="triffid"),
        "facts.csv:17:1: crop: got 'triffid'",
        "a crop of crops.csv",
    ),
    "unknown standing": (
        lambda f: f.the("sow_depth_mm").update(standing="certain"),
        "facts.csv:17:9: standing: got 'certain'",
        "one of read, derived, weak, practice, memory",
    ),
    "publication claimed for a memory": (
        lambda f: f.the("sow_depth_mm").update(source_id="MEMORY"),
        "facts.csv:17:9: standing: got 'read'",
        "practice or memory",
    ),
    "decision without a reason": (
        lambda f: f.the("sow_depth_mm").update(decision="leave"),
        "facts.csv:17:11: reason",
        "if, and only if, there is a decision",
    ),
    "two rows to use": (
        lambda f: f.facts.extend(
            [f.the("sow_depth_mm") | {"decision": "use", "reason": word} for word in ("one", "other")]
        ),
        "facts.csv:49:10: decision",
        "one row at most to use of carrot, sow_depth_mm",
    ),
    "duplicate plan code": (
        lambda f: f.crops[1].update(plan_code="CAR"),
        "crops.csv:3:3: plan_code: got 'CAR'",
        "a code no other crop has",
    ),
    "plan code of two letters": (
        lambda f: f.crops[1].update(plan_code="PN"),
        "crops.csv:3:3: plan_code: got 'PN'",
        "three capitals",
    ),
    "duplicate crop": (
        lambda f: f.crops[1].update(name="carrot"),
        "crops.csv:3:1: name: got 'carrot'",
        "a crop name of its own",
    ),
    "missing required field": (
        lambda f: f.facts.remove(f.the("frost_kill_c")),
        "crops.csv:2:1: carrot.frost_kill_c: got nothing",
        "a usable row in facts.csv",
    ),
    "only row of a required field left aside": (
        lambda f: f.the("frost_kill_c").update(decision="leave", reason="doubtful"),
        "crops.csv:2:1: carrot.frost_kill_c: got nothing",
        "a usable row in facts.csv",
    ),
    "raised crop without its weeks under cover": (
        lambda f: f.the("ways").update(text="sow raise"),
        "crops.csv:2:1: carrot.transplant_age_weeks",
        "a usable row in facts.csv",
    ),
    "water coefficients in part": (
        lambda f: f.facts.append(fact("carrot", "kc_ini", "0.7", "") | {"unit": "-"}),
        "crops.csv:2:1: carrot.kc_mid",
        "a usable row in facts.csv",
    ),
    "source given twice": (
        lambda f: f.sources[1].update(id="CHART", rank="2"),
        "sources.csv:3:1: id: got 'CHART'",
        "an id of its own",
    ),
    "source without a citation": (
        lambda f: f.sources[0].update(citation=""),
        "sources.csv:2:3: citation",
        "a citation",
    ),
    "unknown rank": (
        lambda f: f.sources[0].update(rank="7"),
        "sources.csv:2:2: rank: got '7'",
        "one of 1, 2, 3, 4, 9",
    ),
    "finding about no crop": (
        lambda f: f.neighbours.append(
            {
                "crop_a": "rose", "crop_b": "lily", "effect": "beneficial", "grade": "C",
                "mechanism": "belief", "source_id": "MEMORY", "note": "", "standing": "memory",
            }
        ),
        "neighbours.csv:2:1: crop_a: got 'rose, lily'",
        "at least one crop",
    ),
}  # fmt: skip

ACCEPTED: dict[str, Spoil] = {
    "untouched": lambda f: None,
    "low equal to high": lambda f: f.the("sow_depth_mm").update(low="13", high="13"),
    "figure on its bound": lambda f: f.the("sow_depth_mm").update(low="0", high="80"),
    "memory named as memory": lambda f: f.the("sow_depth_mm").update(source_id="MEMORY", standing="memory"),
    "decision with its reason": lambda f: f.the("sow_depth_mm").update(decision="use", reason="measured"),
    "one row left aside beside another": lambda f: f.facts.append(
        f.the("sow_depth_mm") | {"decision": "leave", "reason": "doubtful"}
    ),
    "two ways that need no weeks under cover": lambda f: f.the("ways").update(text="sow buy"),
    "finding about one crop of the catalogue": lambda f: f.neighbours.append(
        {
            "crop_a": "rose", "crop_b": "carrot", "effect": "beneficial", "grade": "C",
            "mechanism": "belief", "source_id": "MEMORY", "note": "", "standing": "memory",
        }
    ),
}  # fmt: skip


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_is_refused_with_file_line_and_column(fault: str, tmp_path: Path) -> None:
    spoil, place, expected = FAULTS[fault]
    files = Files()
    spoil(files)
    with pytest.raises(BadDocumentError) as caught:
        read_catalogue(files.write(tmp_path))
    messages = [str(problem) for problem in caught.value.problems]
    assert any(place in message and expected in message for message in messages), messages


@pytest.mark.parametrize("label", ACCEPTED)
def test_its_twin_at_the_accepted_boundary_loads(label: str, tmp_path: Path) -> None:
    files = Files()
    ACCEPTED[label](files)
    assert list(read_catalogue(files.write(tmp_path)).crops) == ["carrot", "parsnip"]


def test_all_faults_are_reported_at_once(tmp_path: Path) -> None:
    files = Files()
    files.the("sow_depth_mm").update(source_id="", locator="")
    files.the("roots").update(text="cut off")
    files.crops[1].update(plan_code="CAR")
    with pytest.raises(BadDocumentError) as caught:
        read_catalogue(files.write(tmp_path))
    places = {(problem.file, problem.where) for problem in caught.value.problems}
    assert places >= {
        ("facts.csv", "source_id"),
        ("facts.csv", "locator"),
        ("facts.csv", "text"),
        ("crops.csv", "plan_code"),
    }


def test_a_row_with_an_unquoted_comma_is_named_by_its_line(tmp_path: Path) -> None:
    Files().write(tmp_path)
    with tmp_path.joinpath("facts.csv").open("a", encoding="utf-8") as file:
        file.write("carrot,sow_depth_mm,6,6,,mm,CHART,row carrot, first,read,,\n")
    with pytest.raises(BadDocumentError, match=r"facts\.csv:48: row: got '12 cells'; expected 11 cells"):
        read_catalogue(tmp_path)


def test_a_file_with_another_heading_is_refused(tmp_path: Path) -> None:
    Files().write(tmp_path)
    tmp_path.joinpath("sources.csv").write_text("id,citation\nCHART,A chart\n", encoding="utf-8")
    with pytest.raises(BadDocumentError, match=r"sources\.csv:1: heading"):
        read_catalogue(tmp_path)


def test_the_version_changes_with_any_value(tmp_path: Path) -> None:
    files = Files()
    first = read_catalogue(files.write(tmp_path)).version
    assert read_catalogue(files.write(tmp_path)).version == first
    files.the("sow_depth_mm").update(low="12", high="12")
    assert read_catalogue(files.write(tmp_path)).version != first


def test_the_catalogue_of_the_package_is_read_once() -> None:
    assert load_catalogue() is load_catalogue()


def test_the_middle_of_a_range_is_carried_but_the_low_end_of_sun(tmp_path: Path) -> None:
    files = Files()
    files.the("sow_depth_mm").update(low="10", high="20")
    files.the("min_sun_hours").update(low="4", high="6")
    files.the("days_to_maturity").update(low="60", high="80")
    crop = read_catalogue(files.write(tmp_path)).crops["carrot"]
    assert (crop.sow_depth_mm, crop.min_sun_h, crop.days_to_maturity_days) == (15, 4, (60, 80))


def test_a_tuber_goes_in_at_its_planting_depth_not_at_the_depth_of_seed(tmp_path: Path) -> None:
    files = Files()
    files.the("planting_stock").update(text="tuber")
    files.facts.append(fact("carrot", "planting_depth_mm", "120", "") | {"unit": "mm"})
    assert read_catalogue(files.write(tmp_path)).crops["carrot"].sow_depth_mm == 120


def test_no_germination_makes_a_point_without_days(tmp_path: Path) -> None:
    files = Files()
    files.facts.append(fact("carrot", "days_to_emergence_at_0c", "", "none") | {"unit": "days"})
    files.facts.append(fact("carrot", "days_to_emergence_at_10c", "17", "") | {"unit": "days"})
    files.facts.append(fact("carrot", "germination_pct_at_10c", "93", "") | {"unit": "percent"})
    files.facts.append(fact("carrot", "germination_pct_at_20c", "96", "") | {"unit": "percent"})
    points = read_catalogue(files.write(tmp_path)).crops["carrot"].germination
    assert [(p.soil_temp_c, p.days_to_emergence, p.normal_seedlings_pct, p.germinates) for p in points] == [
        (0, None, None, False),
        (10, 17, 93, True),
    ]
