"""The app's name and place."""

from __future__ import annotations

from django.apps import AppConfig


class GroundConfig(AppConfig):
    """The drawing of the site."""

    name = "bedwright.apps.web.ground"
    label = "ground"
