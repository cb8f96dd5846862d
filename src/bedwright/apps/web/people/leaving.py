"""What happens when somebody leaves: records stay, the name goes."""

from __future__ import annotations

from django.db import transaction

from bedwright.apps.web.gardens.models import BookRevision, Garden, WeatherFile
from bedwright.apps.web.log.models import LogEntry
from bedwright.apps.web.people.models import Invitation, Membership, Role, User
from bedwright.apps.web.season.models import SavedPlan


def gardens_left_alone(person: User) -> list[Garden]:
    """Gardens whose only coordinator this person is."""
    parts = Membership.objects.filter(user=person, role=Role.COORDINATOR).select_related("garden")
    return [part.garden for part in parts if only_coordinator(part)]


def only_coordinator(membership: Membership) -> bool:
    """Whether the garden would have no coordinator without this part."""
    others = Membership.objects.filter(garden_id=membership.garden_id, role=Role.COORDINATOR)
    return membership.role == Role.COORDINATOR and not others.exclude(pk=membership.pk).exists()


@transaction.atomic
def remove_person(membership: Membership) -> None:
    """Take a person out of a garden and their name off its records.

    An account without any other garden is deleted with it.
    """
    person, garden = membership.user, membership.garden
    BookRevision.objects.filter(garden=garden, author=person).update(author=None)
    LogEntry.objects.filter(garden=garden, author=person).update(author=None)
    SavedPlan.objects.filter(garden=garden, asked_by=person).update(asked_by=None)
    WeatherFile.objects.filter(garden=garden, uploaded_by=person).update(uploaded_by=None)
    Invitation.objects.filter(garden=garden, made_by=person).update(made_by=None)
    membership.delete()
    if not Membership.objects.filter(user=person).exists():
        person.delete()
