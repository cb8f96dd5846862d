from __future__ import annotations

import csv
import io
import uuid
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from django.test import Client
from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.log.accepting import accept
from bedwright.apps.web.log.models import LogEntry
from bedwright.apps.web.log.reading import all_records_of
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.making import ask_for_plan, make_plan
from bedwright.apps.web.season.models import PlanKind, PlanState, SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.service.season_log import conflicts_of, standing_records
from tests.unit.apps.web.log.lines import line, sender

SignIn = Callable[[User | None], Client]


def log_of(garden: Garden) -> str:
    return f"/garden/{garden.pk}/log/"


def form(**fields: Any) -> dict[str, Any]:
    return {
        "client_id": str(uuid.uuid4()),
        "written_at": timezone.now().isoformat(),
        "day": "2026-11-02",
        "kind": "picked",
        "planting": "",
        "bed": "A",
        "quantity": "2.5",
        "unit": "kg",
        "hours": "",
        "note": "",
    } | fields


def test_an_empty_log_says_what_to_do_next(garden: Garden, reader: User, sign_in: SignIn) -> None:
    page = sign_in(reader).get(log_of(garden)).content.decode()
    assert "Nothing is written down yet" in page
    assert "log/new/" not in page


def test_times_written_down_become_rates_to_copy_into_the_book(
    garden: Garden, volunteer: User, saved_plan: SavedPlan, sign_in: SignIn
) -> None:
    assert saved_plan
    client = sign_in(volunteer)
    season = f"{log_of(garden)}season/"
    assert "Your own times" not in client.get(season).content.decode()
    for _ in range(3):
        sent = form(planting="carrot-1", quantity="2", hours="0.1")
        assert client.post(f"{log_of(garden)}new/", sent).status_code == 302
    page = client.get(season).content.decode()
    assert "Your own times" in page
    # 6 minutes for 2 kg, three times.
    assert "{job: pick, min_per_kg: [3, 3, 3]}" in page


def test_who_may_edit_is_shown_what_goes_into_the_next_book(
    garden: Garden, coordinator: User, volunteer: User, saved_plan: SavedPlan, sign_in: SignIn
) -> None:
    assert saved_plan
    season = f"{log_of(garden)}season/"
    page = sign_in(coordinator).get(season).content.decode()
    assert "start: 2028-01-01" in page
    assert "{bed: A, year: 2027, crops: [carrot, lettuce]}" in page
    assert "--after" not in page
    assert "start: 2028-01-01" not in sign_in(volunteer).get(season).content.decode()


def test_one_press_begins_the_book_of_the_next_season(
    garden: Garden, coordinator: User, saved_plan: SavedPlan, sign_in: SignIn
) -> None:
    client, season = sign_in(coordinator), f"{log_of(garden)}season/"
    assert "Begin the book of the next season" in client.get(season).content.decode()
    assert garden.head is not None
    old = garden.head
    press = {"base": str(old.number)}
    page = client.post(f"{season}next/", press, follow=True).content.decode()
    assert "This is the book of the season from 1 January 2028" in page
    garden.refresh_from_db()
    assert garden.head is not None
    new = book_of(garden.head.text)
    assert (new.season_start, new.pins) == (date(2028, 1, 1), ())
    assert any({"carrot", "lettuce"} <= set(each.crops) for each in new.history if each.year == 2027)
    before_pins = old.text.partition("\npins:")[0]
    comments = {row.strip() for row in before_pins.splitlines() if row.strip().startswith("#")}
    assert comments <= {row.strip() for row in garden.head.text.splitlines()}

    page = client.get(season).content.decode()
    assert "The garden book is that of the season from 1 January 2028 by now" in page
    page = client.post(f"{season}next/", {"base": str(garden.head.number)}, follow=True).content.decode()
    assert "Somebody changed the book a moment ago" in page
    garden.refresh_from_db()
    assert garden.head.number == old.number + 1

    # What belongs to the season that is over is no longer made with this book.
    page = client.get(f"/garden/{garden.pk}/season/again/", follow=True).content.decode()
    assert "of another season by now" in page
    pin = f"/garden/{garden.pk}/season/{saved_plan.pk}/pin/carrot-1/"
    assert "of another season by now" in client.post(pin, follow=True).content.decode()
    asked = ask_for_plan(
        garden, coordinator, today=date(2027, 6, 1), seed=1, kind=PlanKind.AGAIN, follows=saved_plan
    )
    make_plan.call(asked.pk)
    asked.refresh_from_db()
    assert asked.state == PlanState.FAILED
    assert asked.problems[0]["got"] == "it is of the season from 2027-01-01"


