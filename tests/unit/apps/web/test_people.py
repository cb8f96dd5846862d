from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.models import LogEntry
from bedwright.apps.web.people.joining import start_secret
from bedwright.apps.web.people.models import Invitation, Membership, Role, User

SignIn = Callable[[User | None], Client]


def invited(client: Client, garden: Garden, role: str = "volunteer") -> str:
    """The link of a new invitation, as the page shows it."""
    answer = client.post(f"/garden/{garden.pk}/people/invite/", {"role": role, "note": "Nora"})
    found = re.search(r'value="http://testserver(/invitation/[^"]+)"', answer.content.decode())
    assert found
    return found[1]


NEW = {"name": "Nora", "email": "Nora@Example.org", "password": "a plum in the hedge"}


def test_an_invitation_lets_one_new_person_in_and_no_second(
    sign_in: SignIn, garden: Garden, coordinator: User
) -> None:
    link = invited(sign_in(coordinator), garden)
    visitor = Client()
    assert garden.name in visitor.get(link).content.decode()
    assert visitor.post(link, NEW)["Location"] == f"/garden/{garden.pk}/"
    part = Membership.objects.get(garden=garden, user__email="nora@example.org")
    assert part.role == Role.VOLUNTEER
    assert visitor.get(f"/garden/{garden.pk}/").status_code == 200
    assert Client().post(link, {**NEW, "email": "other@example.org"}).status_code == 410


def test_a_person_with_an_account_joins_with_it(
    sign_in: SignIn, garden: Garden, coordinator: User, outsider: User
) -> None:
    link = invited(sign_in(coordinator), garden, "reader")
    assert sign_in(outsider).post(link).status_code == 302
    assert Membership.objects.get(garden=garden, user=outsider).role == Role.READER


def test_an_invitation_ends_with_its_time_and_when_it_is_withdrawn(
    sign_in: SignIn, garden: Garden, coordinator: User
) -> None:
    client = sign_in(coordinator)
    late, withdrawn = invited(client, garden), invited(client, garden)
    newest, first = Invitation.objects.order_by("-pk")
    Invitation.objects.filter(pk=first.pk).update(expires_at=timezone.now() - timedelta(seconds=1))
    client.post(f"/garden/{garden.pk}/people/invite/{newest.pk}/revoke/")
    assert Client().get(late).status_code == 410
    assert Client().get(withdrawn).status_code == 410


def test_the_secret_of_a_link_is_not_kept(sign_in: SignIn, garden: Garden, coordinator: User) -> None:
    secret = invited(sign_in(coordinator), garden).split("/")[2]
    assert secret not in str(Invitation.objects.values())


def test_a_weak_password_is_told_at_its_box(sign_in: SignIn, garden: Garden, coordinator: User) -> None:
    link = invited(sign_in(coordinator), garden)
    answer = Client().post(link, {**NEW, "password": "password12"})
    assert answer.status_code == 422
    assert not User.objects.filter(email="nora@example.org").exists()


def test_the_last_coordinator_can_neither_step_down_nor_leave(
    sign_in: SignIn, garden: Garden, coordinator: User
) -> None:
    part = Membership.objects.get(garden=garden, user=coordinator)
    client = sign_in(coordinator)
    client.post(f"/garden/{garden.pk}/people/{part.pk}/part/", {"role": "reader"})
    client.post(f"/garden/{garden.pk}/people/{part.pk}/remove/")
    client.post("/account/delete/")
    part.refresh_from_db()
    assert part.role == Role.COORDINATOR


def test_a_person_removed_leaves_records_without_a_name(
    sign_in: SignIn, garden: Garden, coordinator: User, volunteer: User
) -> None:
    line = LogEntry.objects.create(garden=garden, day=timezone.localdate(), kind="weeded", author=volunteer)
    part = Membership.objects.get(garden=garden, user=volunteer)
    sign_in(coordinator).post(f"/garden/{garden.pk}/people/{part.pk}/remove/")
    line.refresh_from_db()
    assert line.author is None
    assert not User.objects.filter(pk=volunteer.pk).exists()


def test_deleting_ones_own_account_keeps_what_one_wrote(
    sign_in: SignIn, garden: Garden, leader: User
) -> None:
    line = LogEntry.objects.create(garden=garden, day=timezone.localdate(), kind="weeded", author=leader)
    sign_in(leader).post("/account/delete/")
    line.refresh_from_db()
    assert line.author is None
    assert garden.revisions.exists()


@pytest.mark.django_db
def test_the_first_account_needs_the_printed_link_and_works_once() -> None:
    secret = start_secret()
    assert Client().get("/start/guess/").status_code == 404
    form = {**NEW, "with_demo": "on"}
    assert Client().post(f"/start/{secret}/", form).status_code == 302
    assert Garden.objects.count() == 1
    assert Client().get(f"/start/{secret}/").status_code == 404


def test_a_language_chosen_is_kept_with_the_person(sign_in: SignIn, reader: User) -> None:
    client = sign_in(reader)
    client.post("/language/", {"language": "de", "next": "/"})
    assert 'lang="de"' in sign_in(reader).get("/").content.decode()
    assert client.post("/language/", {"language": "de", "next": "//evil.example"})["Location"] == "/"
