"""Addresses below `garden/<garden_id>/log/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.log import views, views_season

app_name = "log"
urlpatterns = [
    path("", views.entries, name="entries"),
    path("new/", views.new, name="new"),
    path("season/", views_season.season, name="season"),
    path("season/next/", views_season.begin_next_season, name="begin-next-season"),
    path("settle/", views.settle, name="settle"),
    path("log.csv", views.table, name="table"),
    path("photo/<uuid:client_id>.jpg", views.photo, name="photo"),
    path("line/<uuid:client_id>/", views.entry, name="entry"),
    path("line/<uuid:client_id>/correct/", views.correct, name="correct"),
    path("line/<uuid:client_id>/strike/", views.strike, name="strike"),
]