def test_a_line_written_on_the_page_is_listed_with_who_and_when(
    garden: Garden, volunteer: User, saved_plan: SavedPlan, sign_in: SignIn
) -> None:
    client = sign_in(volunteer)
    assert client.get(f"{log_of(garden)}new/").status_code == 200
    sent = form(planting="carrot-1", hours="1.5", note="first bunch")
    assert client.post(f"{log_of(garden)}new/", sent).status_code == 302
    kept = garden.log_entries.get()
    row = next(each.label_code for each in plan_of(saved_plan).plantings if each.code == "carrot-1")
    assert (kept.crop, kept.row_code, kept.person_min, str(kept.day)) == ("carrot", row, 90, "2026-11-02")
    page = client.get(log_of(garden)).content.decode()
    assert "Vela" in page
    assert "first bunch" in page
    assert "2.50 kg" in page


def test_a_form_sent_twice_writes_one_line(garden: Garden, volunteer: User, sign_in: SignIn) -> None:
    client, sent = sign_in(volunteer), form()
    for _ in range(2):
        assert client.post(f"{log_of(garden)}new/", sent).status_code == 302
    assert garden.log_entries.count() == 1


def test_faults_of_a_line_stand_at_their_fields(garden: Garden, volunteer: User, sign_in: SignIn) -> None:
    client = sign_in(volunteer)
    answer = client.post(f"{log_of(garden)}new/", form(unit="mm", day="someday"))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "does not belong to what happened" in page
    assert "id_day_error" in page
    half = client.post(f"{log_of(garden)}new/", form(unit=""))
    assert "Give an amount with its unit" in half.content.decode()
    assert not garden.log_entries.exists()


def test_a_correction_is_a_new_line_and_the_old_one_stays_in_the_history(
    garden: Garden, volunteer: User, sign_in: SignIn
) -> None:
    crate = line(note="typed wrong")
    accept(garden, sender(garden, volunteer), [crate])
    client = sign_in(volunteer)
    address = f"{log_of(garden)}line/{crate['id']}/"
    shown = client.get(f"{address}correct/").content.decode()
    assert 'value="2.5"' in shown
    corrected = form(quantity="3.5", planting="carrot-1")
    assert client.post(f"{address}correct/", corrected).status_code == 302
    assert garden.log_entries.count() == 2
    page = client.get(log_of(garden)).content.decode()
    assert "3.50 kg" in page
    assert "2.50 kg" not in page
    assert "2.50 kg" in client.get(f"{log_of(garden)}?history=1").content.decode()
    old = client.get(address).content.decode()
    assert "no longer counts" in old
    assert "3.50 kg" in old


def test_a_line_taken_away_stays_in_the_history(garden: Garden, volunteer: User, sign_in: SignIn) -> None:
    crate = line()
    accept(garden, sender(garden, volunteer), [crate])
    client = sign_in(volunteer)
    assert client.post(f"{log_of(garden)}line/{crate['id']}/strike/").status_code == 302
    assert "No line" not in client.get(log_of(garden)).content.decode()
    assert standing_records(all_records_of(garden)) == ()
    assert garden.log_entries.count() == 2


def test_only_the_writer_or_a_leader_corrects(
    garden: Garden, volunteer: User, coordinator: User, leader: User, sign_in: SignIn
) -> None:
    crate = line()
    accept(garden, sender(garden, coordinator), [crate])
    address = f"{log_of(garden)}line/{crate['id']}/"
    assert sign_in(volunteer).get(f"{address}correct/").status_code == 403
    assert sign_in(volunteer).post(f"{address}strike/").status_code == 403
    assert sign_in(leader).get(f"{address}correct/").status_code == 200


def test_lines_are_filtered_by_bed_crop_kind_and_day_and_summed(
    garden: Garden, coordinator: User, sign_in: SignIn
) -> None:
    now = timezone.now()
    lines = [
        line(now - timedelta(days=n), bed=bed, crop=crop, quantity=kg)
        for n, bed, crop, kg in ((0, "A", "carrot", 1.0), (5, "B", "beet", 2.0), (9, "B", "carrot", 4.0))
    ]
    rain = line(kind="rain", quantity=12, unit="mm", bed="", crop="", planting="", row="")
    accept(garden, sender(garden, coordinator), [*lines, rain])
    client = sign_in(coordinator)

    def picked(query: str) -> str:
        context = client.get(f"{log_of(garden)}?{query}").context
        assert context is not None
        return str(context["picked"])

    assert picked("") == "7.00 kg"
    assert picked("bed=B") == "6.00 kg"
    assert picked("crop=carrot") == "5.00 kg"
    first = (now - timedelta(days=6)).date()
    assert picked(f"first={first}&last={now.date()}") == "3.00 kg"
    assert picked("kind=rain") == "0.00 kg"
    assert picked("kind=nonsense&first=someday") == "7.00 kg"


def test_the_table_holds_every_line_and_no_formula(
    garden: Garden, coordinator: User, sign_in: SignIn
) -> None:
    accept(
        garden, sender(garden, coordinator), [line(note="=1+1"), line(kind="seen", quantity=None, unit="")]
    )
    answer = sign_in(coordinator).get(f"{log_of(garden)}log.csv")
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    rows = list(csv.DictReader(io.StringIO(answer.content.decode())))
    assert {row["note"] for row in rows} == {"'=1+1", ""}
    assert {row["author"] for row in rows} == {"Corin"}
    assert {row["quantity"] for row in rows} == {"2.5", ""}


