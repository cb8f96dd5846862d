"""Addresses below `garden/<garden_id>/`: overview, book, people, taking out, closing."""

from __future__ import annotations

from django.urls import include, path

from bedwright.apps.web.gardens import views_garden

_OVERVIEW = [
    path("", views_garden.home, name="home"),
    path("take-out/", views_garden.take_out, name="take-out"),
    path("close/", views_garden.close, name="close"),
]

urlpatterns = [
    path("", include((_OVERVIEW, "garden"))),
    path("book/", include("bedwright.apps.web.gardens.urls_book")),
    path("people/", include("bedwright.apps.web.people.urls_garden")),
]
