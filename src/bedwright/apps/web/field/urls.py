"""Addresses below `garden/<garden_id>/field/`."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver

app_name = "field"
urlpatterns: list[URLPattern | URLResolver] = []
