"""Addresses below `garden/<garden_id>/log/`."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver

app_name = "log"
urlpatterns: list[URLPattern | URLResolver] = []
