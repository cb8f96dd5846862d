"""The app's name and place."""

from __future__ import annotations

from django.apps import AppConfig


class FieldConfig(AppConfig):
    """Pages for a phone in the garden, also without a network."""

    name = "bedwright.apps.web.field"
    label = "field"
