from __future__ import annotations

from collections.abc import Callable

import pytest
from django.http import QueryDict
from django.test import Client
from django.utils.translation import override

from bedwright.apps.web.gardens.entry.boxes import Box
from bedwright.apps.web.gardens.entry.posted import entry_of
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.apps.web.season.models import SavedPlan

SignIn = Callable[[User | None], Client]
ASKED = {
    "site.name": "Wicket Lane", "site.latitude_deg": "41.9", "site.longitude_deg": "-91.5",
    "site.time_zone": "America/Chicago", "site.units": "us", "site.paper": "letter",
    "season.start": "2027-01-01", "weather.stated_frost.last_spring": "05-01",
    "weather.stated_frost.first_autumn": "10-05", "beds[1].code": "A", "beds[1].texture": "loam",
    "beds[1].rectangle.bearing_deg": "0",
}  # fmt: skip


def test_boxes_ask_in_feet_where_the_browser_is_american_and_in_metres_elsewhere(
    sign_in: SignIn, outsider: User
) -> None:
    client = sign_in(outsider)
    american = client.get("/new/", headers={"accept-language": "en-US,en;q=0.9"}).content.decode()
    assert 'name="beds[1].rectangle.length_ft"' in american
    assert '<option value="letter" selected>' in american
    british = client.get("/new/", headers={"accept-language": "en-GB"}).content.decode()
    assert 'name="beds[1].rectangle.length_m"' in british
    chosen = client.get("/new/?units=us", headers={"accept-language": "en-GB"}).content.decode()
    assert 'name="beds[1].rectangle.length_ft"' in chosen


def test_what_was_asked_in_feet_is_kept_as_typed(sign_in: SignIn, outsider: User) -> None:
    posted = ASKED | {
        "shown_in": "us", "site.elevation_ft": "800", "beds[1].rectangle.length_ft": "16",
        "beds[1].rectangle.width_ft": "4", "beds[1].rectangle.east_ft": "0",
        "beds[1].rectangle.north_ft": "0",
    }  # fmt: skip
    assert sign_in(outsider).post("/new/", posted).status_code == 302
    book = head_book(Garden.objects.get())
    assert book is not None
    assert abs(book.beds[0].frame.length_m - 4.8768) < 1e-9
    assert (book.site.units, book.site.paper) == ("us", "letter")


def test_no_fact_of_the_place_is_filled_in(sign_in: SignIn, outsider: User) -> None:
    answer = sign_in(outsider).post("/new/", {"shown_in": "metric", "beds[1].rectangle.east_m": "0"})
    page = answer.content.decode()
    assert answer.status_code == 422
    for name in ("latitude_deg", "longitude_deg", "elevation_m", "texture", "length_m", "bearing_deg"):
        assert f"{name}-problem" in page, name
    # said as to somebody at a form: there is no key to add
    assert "Please choose." in page
    assert "Still empty; expected a number, -90 to 90 degrees north." in page
    assert "add the key" not in page


def test_limits_are_written_as_the_language_writes_numbers(sign_in: SignIn, outsider: User) -> None:
    client = sign_in(outsider)
    assert "0,3 bis 60." in client.get("/new/", headers={"accept-language": "de"}).content.decode()
    assert "0.3 to 60." in client.get("/new/", headers={"accept-language": "en"}).content.decode()


@pytest.mark.parametrize(
    ("language", "written", "kept"),
    [
        ("en", "5 May", "05-05"), ("en", "Oct 12", "10-12"), ("de", "5. Mai", "05-05"),
        ("de", "12 Oktober", "10-12"), ("de", "31 Dez.", "12-31"), ("en", "05-05", "05-05"),
        ("en", "5 Floréal", "5 Floréal"), ("en", "5.10.", "5.10."),
    ],
)  # fmt: skip
def test_a_day_of_the_year_may_be_written_with_the_name_of_its_month(
    language: str, written: str, kept: str
) -> None:
    box = Box("weather.stated_frost.last_spring", "month_day", "Last frost of spring")
    data = QueryDict(mutable=True)
    data[box.name] = written
    with override(language):
        assert entry_of([box], data, language) == {"last_spring": kept}


def test_the_overview_parts_what_the_papers_wait_for_from_what_makes_the_plan_surer(
    sign_in: SignIn, coordinator: User, garden: Garden, saved_plan: SavedPlan
) -> None:
    page = sign_in(coordinator).get(f"/garden/{garden.pk}/").content.decode()
    assert "Print the papers" in page or "Make the plan again" in page
    begun = Garden.objects.create(name="Begun")
    Membership.objects.create(garden=begun, user=coordinator, role=Role.COORDINATOR)
    text = garden.head.text if garden.head is not None else ""
    keep(begun, text[: text.index("wishes:")] + "wishes: []\n", author=coordinator, follows=None)
    page = sign_in(coordinator).get(f"/garden/{begun.pk}/").content.decode()
    first, _, later = page.partition("What makes the plan surer")
    assert "Say what you want to grow" in first
    assert "Say who helps" in later
