"""Ctrl-C while a season is planned."""

from __future__ import annotations

import signal
from pathlib import Path

import pytest

from bedwright.apps.cli import main
from bedwright.apps.cli.main import BAD_INPUT, DONE, STOPPED
from bedwright.apps.cli.progress import ProgressLine
from bedwright.apps.cli.stopping import StopKey
from bedwright.model.progress import Progress
from bedwright.store.season import read_season
from tests.builders import TINY_TEXT

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    path = tmp_path / "book.yaml"
    path.write_text(TINY_TEXT, encoding="utf-8")
    return path


def planned(book: Path, out: Path, *options: str) -> int:
    return main(["plan", str(book), "--out", str(out), "--today", "2026-12-01", "--quiet", *options])


def pressed_in(monkeypatch: pytest.MonkeyPatch, stage: str, times: int = 1) -> None:
    """Press Ctrl-C when work of a stage is first told of."""
    left = [times]

    def told(_line: ProgressLine, progress: Progress) -> None:
        while progress.stage == stage and left[0]:
            left[0] -= 1
            signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr(ProgressLine, "__call__", told)


def test_pressed_while_places_are_sought_the_best_plan_so_far_is_written(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture
) -> None:
    pressed_in(monkeypatch, "places")
    assert planned(book, tmp_path / "season") == DONE
    told = capsys.readouterr()
    assert "best plan so far is finished" in told.err
    assert "stopped early" in told.out
    plan = read_season(tmp_path / "season" / "season.json")
    assert plan.plantings
    assert (tmp_path / "season" / "planting-plan.pdf").exists()


@pytest.mark.parametrize(("stage", "times"), [("dates", 1), ("places", 2), ("papers", 1)])
def test_pressed_earlier_or_later_or_twice_nothing_is_written(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stage: str, times: int
) -> None:
    pressed_in(monkeypatch, stage, times)
    assert planned(book, tmp_path / "season") == STOPPED
    assert not (tmp_path / "season").exists()


def test_a_stopped_season_is_searched_on_to_one_at_least_as_good(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = tmp_path / "season"
    with monkeypatch.context() as pressing:
        pressed_in(pressing, "places")
        assert planned(book, out) == DONE
    stopped = read_season(out / "season.json")
    assert planned(book, out, "--resume") == DONE
    further = read_season(out / "season.json")
    assert stopped.value is not None
    assert further.value is not None
    assert further.value >= stopped.value - 1e-6
    assert further.revision != stopped.revision
    assert not any("stopped early" in text for text in further.warnings)


def test_there_must_be_a_season_to_search_on_from(book: Path, tmp_path: Path, capsys: Capture) -> None:
    assert planned(book, tmp_path / "nothing", "--resume") == BAD_INPUT
    assert "a season plan" in capsys.readouterr().err


def test_the_key_is_given_back_afterwards() -> None:
    before = signal.getsignal(signal.SIGINT)
    with StopKey():
        assert signal.getsignal(signal.SIGINT) is not before
    assert signal.getsignal(signal.SIGINT) is before
