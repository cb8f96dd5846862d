"""Addresses below `garden/<garden_id>/`: overview, book, people."""

from __future__ import annotations

from django.urls import include, path

from bedwright.apps.web.gardens import views_garden

_OVERVIEW = [path("", views_garden.home, name="home")]

urlpatterns = [
    path("", include((_OVERVIEW, "garden"))),
    path("people/", include("bedwright.apps.web.people.urls_garden")),
]
