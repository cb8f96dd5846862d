"""German pages hold no English but what is marked as the words of a source."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.models import SavedPlan
from bedwright.store.season import season_from_text

SignIn = Callable[[User | None], Client]
STILL_ENGLISH = re.compile(r'<(?:span|li|p|ul|tbody) lang="en">(.*?)</', re.DOTALL)


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["plan", "changes", "curves", "drawing", "beds"])
def test_the_pages_of_a_plan_speak_german(
    sign_in: SignIn, coordinator: User, garden: Garden, saved_plan: SavedPlan, name: str
) -> None:
    page = sign_in(coordinator).get(
        reverse(f"season:{name}", args=[garden.pk, saved_plan.pk]), headers={"accept-language": "de"}
    )
    assert page.status_code == 200
    assert STILL_ENGLISH.findall(page.content.decode()) == []


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["planting", "why"])
def test_the_reasons_of_a_planting_are_german_and_its_sources_are_not(
    sign_in: SignIn, coordinator: User, garden: Garden, saved_plan: SavedPlan, small_season: str, name: str
) -> None:
    code = season_from_text(small_season).plantings[0].code
    page = sign_in(coordinator).get(
        reverse(f"season:{name}", args=[garden.pk, saved_plan.pk, code]), headers={"accept-language": "de"}
    )
    text = page.content.decode()
    assert "alle gewünschten." in text
    sources = {unescape(found.split("<", 1)[0].strip()) for found in STILL_ENGLISH.findall(text)}
    citations = {source.citation for source in season_from_text(small_season).sources.values()}
    assert {words for words in sources if words and words not in citations} == set()


@pytest.mark.django_db
def test_problems_of_a_book_are_german(sign_in: SignIn, coordinator: User, garden: Garden) -> None:
    assert garden.head is not None
    text = garden.head.text.replace("latitude_deg: 52.31", "latitude_deg: north")
    page = sign_in(coordinator).post(
        reverse("book:text", args=[garden.pk]),
        {"text": text, "base": garden.head.number},
        headers={"accept-language": "de"},
    )
    shown = page.content.decode()
    assert page.status_code == 422
    assert "erhalten: north; erwartet: eine Zahl, -90 bis 90 Grad Nord." in shown
    assert STILL_ENGLISH.findall(shown) == []
