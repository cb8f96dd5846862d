from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.accepting import accept
from bedwright.apps.web.log.models import Clock
from bedwright.apps.web.log.reading import record_of
from bedwright.apps.web.people.models import User
from tests.unit.apps.web.log.lines import line, sender


def states(garden: Garden, author: User, *items: Any, leader: bool = False) -> list[str]:
    return [each.state for each in accept(garden, sender(garden, author, leader=leader), items)]


def test_a_line_is_kept_once_however_often_it_is_sent(garden: Garden, volunteer: User) -> None:
    crate = line()
    assert states(garden, volunteer, crate, crate) == ["kept", "kept"]
    assert states(garden, volunteer, crate) == ["had"]
    (kept,) = garden.log_entries.all()
    assert (kept.quantity, kept.crop, kept.author) == (2.5, "carrot", volunteer)


def test_another_line_under_the_same_id_is_refused_and_the_first_stays(
    garden: Garden, volunteer: User
) -> None:
    crate = line()
    states(garden, volunteer, crate)
    assert states(garden, volunteer, crate | {"quantity": 9.0}) == ["refused"]
    assert garden.log_entries.get().quantity == 2.5


def test_the_same_id_in_two_gardens_is_two_lines(garden: Garden, coordinator: User) -> None:
    other = load_demo(coordinator)
    crate = line()
    assert states(garden, coordinator, crate) == ["kept"]
    assert states(other, coordinator, crate) == ["kept"]


def test_one_bad_line_keeps_no_good_one_back_and_is_told_every_fault(garden: Garden, volunteer: User) -> None:
    bad = line(kind="eaten", quantity=-1, bed="LONGERTHAN6")
    good = line()
    answers = accept(garden, sender(garden, volunteer), [bad, good, "nonsense", {"id": 7}])
    assert [each.state for each in answers] == ["refused", "kept", "refused", "refused"]
    assert len(answers[0].problems) >= 3
    assert garden.log_entries.count() == 1


@pytest.mark.parametrize(
    "fields",
    [
        {"quantity": float("nan")},
        {"quantity": True},
        {"quantity": 6000},
        {"unit": "mm"},
        {"unit": None},
        {"day": "2027-02-30"},
        {"day": "in spring"},
        {"written_at": "2027-05-04T10:00:00"},
        {"id": "7"},
        {"note": "x" * 4001},
        {"note": "\x00"},
        {"note": 7},
        {"person_min": -5},
        {"person_min": 1.5},
        {"struck": True},
        {"partly": "yes"},
        {"corrects": "nothing"},
    ],
)
def test_what_a_line_cannot_be_is_refused(garden: Garden, volunteer: User, fields: dict[str, Any]) -> None:
    assert states(garden, volunteer, line(**fields)) == ["refused"]
    assert not garden.log_entries.exists()


def test_a_line_of_somebody_else_waits_for_them(garden: Garden, volunteer: User, leader: User) -> None:
    crate = line(author=volunteer.pk)
    assert states(garden, leader, crate) == ["other person"]
    assert states(garden, volunteer, crate) == ["kept"]


def test_a_volunteer_corrects_own_lines_and_a_leader_any(
    garden: Garden, volunteer: User, coordinator: User, leader: User
) -> None:
    own, others = line(), line()
    states(garden, volunteer, own)
    states(garden, coordinator, others)
    assert states(garden, volunteer, line(corrects=own["id"])) == ["kept"]
    assert states(garden, volunteer, line(corrects=others["id"])) == ["refused"]
    assert states(garden, leader, line(corrects=others["id"]), leader=True) == ["kept"]


def test_a_correction_may_come_before_its_line(garden: Garden, volunteer: User) -> None:
    crate = line()
    taken_back = line(corrects=crate["id"], struck=True)
    assert states(garden, volunteer, taken_back) == ["kept"]
    assert states(garden, volunteer, crate) == ["kept"]


def test_a_clock_wrong_by_a_year_gives_the_right_day_with_both_times_kept(
    garden: Garden, volunteer: User
) -> None:
    now = timezone.now()
    year = timedelta(days=365)
    crate = line(now - timedelta(days=1) + year)
    (answer,) = accept(garden, sender(garden, volunteer, sent_at=now + year), [crate])
    assert answer.state == "kept"
    kept = garden.log_entries.get()
    assert kept.day == (now - timedelta(days=1)).date()
    assert kept.stated_day == (now - timedelta(days=1) + year).date()
    assert kept.clock == Clock.SET_RIGHT
    assert kept.written_at.isoformat() == crate["written_at"]
    assert abs((record_of(kept).at - (now - timedelta(days=1))).total_seconds()) < 60


def test_a_fault_of_the_database_fails_one_line_and_not_its_neighbours(
    garden: Garden, volunteer: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    from django.db import DatabaseError  # noqa: PLC0415 - used here alone

    from bedwright.apps.web.log import accepting  # noqa: PLC0415 - patched here

    poison, good = line(), line()
    whole = accepting._keep_together

    def broken(garden: Garden, sent_by: Any, lines: Any) -> Any:
        if any(str(each.id) == poison["id"] for each in lines):
            raise DatabaseError("made up")
        return whole(garden, sent_by, lines)

    monkeypatch.setattr(accepting, "_keep_together", broken)
    assert states(garden, volunteer, poison, good) == ["failed", "kept"]
