from itertools import pairwise

from bedwright.papers.bed_sheets import bed_sheets_data, crop_layers, spread
from bedwright.papers.typesetting import typeset
from tests.plans import big_plan, demo_plan
from tests.unit.papers.pdf_reading import words_of


def test_crops_that_share_ground_are_drawn_one_after_the_other() -> None:
    layers = crop_layers(demo_plan().in_bed("A"))
    assert [[p.code for p in layer] for layer in layers] == [["beet", "carrot"], ["bean"]]


def test_no_two_plantings_of_a_layer_share_ground() -> None:
    for bed in big_plan().book.beds:
        for layer in crop_layers(big_plan().in_bed(bed.code)):
            taken = sorted(p.along_m for p in layer)
            assert all(one[1] <= other[0] + 1e-9 for one, other in pairwise(taken))


def test_every_row_stands_in_the_table_with_its_offset_from_the_string() -> None:
    plan = demo_plan()
    data = bed_sheets_data(plan, "a4", "metric")
    rows = [row for bed in data["beds"] for layer in bed["layers"] for row in layer["rows"]]
    assert sorted(row[0] for row in rows) == sorted(row.code for p in plan.plantings for row in p.rows)
    first = next(row for row in rows if row[0] == "A1")
    assert first[2] == "15 cm from the string"
    assert first[3:7] == ["5 cm along", "2.35 m along", "24", "10 cm"]


def test_rows_square_to_the_string_say_so() -> None:
    data = bed_sheets_data(demo_plan(), "letter", "us")
    rows = [row for bed in data["beds"] for layer in bed["layers"] for row in layer["rows"]]
    corn = next(row for row in rows if row[0] == "E6")
    assert corn[2] == "square to the string, 4 ft 8¾ in along it"
    assert corn[3] == "1 ft 2¾ in across"


def test_every_row_code_can_be_selected_on_the_sheets() -> None:
    plan = demo_plan()
    words = words_of(typeset("bed-sheets", bed_sheets_data(plan, "a4", "metric"), plan.made_on))
    for planting in plan.plantings:
        for row in planting.rows:
            assert words.count(row.code) >= 2
    assert "Stand at the peg" in words


def test_dimension_words_are_pushed_apart_until_none_overlap() -> None:
    centres = spread([10.0, 11.0, 12.0], [6.0, 6.0, 6.0], 0.0, 100.0)
    assert centres == [10.0, 16.0, 22.0]
    pushed_back = spread([90.0, 95.0, 99.0], [6.0, 6.0, 6.0], 0.0, 100.0)
    assert pushed_back == [85.0, 91.0, 97.0]
