"""Addresses below `garden/<garden_id>/field/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.field import pegs, views, worker

app_name = "field"
urlpatterns = [
    path("", views.today, name="today"),
    path("state.json", views.state, name="state"),
    path("data.json", views.data, name="data"),
    path("sync/", views.sync, name="sync"),
    path("photo/", views.photo, name="photo"),
    path("worker.js", worker.field_worker, name="worker"),
    path("pegs/", pegs.manage, name="pegs"),
    path("pegs/labels.pdf", pegs.labels, name="peg-labels"),
]
