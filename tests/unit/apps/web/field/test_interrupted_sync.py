"""Syncs cut short, repeated, out of order, by wrong clocks: nothing lost, nothing twice."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from datetime import datetime, timedelta
from random import Random
from typing import Any

from django.test import Client
from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.accepting import accept
from bedwright.apps.web.log.reading import all_records_of
from bedwright.apps.web.people.models import User
from bedwright.service.season_log import totals_of
from tests.unit.apps.web.field.phone import Phone, Send
from tests.unit.apps.web.log.lines import sender

N_SYNCS = 1000
YEAR = timedelta(days=365)


def cut_network(send: Send, random: Random) -> Send:
    """A network that loses requests, loses answers, and delivers some requests twice."""

    def sent(body: dict[str, Any]) -> dict[str, Any]:
        fate = random.choice(("lost", "answer lost", "twice", "twice and lost", "whole"))
        if fate == "lost":
            raise ConnectionResetError
        answer = send(body)
        if fate.startswith("twice"):
            answer = send(body)
        if fate.endswith("lost"):
            raise ConnectionResetError
        return answer

    return sent


def test_a_thousand_interrupted_syncs_lose_nothing_and_keep_nothing_twice(
    garden: Garden, volunteer: User
) -> None:
    random = Random(5)
    start = timezone.now()
    phones = [Phone(Random(n), off) for n, off in enumerate((timedelta(0), YEAR, -YEAR, timedelta(hours=9)))]

    def send(body: dict[str, Any]) -> dict[str, Any]:
        sent_at = datetime.fromisoformat(body["sent_at"])
        answers = accept(garden, sender(garden, volunteer, sent_at=sent_at), body["lines"])
        return {"answers": [{"id": each.id, "state": each.state} for each in answers]}

    network = cut_network(send, random)
    n_cut = 0
    for _ in range(N_SYNCS):
        phone = random.choice(phones)
        for _line in range(random.choice((0, 1, 1, 2))):
            phone.write(timezone.now(), quantity=0.5)
        n_cut += not phone.sync(network, timezone.now(), most=random.choice((1, 5, 50)))
    for phone in phones:
        while phone.queue:
            phone.sync(send, timezone.now())
    written = [each for phone in phones for each in phone.written]
    kept = Counter(str(client_id) for client_id in garden.log_entries.values_list("client_id", flat=True))
    assert n_cut > N_SYNCS / 2
    assert kept == Counter(written)
    assert totals_of(all_records_of(garden)).picked_kg == 0.5 * len(written)
    days = set(garden.log_entries.values_list("day", flat=True))
    assert days <= {start.date(), timezone.now().date()}
    counts = list(garden.log_entries.values_list("client_id", "device_count"))
    assert {str(client_id): count for client_id, count in counts} == {
        each: n for phone in phones for n, each in enumerate(phone.written, start=1)
    }


def test_the_same_over_http_with_a_token_and_a_role(
    garden: Garden, volunteer: User, reader: User, sign_in: Callable[[User | None], Client]
) -> None:
    client = sign_in(volunteer)
    address = f"/garden/{garden.pk}/field/sync/"

    def send(body: dict[str, Any]) -> dict[str, Any]:
        answer = client.post(address, body, content_type="application/json")
        assert answer.status_code == 200
        told: dict[str, Any] = answer.json()
        return told

    phone = Phone(Random(1))
    for _ in range(120):
        phone.write(timezone.now())
    network = cut_network(send, Random(2))
    while phone.queue:
        phone.sync(network, timezone.now(), most=25)
    assert garden.log_entries.count() == 120
    body = {"sent_at": timezone.now().isoformat(), "lines": []}
    assert sign_in(reader).post(address, body, content_type="application/json").status_code == 403
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(volunteer)
    assert strict.post(address, body, content_type="application/json").status_code == 403
    token = strict.get(f"/garden/{garden.pk}/field/state.json").json()["csrf"]
    answer = strict.post(address, body, content_type="application/json", headers={"X-CSRFToken": token})
    assert answer.json()["answers"] == []


def test_what_is_no_batch_is_answered_as_such(
    garden: Garden, volunteer: User, sign_in: Callable[[User | None], Client]
) -> None:
    client = sign_in(volunteer)
    now = timezone.now().isoformat()
    for body in (b"", b"[]", b"{}", b'{"sent_at": "now", "lines": []}', b"\xff",
                 json.dumps({"sent_at": now, "lines": [1] * 201}).encode(),
                 json.dumps({"sent_at": now, "lines": "all"}).encode()):  # fmt: skip
        answer = client.post(f"/garden/{garden.pk}/field/sync/", body, content_type="application/json")
        assert answer.status_code == 400
        assert answer.json()["problems"]
