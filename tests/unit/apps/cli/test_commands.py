"""The `bedwright` command as its user meets it: what it prints, writes and returns."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bedwright.apps.cli import main
from bedwright.apps.cli.main import BAD_INPUT, DONE, STOPPED, UNKNOWN
from bedwright.service import make_season
from bedwright.service.demo_garden import demo_book
from tests.builders import TINY_TEXT

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def tiny(tmp_path: Path) -> Path:
    book = tmp_path / "book.yaml"
    book.write_text(TINY_TEXT, encoding="utf-8")
    return book


@pytest.fixture
def season(tiny: Path, tmp_path: Path) -> Path:
    folder = tmp_path / "season"
    assert main(["plan", str(tiny), "--out", str(folder), "--today", "2026-12-01", "--quiet"]) == DONE
    return folder


def test_plan_says_what_to_open_first(tiny: Path, tmp_path: Path, capsys: Capture) -> None:
    assert main(["plan", str(tiny), "--out", str(tmp_path / "out"), "--today", "2026-12-01"]) == DONE
    told = capsys.readouterr()
    assert "planting-plan.pdf first" in told.out
    assert "papers" in told.err


def test_plan_writes_every_paper(season: Path) -> None:
    names = {path.name for path in season.iterdir()}
    assert {
        "season.json", "planting-plan.pdf", "bed-sheets.pdf", "labels.pdf", "cards.pdf", "calendar.ics",
        "week-list.pdf", "order-list.pdf", "sources.pdf", "plantings.csv", "orders.csv",
    } <= names  # fmt: skip


def test_the_same_plan_is_the_same_bytes(season: Path, tiny: Path, tmp_path: Path) -> None:
    again = tmp_path / "again"
    assert main(["plan", str(tiny), "--out", str(again), "--today", "2026-12-01", "--quiet"]) == DONE
    for path in season.iterdir():
        assert (again / path.name).read_bytes() == path.read_bytes(), path.name


def test_a_bad_book_lists_every_problem_and_writes_nothing(
    tiny: Path, tmp_path: Path, capsys: Capture
) -> None:
    text = TINY_TEXT.replace("latitude_deg: 52.3", "latitude_deg: 152.3").replace(
        "crop: carrot", "crop: carott"
    )
    tiny.write_text(text, encoding="utf-8")
    assert main(["plan", str(tiny), "--out", str(tmp_path / "out"), "--quiet"]) == BAD_INPUT
    told = capsys.readouterr().err
    assert "latitude_deg" in told
    assert "carrot" in told
    assert "nothing was written" in told
    assert not (tmp_path / "out").exists()


def test_ctrl_c_leaves_nothing(
    tiny: Path, tmp_path: Path, capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(make_season, "write_papers", stop)
    assert main(["plan", str(tiny), "--out", str(tmp_path / "out"), "--quiet"]) == STOPPED
    assert [path.name for path in tmp_path.iterdir()] == ["book.yaml"]
    assert "half-written" in capsys.readouterr().err


def test_check_says_that_a_good_book_is_good(tiny: Path, capsys: Capture) -> None:
    assert main(["check", str(tiny)]) == DONE
    assert "no problems. 2 beds, 3 wishes" in capsys.readouterr().out


@pytest.mark.parametrize("command", ["check", "climate"])
def test_a_missing_book_is_a_problem_not_a_traceback(command: str, tmp_path: Path, capsys: Capture) -> None:
    assert main([command, str(tmp_path / "none.yaml")]) == BAD_INPUT
    assert "none.yaml" in capsys.readouterr().err


def test_climate_prints_tables_and_draws_a_chart(tmp_path: Path, capsys: Capture) -> None:
    with demo_book() as book:
        assert main(["climate", str(book), "--chart", str(tmp_path / "chart.svg")]) == DONE
    told = capsys.readouterr().out
    assert "Last frost of spring" in told
    assert "INVENTED RECORD" in told
    assert (tmp_path / "chart.svg").read_text(encoding="utf-8").lstrip().startswith("<svg")


def test_climate_lists_when_each_crop_can_go_in(capsys: Capture) -> None:
    with demo_book() as book:
        assert main(["climate", str(book), "--crops"]) == DONE
    told = capsys.readouterr().out
    assert "last useful" in told
    assert "tomato" in told
    assert "not here" in told


def test_climate_refuses_a_chart_it_cannot_draw(tmp_path: Path, capsys: Capture) -> None:
    with demo_book() as book:
        assert main(["climate", str(book), "--chart", str(tmp_path / "chart.doc")]) == BAD_INPUT
    assert ".svg or .png" in capsys.readouterr().err


def test_climate_without_a_record_says_chances_are_not_known(tiny: Path, capsys: Capture) -> None:
    assert main(["climate", str(tiny)]) == DONE
    assert "not known" in capsys.readouterr().out


def test_why_tells_reasons_from_the_season_folder(season: Path, capsys: Capture) -> None:
    capsys.readouterr()
    assert main(["why", "A1", "--season", str(season)]) == DONE
    assert "Why here" in capsys.readouterr().out


def test_why_offers_the_codes_there_are(season: Path, capsys: Capture) -> None:
    assert main(["why", "Q7", "--season", str(season)]) == UNKNOWN
    assert "A1" in capsys.readouterr().err


def test_why_needs_a_season(tmp_path: Path, capsys: Capture) -> None:
    assert main(["why", "A1", "--season", str(tmp_path)]) == BAD_INPUT
    assert "season.json" in capsys.readouterr().err


def test_one_label_is_printed_again(tiny: Path, tmp_path: Path) -> None:
    folder = tmp_path / "one"
    arguments = ["plan", str(tiny), "--out", str(folder), "--today", "2026-12-01", "--label", "A1", "--quiet"]
    assert main(arguments) == DONE


def test_an_unknown_label_is_a_problem_and_nothing_is_written(
    tiny: Path, tmp_path: Path, capsys: Capture
) -> None:
    folder = tmp_path / "one"
    arguments = ["plan", str(tiny), "--out", str(folder), "--today", "2026-12-01", "--label", "Q7", "--quiet"]
    assert main(arguments) == BAD_INPUT
    assert "Q7" in capsys.readouterr().err
    assert not folder.exists()


@pytest.mark.parametrize("units", ["metric", "us"])
def test_crop_shows_facts_with_sources(units: str, capsys: Capture) -> None:
    assert main(["crop", "tomato", "--units", units]) == DONE
    told = capsys.readouterr().out
    assert "Solanum lycopersicum" in told
    assert "HM54_KNOTT97" in told


def test_crop_without_a_name_lists_all_names(capsys: Capture) -> None:
    assert main(["crop"]) == DONE
    names = capsys.readouterr().out.split("\n")
    assert {"tomato", "pole bean", "garlic"} <= set(names)


def test_crop_knows_other_names_and_offers_near_ones(capsys: Capture) -> None:
    assert main(["crop", "courgette"]) == DONE
    assert "summer squash" in capsys.readouterr().out
    assert main(["crop", "tomatoe"]) == DONE or "tomato" in capsys.readouterr().err
    assert main(["crop", "zzzz"]) == UNKNOWN


@pytest.mark.parametrize("options", [[], ["--season"]])
def test_schema_is_json(options: list[str], capsys: Capture) -> None:
    assert main(["schema", *options]) == DONE
    assert json.loads(capsys.readouterr().out)["$schema"].startswith("https://json-schema.org/")


def test_a_wrong_day_is_told_by_the_command(tiny: Path, capsys: Capture) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["plan", str(tiny), "--out", "x", "--today", "tomorrow"])
    assert stop.value.code == BAD_INPUT
    assert "YYYY-MM-DD" in capsys.readouterr().err


def test_stations_tell_how_many_a_bed_holds(tiny: Path, capsys: Capture) -> None:
    assert main(["stations", str(tiny), "a", "Carrot", "--apart-cm", "20", "--list"]) == DONE
    told = capsys.readouterr().out
    assert "at least 20 cm apart" in told
    assert "row 1: " in told


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (["Z", "carrot"], UNKNOWN, "Beds: A"),
        (["A", "carot"], UNKNOWN, "Nearest: carrot"),
        (["A", "carrot", "--apart-cm", "0.1"], BAD_INPUT, "1 to 400 cm"),
        (["A", "carrot", "--plants", "0"], BAD_INPUT, "1 to 20000 plants"),
    ],
)
def test_stations_that_cannot_be_told_say_why(
    tiny: Path, capsys: Capture, words: list[str], code: int, told: str
) -> None:
    assert main(["stations", str(tiny), *words]) == code
    assert told in capsys.readouterr().err
