"""The app's name and place."""

from __future__ import annotations

from django.apps import AppConfig


class GardensConfig(AppConfig):
    """Gardens and their books, revision by revision."""

    name = "bedwright.apps.web.gardens"
    label = "gardens"
