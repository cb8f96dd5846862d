"""Addresses below `garden/<garden_id>/log/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.log import views

app_name = "log"
urlpatterns = [
    path("", views.entries, name="entries"),
    path("new/", views.new, name="new"),
    path("season/", views.season, name="season"),
    path("settle/", views.settle, name="settle"),
    path("log.csv", views.table, name="table"),
    path("photo/<uuid:client_id>.jpg", views.photo, name="photo"),
    path("line/<uuid:client_id>/", views.entry, name="entry"),
    path("line/<uuid:client_id>/correct/", views.correct, name="correct"),
    path("line/<uuid:client_id>/strike/", views.strike, name="strike"),
]
