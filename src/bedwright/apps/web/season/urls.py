"""Addresses below `garden/<garden_id>/season/`."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver

app_name = "season"
urlpatterns: list[URLPattern | URLResolver] = []
