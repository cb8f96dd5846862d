"""Every address of the application, and something real for each part of one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

from django.conf import settings
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils import timezone

from bedwright.apps.web.field.models import PegLink
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.models import LogEntry, LogPhoto
from bedwright.apps.web.papers.made import FILES
from bedwright.apps.web.papers.models import CalendarLink
from bedwright.apps.web.people.models import Invitation, Membership, Role, User, digest_of
from bedwright.apps.web.season.models import SavedPlan

NAMES = {"book:crop": "carrot", "book:entry": "A"}


@dataclass(frozen=True)
class Address:
    """One pattern: its name, its view, and the parts that vary."""

    name: str
    view: Callable[..., Any]
    keys: frozenset[str]


def addresses(
    patterns: list[Any], namespace: str = "", keys: frozenset[str] = frozenset()
) -> Iterator[Address]:
    """All addresses below some patterns."""
    for pattern in patterns:
        inner = keys | frozenset(pattern.pattern.converters)
        if isinstance(pattern, URLResolver):
            below = pattern.namespace or ""
            yield from addresses(pattern.url_patterns, ":".join(filter(None, (namespace, below))), inner)
        elif isinstance(pattern, URLPattern):
            yield Address(":".join(filter(None, (namespace, pattern.name))), pattern.callback, inner)


ALL = list(addresses(get_resolver().url_patterns))


def objects_of(garden: Garden, author: User, member: User, saved_plan: SavedPlan) -> dict[str, Any]:
    """Something real for each part of an address; the line of the log is written by `author`."""
    invitation = Invitation.objects.create(
        garden=garden,
        role=Role.READER,
        digest=digest_of("invitation"),
        expires_at=timezone.now() + timedelta(days=1),
    )
    link = CalendarLink.objects.create(garden=garden, name="x", digest=digest_of("invitation"))
    weather = garden.weather_files.get()
    membership = Membership.objects.get(garden=garden, user=member)
    assert garden.head is not None
    made = Path(settings.MADE_PAPERS) / str(saved_plan.pk) / "a4-metric"
    made.mkdir(parents=True)
    for file in FILES:
        # Setting papers takes long, and what is in them does not matter here.
        (made / file).write_bytes(b"made")
    line = LogEntry.objects.create(garden=garden, day=saved_plan.today, kind="seen", author=author)
    photo = LogPhoto(garden=garden, client_id=line.client_id, entry_id_of_client=line.client_id)
    photo.n_bytes, photo.width_px, photo.height_px = 4, 1, 1
    photo.save()
    photo.path.parent.mkdir(parents=True)
    photo.path.write_bytes(b"made")
    peg = PegLink.objects.create(garden=garden, public=True)
    return {
        "client_id": line.client_id,
        "token": peg.token,
        "row_code": "A1",
        "garden_id": garden.pk,
        "invitation_id": invitation.pk,
        "membership_id": membership.pk,
        "link_id": link.pk,
        "file_id": weather.pk,
        "plan_id": saved_plan.pk,
        "number": garden.head.number,
        "slug": "beds",
        "secret": "invitation",
        "file": "plantings.csv",
        "code": "carrot-1",
    }


def address_of(each: Address, objects: dict[str, Any]) -> str:
    """The path at which an address shows the objects."""
    known = {**objects, "name": NAMES.get(each.name, "")}
    return reverse(each.name, kwargs={key: known[key] for key in each.keys})
