"""Addresses of secret links, outside any garden."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver

app_name = "calendar"
urlpatterns: list[URLPattern | URLResolver] = []
