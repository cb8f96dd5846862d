"""Addresses below `garden/<garden_id>/book/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.gardens import (
    views_book,
    views_catalogue,
    views_estimate,
    views_section,
    views_weather,
)

app_name = "book"
urlpatterns = [
    path("", views_book.overview, name="overview"),
    path("text/", views_book.text, name="text"),
    path("download/", views_book.download, name="download"),
    path("undo/", views_book.undo_change, name="undo"),
    path("redo/", views_book.redo_change, name="redo"),
    path("revisions/", views_book.revisions, name="revisions"),
    path("revisions/<int:number>/", views_book.revision, name="revision"),
    path("revisions/<int:number>/download/", views_book.download, name="download-revision"),
    path("weather/", views_weather.weather, name="weather"),
    path("weather/upload/", views_weather.upload, name="weather-upload"),
    path("weather/file/<int:file_id>/", views_weather.download, name="weather-download"),
    path("estimate/", views_estimate.estimate, name="estimate"),
    path("crops/", views_catalogue.crops, name="crops"),
    path("crops/<str:name>/", views_catalogue.crop, name="crop"),
    path("section/<slug:slug>/", views_section.section, name="section"),
    path("section/<slug:slug>/add/", views_section.add, name="add"),
    path("section/<slug:slug>/entry/<path:name>/", views_section.entry, name="entry"),
]
