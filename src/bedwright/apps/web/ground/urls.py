"""Addresses below `garden/<garden_id>/ground/`."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver

app_name = "ground"
urlpatterns: list[URLPattern | URLResolver] = []
