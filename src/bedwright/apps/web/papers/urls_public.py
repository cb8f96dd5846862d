"""Addresses of secret links, outside any garden."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.papers import links

app_name = "calendar"
urlpatterns = [path("calendar/<str:secret>/bedwright.ics", links.feed, name="feed")]
