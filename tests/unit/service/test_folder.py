"""A folder appears whole or not at all."""

from pathlib import Path

import pytest

from bedwright.model.problem import BadDocumentError
from bedwright.service.folder import MARK, whole_folder


def stopped_half_way(target: Path, fault: type[BaseException]) -> None:
    with whole_folder(target) as work:
        (work / MARK).write_text("half")
        raise fault


def test_the_folder_appears_when_the_work_ends_well(tmp_path: Path) -> None:
    target = tmp_path / "out" / "season"
    with whole_folder(target) as work:
        (work / MARK).write_text("{}")
        assert not target.exists()
    assert (target / MARK).read_text() == "{}"
    assert [path.name for path in target.parent.iterdir()] == ["season"]


@pytest.mark.parametrize("fault", [KeyboardInterrupt, ValueError, MemoryError])
def test_nothing_is_left_when_the_work_is_stopped(tmp_path: Path, fault: type[BaseException]) -> None:
    target = tmp_path / "season"
    with pytest.raises(fault):
        stopped_half_way(target, fault)
    assert list(tmp_path.iterdir()) == []


def test_an_earlier_season_stays_as_it_was_when_the_work_is_stopped(tmp_path: Path) -> None:
    target = tmp_path / "season"
    with whole_folder(target) as work:
        (work / MARK).write_text("old")
    with pytest.raises(KeyboardInterrupt):
        stopped_half_way(target, KeyboardInterrupt)
    assert (target / MARK).read_text() == "old"


def test_an_earlier_season_is_replaced_whole(tmp_path: Path) -> None:
    target = tmp_path / "season"
    with whole_folder(target) as work:
        (work / MARK).write_text("old")
        (work / "old-paper.pdf").write_text("old")
    with whole_folder(target) as work:
        (work / MARK).write_text("new")
    assert [path.name for path in target.iterdir()] == [MARK]
    assert [path.name for path in tmp_path.iterdir()] == ["season"]


def test_a_folder_with_other_things_is_never_touched(tmp_path: Path) -> None:
    target = tmp_path / "photos"
    target.mkdir()
    (target / "photo.jpg").write_text("photo")
    with pytest.raises(BadDocumentError, match="other things"), whole_folder(target):
        pass
    assert (target / "photo.jpg").read_text() == "photo"


def test_a_file_in_the_way_is_a_problem(tmp_path: Path) -> None:
    target = tmp_path / "season"
    target.write_text("a file")
    with pytest.raises(BadDocumentError, match="a new or empty folder"), whole_folder(target):
        pass


def test_an_empty_folder_may_be_used(tmp_path: Path) -> None:
    target = tmp_path / "season"
    target.mkdir()
    with whole_folder(target) as work:
        (work / MARK).write_text("{}")
    assert (target / MARK).is_file()


def test_a_place_that_cannot_be_written_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(BadDocumentError, match="written"), whole_folder(tmp_path / "file" / "season"):
        pass
