from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from bedwright.papers import LABEL_SHEETS, default_label_sheet, write_papers
from bedwright.papers.bed_sheets import bed_sheets_data
from bedwright.papers.planting_plan import planting_plan_data
from bedwright.papers.sheet import PAGE_MM
from tests.plans import big_plan, demo_plan
from tests.unit.papers.pdf_reading import MM_PER_POINT, fonts_of, reader_of, words_of

SHEET = next(iter(LABEL_SHEETS))


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_all_papers_are_set_on_every_page_size_in_both_systems(
    tmp_path: Path, paper: str, units: str
) -> None:
    sheet = default_label_sheet(paper).name  # type: ignore[arg-type]
    told: list[tuple[str, int, int]] = []
    written = write_papers(
        demo_plan(),
        tmp_path,
        paper=paper,  # type: ignore[arg-type]
        units=units,  # type: ignore[arg-type]
        label_sheet=sheet,
        progress=lambda *step: told.append(step),
    )
    assert sorted(path.name for path in written) == sorted(path.name for path in tmp_path.iterdir())
    assert [step[0] for step in told] == [path.name for path in written]
    assert told[-1][1] == told[-1][2] == len(written) == 15
    for path in written:
        if path.suffix != ".pdf":
            continue
        pdf = path.read_bytes()
        assert fonts_of(pdf)
        assert all(fonts_of(pdf).values()), "letterforms are in the file"
        for page in reader_of(pdf).pages:
            size = sorted(
                (float(page.mediabox.width) * MM_PER_POINT, float(page.mediabox.height) * MM_PER_POINT)
            )
            assert size == pytest.approx(PAGE_MM[paper], abs=0.01)  # type: ignore[index]


def test_the_same_plan_gives_the_same_bytes(tmp_path: Path) -> None:
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        write_papers(demo_plan(), tmp_path / name, paper="a4", units="metric", label_sheet=SHEET)
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "other" / path.name).read_bytes()


def test_only_the_papers_asked_for_are_written(tmp_path: Path) -> None:
    written = write_papers(
        demo_plan(),
        tmp_path,
        paper="a4",
        units="metric",
        label_sheet=SHEET,
        only={"labels"},
        label_codes=("A2",),
    )
    assert [path.name for path in written] == ["labels.pdf"]
    words = words_of(written[0].read_bytes()).split()
    assert "A2" in words
    assert "A1" not in words


def test_a_plan_without_a_weather_record_has_no_climate_page(tmp_path: Path) -> None:
    plan = replace(demo_plan(), climate=None)
    written = write_papers(plan, tmp_path, paper="a4", units="metric", label_sheet=SHEET)
    assert "climate.pdf" not in {path.name for path in written}
    assert "INVENTED" not in words_of((tmp_path / "cards.pdf").read_bytes())


@pytest.mark.parametrize(
    "wrong",
    [{"label_sheet": "none such"}, {"only": {"poster"}}, {"label_codes": ("Q1",)}],
    ids=["sheet", "paper", "label code"],
)
def test_a_wrong_choice_is_refused_before_anything_is_written(
    tmp_path: Path, wrong: dict[str, object]
) -> None:
    asked: dict[str, Any] = {"paper": "a4", "units": "metric", "label_sheet": SHEET, **wrong}
    with pytest.raises(ValueError, match=r"none such|poster|Q1"):
        write_papers(demo_plan(), tmp_path, **asked)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_must_exist(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_papers(demo_plan(), tmp_path / "nowhere", paper="a4", units="metric", label_sheet=SHEET)


def test_a_plan_with_nothing_in_it_can_be_printed(tmp_path: Path) -> None:
    plan = replace(demo_plan(), plantings=(), tasks=(), orders=(), shortfalls=(), warnings=())
    written = write_papers(plan, tmp_path, paper="letter", units="us", label_sheet=SHEET)
    assert len(written) == 15


def test_names_in_any_letters_do_not_break_a_page(tmp_path: Path) -> None:
    plan = demo_plan()
    site = replace(plan.book.site, name='Común "Überäcker" & Söhne, #1 *bed* <raised> [x] $5 @home \\ end_')
    plan = replace(plan, book=replace(plan.book, site=site))
    write_papers(plan, tmp_path, paper="a4", units="metric", label_sheet=SHEET)
    assert "#1 *bed* <raised> [x] $5 @home \\ end_" in words_of((tmp_path / "cards.pdf").read_bytes())


def test_sixty_plantings_are_all_drawn_and_listed() -> None:
    plan = big_plan(60)
    drawn = _words_drawn(planting_plan_data(plan, "a4", "metric"))
    sheets = _words_drawn(bed_sheets_data(plan, "a4", "metric"))
    for planting in plan.plantings:
        assert f"{planting.n_plants} {planting.crop.plan_code}" in drawn
        for row in planting.rows:
            assert any(row.code in words.split(", ") for words in drawn)
            assert row.code in sheets


def _words_drawn(data: Any) -> set[str]:
    """Every text anywhere in the data of a paper."""
    if isinstance(data, str):
        return {data}
    inner = data.values() if isinstance(data, dict) else data if isinstance(data, list | tuple) else ()
    return set().union(*(_words_drawn(item) for item in inner))
