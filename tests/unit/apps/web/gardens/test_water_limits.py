"""A limit on water is entered on a page of the book like any other entry."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from django.test import Client

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.people.models import User
from bedwright.model.book import WaterLimit

SignIn = Callable[[User | None], Client]


def test_a_limit_on_water_is_added_and_refused_where_its_days_are_swapped(
    sign_in: SignIn, garden: Garden, leader: User
) -> None:
    client, page = sign_in(leader), f"/garden/{garden.pk}/book/section/water-limits/add/"
    shown = client.get(page).content.decode()
    assert "Water in a week" in shown
    sent = {"base": "1", "name": "tank, filled on Mondays", "week_l": "900"}
    swapped = client.post(page, {**sent, "start": "2027-09-30", "end": "2027-05-01"})
    assert swapped.status_code == 422
    kept = client.post(page, {**sent, "start": "2027-05-01", "end": "2027-09-30"})
    assert kept.status_code == 302
    garden.refresh_from_db()
    assert garden.head is not None
    limits = book_of(garden.head.text).water_limits
    wanted = WaterLimit("tank, filled on Mondays", 900.0, date(2027, 5, 1), date(2027, 9, 30))
    assert limits[-1] == wanted
