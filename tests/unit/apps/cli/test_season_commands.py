"""`bedwright week`, `water` and `workday` as their user meets them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from bedwright.apps.cli import main
from bedwright.apps.cli.main import BAD_INPUT, DONE, UNKNOWN
from bedwright.service.demo_garden import demo_book
from bedwright.store.gauge import KnownCodes, read_water_log_text
from bedwright.store.people import read_people_text
from bedwright.store.season import season_json
from tests.builders import TINY_TEXT
from tests.demo import demo_plan

Capture = pytest.CaptureFixture[str]
PEOPLE = """\
workday: {date: 2027-05-15, start: "10:00", end: "12:00"}
people:
  - {name: Ada Brook}
  - {name: Eli Wood}
tools:
  - {tool: fork, count: 2}
  - {tool: hand fork, count: 2}
  - {tool: watering can, count: 2}
"""


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("season")
    (folder / "season.json").write_text(season_json(demo_plan()), encoding="utf-8")
    return folder


@pytest.fixture
def book() -> Iterator[Path]:
    with demo_book() as path:
        yield path


@pytest.fixture
def people(tmp_path: Path) -> Path:
    path = tmp_path / "people.yaml"
    path.write_text(PEOPLE, encoding="utf-8")
    return path


@pytest.fixture
def tiny(tmp_path: Path) -> Path:
    path = tmp_path / "book.yaml"
    path.write_text(TINY_TEXT, encoding="utf-8")
    return path


# week


def test_week_prints_and_writes_the_list_of_a_season(season: Path, tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "week"
    assert main(["week", "--season", str(season), "--date", "2027-06-10", "--out", str(out)]) == DONE
    told = capsys.readouterr().out
    assert "Week of Monday 7 June 2027" in told
    assert {path.name for path in out.iterdir()} == {"week.pdf", "week.ics"}


def test_week_plans_a_book_that_has_no_season_yet(tiny: Path, capsys: Capture) -> None:
    assert main(["week", str(tiny), "--date", "2027-05-10", "--quiet"]) == DONE
    told = capsys.readouterr()
    assert "Week of Monday 10 May 2027" in told.out
    assert "--season DIR" in told.err


def test_week_wants_a_book_or_a_season(capsys: Capture) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["week"])
    assert stopped.value.code == BAD_INPUT
    assert "--season" in capsys.readouterr().err


def test_week_keeps_a_folder_with_other_things(season: Path, tmp_path: Path, capsys: Capture) -> None:
    (tmp_path / "letter.txt").write_text("dear", encoding="utf-8")
    assert (
        main(["week", "--season", str(season), "--date", "2027-06-10", "--out", str(tmp_path)]) == BAD_INPUT
    )
    assert (tmp_path / "letter.txt").read_text(encoding="utf-8") == "dear"
    assert "output folder" in capsys.readouterr().err


def test_a_day_no_garden_will_see_is_refused(season: Path, capsys: Capture) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["week", "--season", str(season), "--date", "9999-12-31"])
    assert stopped.value.code == BAD_INPUT
    assert "years" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["week", "water"])
def test_a_missing_book_or_season_is_a_problem(command: str, tmp_path: Path, capsys: Capture) -> None:
    assert main([command, str(tmp_path / "none.yaml"), "--quiet"]) == BAD_INPUT
    assert main([command, str(tmp_path / "none.yaml"), "--season", str(tmp_path)]) == BAD_INPUT
    assert "none.yaml" in capsys.readouterr().err


# water


def test_water_tells_what_each_bed_wants(season: Path, book: Path, tmp_path: Path, capsys: Capture) -> None:
    log = tmp_path / "log.yaml"
    log.write_text("rain:\n  - {date: 2027-06-01, rain_mm: 4}\nflow_l_min: 15\ncan_l: 10\n", encoding="utf-8")
    arguments = ["water", str(book), "--season", str(season), "--date", "2027-07-01", "--log", str(log)]
    arguments += ["--forecast", "2027-07-02=8mm", "--available", "50", "--duty", "2027-07-03", "2027-07-04"]
    assert main(arguments) == DONE
    told = capsys.readouterr().out
    assert "at 15 L/min or" in told
    assert "50 L for " in told
    assert "Duty list" in told
    assert "Rain is known up to 1 June 2027" in told


def test_water_without_a_record_is_a_problem(tiny: Path, capsys: Capture) -> None:
    assert main(["water", str(tiny), "--date", "2027-06-01", "--quiet"]) == BAD_INPUT
    assert "no weather record" in capsys.readouterr().err


@pytest.mark.parametrize(
    "options",
    [
        ["--available", "-5"],
        ["--available", "nan"],
        ["--if-rain", "-1"],
        ["--forecast", "tomorrow"],
        ["--duty", "2027-07-04", "2027-07-03"],
        ["--log", "none.yaml"],
        ["--duty", "2090-07-04", "2090-07-05"],
    ],
    ids=lambda options: options[0] + options[1],
)
def test_water_refuses_what_cannot_be(season: Path, book: Path, options: list[str], capsys: Capture) -> None:
    assert main(["water", str(book), "--season", str(season), "--date", "2027-07-01", *options]) == BAD_INPUT
    assert "expected" in capsys.readouterr().err


def test_water_says_when_the_book_has_changed_since(
    season: Path, book: Path, tmp_path: Path, capsys: Capture
) -> None:
    text = book.read_text(encoding="utf-8").replace("Lantern Field learning garden", "Another garden")
    other = tmp_path / "book.yaml"
    other.write_text(text, encoding="utf-8")
    (tmp_path / "weather.csv").write_bytes((book.parent / "weather.csv").read_bytes())
    assert main(["water", str(other), "--season", str(season), "--date", "2027-07-01"]) == DONE
    assert "another state of the garden book" in capsys.readouterr().err
    assert main(["water", str(book), "--season", str(season), "--date", "2027-07-01"]) == DONE
    assert capsys.readouterr().err == ""


def test_the_files_shown_in_the_guide_can_be_read() -> None:
    guide = (Path(__file__).parents[4] / "docs" / "guide.md").read_text(encoding="utf-8")
    log, people = re.findall(r"```yaml\n(.*?)```", guide, re.DOTALL)
    known = KnownCodes(["C"], {"B4": "carrot-1"})
    assert len(read_water_log_text(log, "log.yaml", known, today=date(2027, 6, 18)).waterings) == 2
    assert len(read_people_text(people, "people.yaml", today=date(2027, 5, 1)).helpers) == 6


# workday


def test_workday_prints_the_board_and_writes_the_pack(
    season: Path, people: Path, tmp_path: Path, capsys: Capture
) -> None:
    out = tmp_path / "pack"
    arguments = ["workday", "--season", str(season), "--people", str(people), "--date", "2027-05-14"]
    assert main([*arguments, "--out", str(out)]) == DONE
    assert "Ada Brook" in capsys.readouterr().out
    assert [path.name for path in out.iterdir()] == ["workday.pdf"]


def test_workday_is_planned_again_without_those_who_did_not_come(
    season: Path, people: Path, capsys: Capture
) -> None:
    arguments = ["workday", "--season", str(season), "--people", str(people), "--date", "2027-05-14"]
    assert main([*arguments, "--absent", "Ada Brook", "--wet"]) == DONE
    told = capsys.readouterr().out
    assert "Planned again without Ada Brook." in told
    assert told.count("Ada Brook") == 1


def test_workday_offers_the_nearest_name(season: Path, people: Path, capsys: Capture) -> None:
    arguments = ["workday", "--season", str(season), "--people", str(people), "--date", "2027-05-14"]
    assert main([*arguments, "--absent", "Ada Brok"]) == UNKNOWN
    assert "Ada Brook" in capsys.readouterr().err


def test_a_bad_people_file_lists_its_problems(season: Path, people: Path, capsys: Capture) -> None:
    people.write_text(PEOPLE.replace("Eli Wood", "Ada Brook"), encoding="utf-8")
    arguments = ["workday", "--season", str(season), "--people", str(people), "--date", "2027-05-14"]
    assert main(arguments) == BAD_INPUT
    assert "each once" in capsys.readouterr().err
