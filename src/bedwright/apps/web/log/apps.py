"""The app's name and place."""

from __future__ import annotations

from django.apps import AppConfig


class LogConfig(AppConfig):
    """The log: what was done in the garden, by whom and when."""

    name = "bedwright.apps.web.log"
    label = "log"
