"""The app's name and place."""

from __future__ import annotations

from django.apps import AppConfig


class SeasonConfig(AppConfig):
    """Season plans: made in the background, read, compared."""

    name = "bedwright.apps.web.season"
    label = "season"
