from dataclasses import replace

import pytest
import segno

from bedwright.papers.label_sheets import LABEL_SHEETS, label_sheet_named
from bedwright.papers.labels import chosen_rows, labels_data, scan_matrix, scan_text
from bedwright.papers.letters import text_width_mm
from bedwright.papers.sheet import PAGE_MM
from bedwright.papers.typesetting import typeset
from tests.plans import big_plan, demo_plan
from tests.unit.papers.pdf_reading import MM_PER_POINT, reader_of, words_of

SHEETS = list(LABEL_SHEETS.values())


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_every_label_of_a_sheet_lies_on_the_page_and_off_its_neighbours(sheet: object) -> None:
    sheet = label_sheet_named(sheet.name)  # type: ignore[attr-defined]
    width, height = PAGE_MM[sheet.paper]
    assert sheet.left_mm >= -1e-9
    assert sheet.left_mm + (sheet.n_columns - 1) * sheet.column_step_mm + sheet.width_mm <= width + 1e-9
    assert sheet.top_mm + sheet.n_rows * sheet.height_mm <= height + 1e-9
    assert sheet.column_step_mm >= sheet.width_mm


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_every_row_gets_a_label_where_asked(sheet: object) -> None:
    plan = demo_plan()
    sheet = label_sheet_named(sheet.name)  # type: ignore[attr-defined]
    pdf = typeset("labels", labels_data(plan, sheet, every_row=True), plan.made_on)
    words = words_of(pdf).split()
    rows = [row.code for p in plan.plantings for row in p.rows]
    assert all(words.count(code) >= 1 for code in rows)
    pages = reader_of(pdf).pages
    assert len(pages) == -(-len(rows) // sheet.n_labels)
    box = pages[0].mediabox
    assert float(box.width) * MM_PER_POINT == pytest.approx(PAGE_MM[sheet.paper][0], abs=0.01)
    assert float(box.height) * MM_PER_POINT == pytest.approx(PAGE_MM[sheet.paper][1], abs=0.01)


def test_one_label_a_planting_says_which_rows_it_covers() -> None:
    plan = demo_plan()
    data = labels_data(plan, SHEETS[0])
    assert len(data["labels"]) == len(plan.plantings)
    beet = data["labels"][0]["lines"]
    assert beet[0]["s"] == "A1"
    assert any("rows A1 to A4, 96 plants" in line["s"] for line in beet)


def test_a_single_label_can_be_printed_again_by_row_or_planting() -> None:
    plan = demo_plan()
    assert [row.code for _, row in chosen_rows(plan, codes=("A3", "tomato"))] == ["A3", "B1"]
    with pytest.raises(ValueError, match="X9"):
        chosen_rows(plan, codes=("X9",))


def test_the_code_to_scan_is_the_qr_code_of_row_and_planting() -> None:
    plan = demo_plan()
    planting, row = chosen_rows(plan)[0]
    assert scan_text(planting, row) == "A1 beet"
    assert scan_matrix("A1 beet") == tuple(segno.make_qr("A1 beet", error="m").matrix)
    drawn = labels_data(plan, SHEETS[0])["labels"][0]["svg"]
    assert _modules(drawn) == [list(line) for line in scan_matrix("A1 beet")]


def _modules(svg: str) -> list[list[int]]:
    """The matrix read back from the bars of the drawing, without its border of four."""
    head, bars = svg.split('"><path d="')
    size = int(head.rsplit(" ", maxsplit=1)[1]) - 8
    modules = [[0] * size for _ in range(size)]
    for bar in bars.split('"', maxsplit=1)[0].split("M")[1:]:
        start, length = bar.split("h")[0], int(bar.split("h")[1].split("v")[0])
        x, y = (int(number) - 4 for number in start.split())
        for k in range(length):
            modules[y][x + k] = 1
    return modules


def test_words_too_long_for_a_label_are_set_smaller_then_cut_never_run_over() -> None:
    plan = demo_plan()
    long = replace(
        plan.plantings[0], variety="Extraordinarily Long Name Of A Variety That Fits No Label At All"
    )
    data = labels_data(
        replace(plan, plantings=(long,)), label_sheet_named("Letter 30 per sheet 2 5/8 x 1 in")
    )
    line = data["labels"][0]["lines"][2]
    assert line["size"] == 7.0
    assert line["s"].endswith("…")
    assert text_width_mm(line["s"], line["size"]) <= 2.625 * 25.4 - 23.4 - 2.2


def test_an_unknown_sheet_is_refused_with_those_there_are() -> None:
    with pytest.raises(ValueError, match="A4 24 per sheet 70 x 37 mm"):
        label_sheet_named("my sheet")


def test_labels_of_a_large_plan_keep_their_walking_order() -> None:
    codes = [row.code for _, row in chosen_rows(big_plan(), every_row=True)]
    assert len(codes) == len(set(codes))
    assert codes[0] == "A1"
