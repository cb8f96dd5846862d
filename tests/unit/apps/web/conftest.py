from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.models import Membership, Role, User


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


@pytest.fixture
def sign_in() -> Callable[[User | None], Client]:
    """A browser in which a person has signed in; None: in which nobody has."""

    def open_client(user: User | None) -> Client:
        client = Client()
        if user is not None:
            client.force_login(user)
        return client

    return open_client
