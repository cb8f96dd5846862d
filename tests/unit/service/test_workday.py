"""The plan of a workday, its pack, and what is made for the days a book plans."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from bedwright.model.book import PlannedWorkday
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import SeasonPlan
from bedwright.model.work import DayWeather, Helper, Roster, ShedTool
from bedwright.papers import pack_bytes
from bedwright.service.workday import NOT_COUNTED, TOOLS_ASSUMED, pack_of, planned_packs, write_pack
from bedwright.service.workday_text import workday_text
from tests.demo import demo_plan
from tests.unit.papers.pdf_reading import reader_of, words_of

DAY = date(2027, 5, 15)
TOOLS = tuple(
    ShedTool(tool, 8)
    for tool in ("fork", "trowel", "hoe", "hand fork", "string line", "watering can", "rake", "wheelbarrow",
                 "crate", "scales", "mallet")
)  # fmt: skip


def helpers() -> tuple[Helper, ...]:
    adults = tuple(Helper(name, 600, 720) for name in ("Ada", "Ben", "Cleo", "Eli", "Gus", "Hana"))
    return (*adults, Helper("Fay", 600, 720, child=True, with_adult="Eli"))


def roster() -> Roster:
    return Roster(DAY, 600, 720, "R. Thornwick", helpers(), TOOLS)


def test_everybody_has_a_slip_and_a_line_on_the_sign_in_sheet() -> None:
    plan, pack = demo_plan(), pack_of(demo_plan(), roster())
    pages = words_of(pack_bytes(plan, pack, paper="a4", units="metric"))
    slips = next(page for page in pages.splitlines() if page.startswith("Slips"))
    sign_in = next(page for page in pages.splitlines() if page.startswith("Sign-in"))
    for helper in pack.helpers:
        assert helper.name in slips
        assert helper.name in sign_in
    assert "with Fay" in slips


def test_without_a_list_of_tools_enough_are_assumed_and_that_is_said() -> None:
    pack = pack_of(demo_plan(), replace(roster(), tools=()))
    assert pack.workday.teams
    assert not any("in the shed" in one.reason for one in pack.workday.not_today)
    assert TOOLS_ASSUMED in pack.remarks
    assert TOOLS_ASSUMED not in pack_of(demo_plan(), roster()).remarks


def test_every_page_of_the_pack_carries_the_revision() -> None:
    plan = demo_plan()
    pdf = pack_bytes(plan, pack_of(plan, roster()), paper="letter", units="us")
    assert len(reader_of(pdf).pages) >= 4
    assert all(plan.revision in page for page in words_of(pdf).splitlines())


def test_tools_and_cautions_stand_in_the_pack_with_their_sources() -> None:
    words = words_of(pack_bytes(demo_plan(), pack_of(demo_plan(), roster()), paper="a4", units="metric"))
    assert "Most in use at once" in words
    assert "University of Idaho Extension" in words
    assert "HYGIENE" not in words


def test_when_some_do_not_come_nobody_is_sent_to_them() -> None:
    pack = pack_of(demo_plan(), roster(), absent={"Eli", "Gus"})
    names = {name for team in pack.workday.teams for name in (*team.helpers, *team.children)}
    assert not names & {"Eli", "Gus", "Fay"}
    assert "Planned again without Eli, Gus." in pack.remarks


def test_in_the_wet_only_work_under_cover_is_planned() -> None:
    pack = pack_of(demo_plan(), roster(), weather=DayWeather(wet=True))
    jobs = {task.code: task for task in pack.due}
    assert all(jobs[team.task_code].under_cover for team in pack.workday.teams)


def test_the_board_is_told_in_words() -> None:
    words = workday_text(demo_plan(), pack_of(demo_plan(), roster()))
    assert "10:10 to 10:55" in words
    assert "Ada" in words
    assert "If it rains: " in words


def test_nobody_at_all_is_a_pack_too() -> None:
    pack = pack_of(demo_plan(), replace(roster(), helpers=()))
    assert pack_bytes(demo_plan(), pack, paper="a4", units="metric")
    assert "no job that the plan needs done now" in workday_text(demo_plan(), pack)


def _planning(*days: PlannedWorkday) -> SeasonPlan:
    plan = demo_plan()
    return replace(plan, book=replace(plan.book, workdays=days))


def test_workdays_of_the_book_get_packs_for_people_counted() -> None:
    plan = _planning(
        PlannedWorkday(DAY, "planting day", 600, 2.0, 12),
        PlannedWorkday(date(2027, 7, 3), "open day", 840, 3.0),
    )
    packs = dict(planned_packs(plan))
    assert list(packs) == ["workday-2027-05-15-1000.pdf", "workday-2027-07-03-1400.pdf"]
    counted, uncounted = packs.values()
    assert len(counted.helpers) == 12
    assert not counted.named
    assert uncounted.remarks == (NOT_COUNTED,)
    words = words_of(pack_bytes(plan, counted, paper="a4", units="metric"))
    assert "Helper 12: ____" in words


def test_a_folder_with_other_things_is_left_alone(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / "letter.txt").write_text("dear", encoding="utf-8")
    with pytest.raises(BadDocumentError):
        write_pack(demo_plan(), pack_of(demo_plan(), roster()), folder, "a4", "metric")
    assert [path.name for path in folder.iterdir()] == ["letter.txt"]
