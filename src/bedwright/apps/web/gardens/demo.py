"""The packaged example as a garden of one's own."""

from __future__ import annotations

from django.db import transaction

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.gardens.weather import keep_weather
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.service.demo_garden import demo_book


@transaction.atomic
def load_demo(person: User) -> Garden:
    """A new garden with the example's book and weather; the person is its coordinator."""
    with demo_book() as path:
        text = path.read_text(encoding="utf-8")
        book = book_of(text)
        weather = (path.parent / str(book.weather_file)).read_bytes()
    garden = Garden.objects.create(name=book.site.name)
    Membership.objects.create(garden=garden, user=person, role=Role.COORDINATOR)
    keep_weather(garden, str(book.weather_file), weather, person)
    keep(garden, text, author=person, follows=None, note="demonstration garden")
    return garden
