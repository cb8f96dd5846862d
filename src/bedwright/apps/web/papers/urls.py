"""Addresses below `garden/<garden_id>/papers/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.papers import links, views

app_name = "papers"
urlpatterns = [
    path("", views.papers, name="all"),
    path("calendar-links/add/", links.add, name="add-link"),
    path("calendar-links/<int:link_id>/revoke/", links.revoke, name="revoke-link"),
    path("<int:plan_id>/everything.zip", views.everything, name="everything"),
    path("<int:plan_id>/<str:file>", views.paper, name="paper"),
]
