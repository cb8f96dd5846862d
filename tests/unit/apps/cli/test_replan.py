"""`bedwright replan` as its user meets it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bedwright.apps.cli import main
from bedwright.apps.cli.main import BAD_INPUT, DONE
from tests.builders import TINY_TEXT

Capture = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    folder = tmp_path_factory.mktemp("tiny")
    book, season = folder / "book.yaml", folder / "season"
    book.write_text(TINY_TEXT, encoding="utf-8")
    words = ["plan", str(book), "--out", str(season), "--today", "2026-12-01", "--quiet"]
    assert main(words) == DONE
    return book, season


def again(made: tuple[Path, Path], out: Path, *options: str, today: str = "2026-12-02") -> int:
    book, season = made
    words = ["replan", str(season), "--book", str(book), "--out", str(out), "--today", today, "--quiet"]
    return main([*words, *options])


def test_a_lost_bed_is_told_and_written_with_all_papers(
    made: tuple[Path, Path], tmp_path: Path, capsys: Capture
) -> None:
    assert again(made, tmp_path / "new", "--lost-bed", "A") == DONE
    told = capsys.readouterr().out
    assert told.startswith("Bed A is lost.\n")
    assert "change" in told
    names = {path.name for path in (tmp_path / "new").iterdir()}
    assert {"season.json", "planting-plan.pdf", "calendar.ics", "week-list.pdf"} <= names
    plan = json.loads((tmp_path / "new" / "season.json").read_text(encoding="utf-8"))["plan"]
    assert plan["changes"]
    assert plan["book"]["leave_alone"] == ["A"]


def test_nothing_changes_where_nothing_happened(
    made: tuple[Path, Path], tmp_path: Path, capsys: Capture
) -> None:
    assert again(made, tmp_path / "new") == DONE
    assert "Nothing in the plan changes." in capsys.readouterr().out


def test_lateness_and_missing_seed_are_read_with_their_weeks_and_days(
    made: tuple[Path, Path], tmp_path: Path, capsys: Capture
) -> None:
    options = ("--late", "tomato-1=1", "--not-delivered", "carrot=2027-03-01")
    assert again(made, tmp_path / "new", *options) == DONE
    told = capsys.readouterr().out
    assert "is 1 week late" in told
    assert "comes on 1 March 2027 only" in told


def test_calendar_events_keep_their_names_and_grow_in_sequence(
    made: tuple[Path, Path], tmp_path: Path
) -> None:
    def events(folder: Path) -> dict[str, int]:
        found: dict[str, int] = {}
        text = (folder / "calendar.ics").read_bytes().decode().replace("\r\n ", "")
        for event in text.split("BEGIN:VEVENT")[1:]:
            values = dict(line.split(":", 1) for line in event.splitlines() if ":" in line)
            found[values["UID"]] = int(values["SEQUENCE"])
        return found

    assert again(made, tmp_path / "new", "--late", "tomato-1=1") == DONE
    old, new = events(made[1]), events(tmp_path / "new")
    shared = old.keys() & new.keys()
    assert any("tomato-1" in uid for uid in shared)
    assert all(new[uid] > old[uid] for uid in shared)


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--lost-bed", "Q"), "There is no bed Q in the book"),
        (("--failed", "B99"), "a code of this season"),
        (("--hours-share", "0.5"), "promises no hours"),
    ],
)
def test_what_cannot_be_is_told_and_nothing_is_written(
    made: tuple[Path, Path], tmp_path: Path, capsys: Capture, options: tuple[str, ...], told: str
) -> None:
    assert again(made, tmp_path / "new", *options) == BAD_INPUT
    assert told in capsys.readouterr().err
    assert not (tmp_path / "new").exists()


def test_another_year_is_not_planned_again_but_carried(
    made: tuple[Path, Path], tmp_path: Path, capsys: Capture
) -> None:
    book, season = made
    later = tmp_path / "later.yaml"
    later.write_text(
        book.read_text(encoding="utf-8").replace("start: 2027-01-01", "start: 2028-01-01"), encoding="utf-8"
    )
    assert again((later, season), tmp_path / "new", today="2028-01-02") == BAD_INPUT
    assert "`bedwright carry`" in capsys.readouterr().err
    assert not (tmp_path / "new").exists()
    assert main(["carry", str(season)]) == DONE
    assert "start: 2028-01-01\n\n" in capsys.readouterr().out


def test_the_book_of_the_next_season_is_written_beside_the_old_one_and_never_over_it(
    made: tuple[Path, Path], tmp_path: Path, capsys: Capture
) -> None:
    old, season = made
    book = tmp_path / old.name
    book.write_text("# Ours.\n" + old.read_text(encoding="utf-8"), encoding="utf-8")
    new = tmp_path / "next.yaml"
    carry = ["carry", str(season), "--book", str(book), "--to"]
    assert main([*carry, str(new)]) == DONE
    assert f"--after {season}" in capsys.readouterr().out
    text = new.read_text(encoding="utf-8")
    assert text.startswith("# Ours.\n")
    assert "start: 2028-01-01" in text
    assert "year: 2027" in text
    assert main(["check", str(new)]) == DONE
    for target, told in ((new, "there already"), (season / "next.yaml", "from its own folder")):
        assert main([*carry, str(target)]) == BAD_INPUT
        assert told in capsys.readouterr().err
    assert new.read_text(encoding="utf-8") == text
    assert main(["carry", str(season), "--book", str(new), "--to", str(tmp_path / "after.yaml")]) == BAD_INPUT
    assert "season that is over" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        main(["carry", str(season), "--book", str(book)])
    assert sorted(each.name for each in tmp_path.iterdir()) == sorted((book.name, new.name))


@pytest.mark.parametrize(
    "options", [("--late", "tomato-1"), ("--late", "=3"), ("--not-delivered", "leek=May")]
)
def test_options_that_cannot_be_read_are_refused(
    made: tuple[Path, Path], tmp_path: Path, options: tuple[str, ...]
) -> None:
    with pytest.raises(SystemExit):
        again(made, tmp_path / "new", *options)
