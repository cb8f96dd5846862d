from __future__ import annotations

import gzip
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from django.test import Client
from django.utils import timezone
from pytest_django import Settings

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of, catalogue
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.engine.pipeline import plan_season
from bedwright.store.season import season_from_text, season_json


@pytest.fixture(autouse=True)
def data_folders(settings: Settings, tmp_path: Path) -> None:
    """Each test keeps its files to itself: numbers of plans come again in every test."""
    settings.MADE_PAPERS = tmp_path / "papers"
    settings.MEDIA_ROOT = tmp_path / "media"


def _user(name: str) -> User:
    return User.objects.create_user(f"{name.lower()}@example.org", None, name=name)


@pytest.fixture
def coordinator(db: None) -> User:
    return _user("Corin")


@pytest.fixture
def leader(db: None) -> User:
    return _user("Lea")


@pytest.fixture
def volunteer(db: None) -> User:
    return _user("Vela")


@pytest.fixture
def reader(db: None) -> User:
    return _user("Rada")


@pytest.fixture
def outsider(db: None) -> User:
    return _user("Orla")


@pytest.fixture
def garden(coordinator: User, leader: User, volunteer: User, reader: User) -> Garden:
    """The demonstration garden, with one person in each part."""
    made = load_demo(coordinator)
    for user, role in ((leader, Role.LEADER), (volunteer, Role.VOLUNTEER), (reader, Role.READER)):
        Membership.objects.create(garden=made, user=user, role=role)
    return made


SMALL_BOOK = """\
site: {name: Small garden, latitude_deg: 52, longitude_deg: 0, elevation_m: 20, time_zone: Europe/London}
season: {start: 2027-01-01}
weather: {stated_frost: {last_spring: 05-05, first_autumn: 10-10}}
beds:
  # the only one
  - code: A
    rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}
    texture: loam
wishes:
  - {crop: carrot, row_m: 4}
  - {crop: lettuce, plants: 8}
"""


@pytest.fixture(scope="session")
def small_season() -> str:
    """season.json of a small book, planned once for all tests."""
    plan = plan_season(book_of(SMALL_BOOK), None, catalogue(), seed=1, today=date(2026, 12, 1))
    return season_json(plan)


@pytest.fixture
def saved_plan(garden: Garden, coordinator: User, small_season: str) -> SavedPlan:
    """A finished plan in the garden; of a smaller book than the garden's, to be quick."""
    plan = season_from_text(small_season)
    assert garden.head is not None
    return SavedPlan.objects.create(
        garden=garden,
        revision=garden.head,
        asked_by=coordinator,
        today=plan.made_on,
        state=PlanState.DONE,
        finished_at=timezone.now(),
        digest=plan.revision,
        season_start=plan.book.season_start,
        n_plantings=len(plan.plantings),
        n_plants=sum(planting.n_plants for planting in plan.plantings),
        n_shortfalls=len(plan.shortfalls),
        packed=gzip.compress(small_season.encode(), mtime=0),
    )


@pytest.fixture
def sign_in() -> Callable[[User | None], Client]:
    """A browser in which a person has signed in; None: in which nobody has."""

    def open_client(user: User | None) -> Client:
        client = Client()
        if user is not None:
            client.force_login(user)
        return client

    return open_client
