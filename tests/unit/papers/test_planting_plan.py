from dataclasses import replace

import pytest
from shapely import Polygon

from bedwright.model.ground import Rectangle
from bedwright.model.season import Row, SeasonPlan
from bedwright.papers.ground_drawing import bed_corners, bed_view, planting_corners
from bedwright.papers.hatching import HATCHES
from bedwright.papers.planting_plan import planting_plan_data
from bedwright.papers.scale import Scale
from bedwright.papers.site_parts import site_parts
from bedwright.papers.typesetting import typeset
from tests.plans import bed, demo_plan
from tests.unit.papers.pdf_reading import paths_mm, reader_of, words_of


def _one_bed_plan() -> SeasonPlan:
    plan = demo_plan()
    long_bed = bed("A", "Long bed", Rectangle(4.8, 1.2, 0.0, 0.0, 90.0))
    book = replace(plan.book, beds=(long_bed,), site=replace(plan.book.site, features=()))
    return replace(plan, book=book, plantings=tuple(p for p in plan.plantings if p.bed_code == "A"))


def _pdf(plan: SeasonPlan, paper: str = "a4", units: str = "metric") -> bytes:
    return typeset("planting-plan", planting_plan_data(plan, paper, units), plan.made_on)  # type: ignore[arg-type]


def test_a_bed_of_480_cm_measures_96_mm_on_the_sheet_at_1_to_50() -> None:
    pdf = _pdf(_one_bed_plan())
    page = reader_of(pdf).pages[1]
    assert "1:50" in page.extract_text()
    widths = [max(x for x, _ in path) - min(x for x, _ in path) for path in paths_mm(page) if len(path) >= 4]
    heights = [max(y for _, y in path) - min(y for _, y in path) for path in paths_mm(page) if len(path) >= 4]
    sizes = [(round(w, 2), round(h, 2)) for w, h in zip(widths, heights, strict=True)]
    assert (96.0, 24.0) in sizes


def test_a_bed_measures_true_at_a_quarter_inch_to_the_foot() -> None:
    page = reader_of(_pdf(_one_bed_plan(), "letter", "us")).pages[1]
    assert "¼ in = 1 ft" in page.extract_text()
    widths = [max(x for x, _ in path) - min(x for x, _ in path) for path in paths_mm(page) if len(path) >= 4]
    # 4.8 m is 15.748 ft; a quarter of an inch each makes 3.937 in or 100.0 mm.
    assert any(width == pytest.approx(100.0, abs=0.02) for width in widths)


def test_every_row_code_quantity_and_name_can_be_selected() -> None:
    plan = demo_plan()
    words = words_of(_pdf(plan))
    for planting in plan.plantings:
        assert f"{planting.n_plants} {planting.crop.plan_code}" in words
        assert planting.crop.latin_name.split(" (", maxsplit=1)[0] in words
        for row in planting.rows:
            assert row.code in words


def test_every_sheet_carries_its_title_block() -> None:
    plan = demo_plan()
    pages = reader_of(_pdf(plan)).pages
    for k, page in enumerate(pages, start=1):
        words = " ".join(page.extract_text().split())
        for said in (
            "Millbrook Common Garden",
            "3f9a1c2",
            "20 January 2026",
            "R. Ashdown",
            f"{k} of {len(pages)}",
        ):
            assert said in words
        assert "INVENTED WEATHER RECORD" in words


def test_the_site_plan_asks_to_have_utilities_located_before_digging() -> None:
    words = words_of(_pdf(demo_plan())).split("\n")[0]
    assert "located before any digging" in words
    assert "Source:" in words


def test_beds_whose_labels_do_not_fit_are_drawn_larger_under_their_own_number() -> None:
    plan = demo_plan()
    tight = tuple(bed(code, "", Rectangle(6.0, 1.2, k * 1.21, 0.0, 0.0)) for k, code in enumerate("ABCDE"))
    lettuce = plan.plantings[4]
    many = tuple(
        replace(
            lettuce,
            code=f"{b.code}{k}",
            bed_code=b.code,
            along_m=(k * 0.2, k * 0.2 + 0.2),
            across_m=(0.0, 1.2),
            rows=(Row(f"{b.code}{k}", (k * 0.2 + 0.1, 0.2), (k * 0.2 + 0.1, 1.0), 4, 0.25),),
        )
        for b in tight
        for k in range(30)
    )
    book = replace(plan.book, beds=tight, site=replace(plan.book.site, features=()))
    data = planting_plan_data(replace(plan, book=book, plantings=many), "a4", "metric")
    numbers = [page["frame"]["number"] for page in data["pages"]]
    assert numbers == [f"P{k}" for k in range(1, len(numbers) + 1)]
    details = [page for page in data["pages"] if page["kind"] == "details"]
    assert details
    notes = [note for page in data["pages"] for note in page.get("notes", ())]
    for page in details:
        assert any(f"drawn larger on {page['frame']['number']}." in note for note in notes)


def test_beds_far_apart_go_on_sheets_of_their_own_instead_of_shrinking() -> None:
    plan = demo_plan()
    far = bed("Z", "Far bed", Rectangle(2.0, 1.0, 60.0, 40.0, 0.0))
    parts = site_parts((*plan.book.beds, far), (180.0, 150.0), "metric")
    assert [[b.code for b in part.beds] for part in parts] == [["Z"], ["A", "B", "C", "D", "E"]]
    assert {part.scale.words for part in parts} == {"1:100"}


def test_plants_of_a_round_bed_are_not_drawn_outside_it() -> None:
    plan = demo_plan()
    round_bed = plan.book.bed("D")
    view = bed_view(Scale(50, "1:50"), 0.0, 0.0)
    whole = replace(plan.plantings[8], along_m=(0.0, 2.4), across_m=(0.0, 2.4))
    edge = bed_corners(round_bed, view, local=True)
    ground = planting_corners(whole, view, edge)
    assert Polygon(edge).buffer(0.05).contains(Polygon(ground))


def test_there_are_as_many_different_hatches_as_listed() -> None:
    assert len(set(HATCHES)) == len(HATCHES) >= 18


def test_a_plan_without_plantings_still_has_its_site_plan() -> None:
    plan = replace(demo_plan(), plantings=(), tasks=(), orders=())
    assert len(reader_of(_pdf(plan)).pages) == 2


def test_the_site_plan_states_the_fall_of_the_ground() -> None:
    plan = _one_bed_plan()
    site = replace(plan.book.site, slope_deg=6.0, aspect_deg=180.0)
    sloping = replace(plan, book=replace(plan.book, site=site))
    # tan 6° = 0.105
    assert "falls 6° (11 %) towards 180° from north" in words_of(_pdf(sloping))
    assert "falls" not in words_of(_pdf(plan))
