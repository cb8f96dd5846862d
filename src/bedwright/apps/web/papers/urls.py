"""Addresses below `garden/<garden_id>/papers/`."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver

app_name = "papers"
urlpatterns: list[URLPattern | URLResolver] = []
