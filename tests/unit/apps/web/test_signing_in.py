from __future__ import annotations

import pytest
from django.test import Client

from bedwright.apps.web.people import limits
from bedwright.apps.web.people.models import User

PASSWORD = "long enough to pass"  # noqa: S105 - of people made for the test


@pytest.fixture
def person(db: None) -> User:
    return User.objects.create_user("Ada@Example.org", PASSWORD, name="Ada")


def test_the_address_may_be_written_in_any_case(client: Client, person: User) -> None:
    answer = client.post("/sign-in/", {"email": "ADA@example.org", "password": PASSWORD})
    assert answer.status_code == 302
    assert answer["Location"] == "/"


def test_a_wrong_password_is_told_without_saying_which_part_is_wrong(client: Client, person: User) -> None:
    wrong = client.post("/sign-in/", {"email": person.email, "password": "something else"})
    unknown = client.post("/sign-in/", {"email": "nobody@example.org", "password": "something else"})
    assert wrong.status_code == unknown.status_code == 422
    assert "do not belong together" in wrong.content.decode()
    assert "do not belong together" in unknown.content.decode()


def test_after_too_many_failures_even_the_right_password_waits(client: Client, person: User) -> None:
    for _ in range(limits.MOST_A_PERSON):
        client.post("/sign-in/", {"email": person.email, "password": "something else"})
    answer = client.post("/sign-in/", {"email": person.email, "password": PASSWORD})
    assert answer.status_code == 429


def test_many_failures_from_one_place_stop_all_attempts_from_there(client: Client, person: User) -> None:
    for number in range(limits.MOST_A_PLACE):
        client.post("/sign-in/", {"email": f"p{number}@example.org", "password": "something else"})
    assert client.post("/sign-in/", {"email": person.email, "password": PASSWORD}).status_code == 429
    elsewhere = client.post(
        "/sign-in/", {"email": person.email, "password": PASSWORD}, REMOTE_ADDR="192.0.2.7"
    )
    assert elsewhere.status_code == 302


def test_signing_in_leads_back_to_the_page_asked_for_but_to_no_other_site(
    client: Client, person: User
) -> None:
    form = {"email": person.email, "password": PASSWORD}
    assert client.post("/sign-in/", form | {"next": "/account/"})["Location"] == "/account/"
    client.logout()
    assert client.post("/sign-in/", form | {"next": "https://example.net/"})["Location"] == "/"


def test_every_answer_forbids_scripts_and_styles_from_elsewhere(client: Client, db: None) -> None:
    answer = client.get("/sign-in/")
    policy = answer["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Referrer-Policy"] == "same-origin"


def test_a_form_without_its_token_changes_nothing(person: User) -> None:
    strict = Client(enforce_csrf_checks=True)
    answer = strict.post("/sign-in/", {"email": person.email, "password": PASSWORD})
    assert answer.status_code == 403
    assert "too old" in answer.content.decode()