def ticked_twice(garden: Garden, one: User, other: User) -> tuple[dict[str, Any], dict[str, Any]]:
    ticks = tuple(
        line(kind="sown", quantity=n, unit="plants", task="carrot-1:sow", note="") for n in (40, 36)
    )
    accept(garden, sender(garden, one), [ticks[0]])
    accept(garden, sender(garden, other), [ticks[1]])
    return ticks[0], ticks[1]


def test_two_people_who_ticked_one_job_differently_are_shown_and_settled(
    garden: Garden, volunteer: User, leader: User, sign_in: SignIn
) -> None:
    first, second = ticked_twice(garden, volunteer, leader)
    page = sign_in(volunteer).get(log_of(garden)).content.decode()
    assert "Reported finished more than once" in page
    assert "This one is right" not in page
    sent = {"report": first["id"], "keep": second["id"]}
    client = sign_in(leader)
    assert client.post(f"{log_of(garden)}settle/", sent).status_code == 302
    (held,) = standing_records(all_records_of(garden))
    assert held.id == second["id"]
    assert LogEntry.objects.filter(garden=garden).count() == 3
    assert "Reported finished more than once" not in client.get(log_of(garden)).content.decode()
    assert client.post(f"{log_of(garden)}settle/", sent, follow=True).status_code == 200


def test_two_reports_can_be_parts_that_add_up(
    garden: Garden, volunteer: User, leader: User, sign_in: SignIn
) -> None:
    first, _ = ticked_twice(garden, volunteer, leader)
    sign_in(leader).post(f"{log_of(garden)}settle/", {"report": first["id"], "do": "add"})
    held = standing_records(all_records_of(garden))
    assert conflicts_of(held) == ()
    assert sum(record.quantity or 0 for record in held) == 76


def test_planned_and_done_stand_beside_each_other(
    garden: Garden, leader: User, saved_plan: SavedPlan, sign_in: SignIn
) -> None:
    client = sign_in(leader)
    assert "carrot" in client.get(f"{log_of(garden)}season/").content.decode()
    saved_plan.delete()
    assert "no season plan yet" in client.get(f"{log_of(garden)}season/").content.decode()


def test_a_doubtful_day_is_told_in_the_list_and_at_the_line(
    garden: Garden, volunteer: User, sign_in: SignIn
) -> None:
    crate = line(timezone.now() + timedelta(days=400))
    accept(garden, sender(garden, volunteer), [crate])
    client = sign_in(volunteer)
    assert "Check the day" in client.get(log_of(garden)).content.decode()
    assert "cannot have been right" in client.get(f"{log_of(garden)}line/{crate['id']}/").content.decode()


def test_other_work_is_told_by_the_job_that_was_ticked(
    garden: Garden, volunteer: User, sign_in: SignIn
) -> None:
    work: dict[str, Any] = {"kind": "work", "quantity": None, "unit": ""}
    ticked = line(**work, task="carrot-1:mulch")
    accept(garden, sender(garden, volunteer), [ticked, line(**work, crop="", note="path swept")])
    client = sign_in(volunteer)
    for address in (log_of(garden), f"/garden/{garden.pk}/"):
        shown = client.get(address, headers={"accept-language": "de"}).content.decode()
        assert "Mulchen Möhre" in shown
        assert "andere Arbeit" in shown
    one = client.get(f"{log_of(garden)}line/{ticked['id']}/").content.decode()
    assert "Mulch round: carrot" in one


def test_an_amount_that_can_only_be_a_slip_is_told_at_its_box(
    garden: Garden, volunteer: User, sign_in: SignIn
) -> None:
    client = sign_in(volunteer)
    answer = client.post(
        f"{log_of(garden)}new/", form(quantity="9000", hours="99999"), headers={"accept-language": "de"}
    )
    assert answer.status_code == 422
    errors = answer.context["form"].errors
    assert set(errors) == {"quantity", "hours"}
    assert errors["quantity"] == ["Mehr als 5000,00 kg in einer Zeile gilt als Tippfehler."]
    assert not LogEntry.objects.exists()


def test_a_later_sowing_keeps_its_code_with_the_slash_in_it(garden: Garden, volunteer: User) -> None:
    sent = line(
        planting="lettuce-1/2", task="lettuce-1/2:sow", plan="c50d7cab", kind="sown", quantity=None, unit=""
    )
    coming = line(planting="0123abcd|lettuce-1/2", task="0123abcd|lettuce-1/2:sow", plan="c50d7cab")
    accept(garden, sender(garden, volunteer), [sent, coming])
    kept = {entry.plan_digest: (entry.planting_code, entry.task_code) for entry in garden.log_entries.all()}
    assert kept == dict.fromkeys(("c50d7cab", "0123abcd"), ("lettuce-1/2", "lettuce-1/2:sow"))
