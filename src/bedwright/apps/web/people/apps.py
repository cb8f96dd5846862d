"""The app's name and place."""

from __future__ import annotations

from django.apps import AppConfig


class PeopleConfig(AppConfig):
    """People: signing in, roles in gardens, invitations."""

    name = "bedwright.apps.web.people"
    label = "people"
