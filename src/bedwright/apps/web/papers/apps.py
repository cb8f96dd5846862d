"""The app's name and place."""

from __future__ import annotations

from django.apps import AppConfig


class PapersConfig(AppConfig):
    """Papers to print, and the calendar feed."""

    name = "bedwright.apps.web.papers"
    label = "papers"
