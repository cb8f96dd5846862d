"""Addresses below `garden/<garden_id>/season/`."""

from __future__ import annotations

from django.urls import include, path

from bedwright.apps.web.season import views, views_again

app_name = "season"
urlpatterns = [
    path("", views.plans, name="plans"),
    path("make/", views.make, name="make"),
    path("again/", views_again.again, name="again"),
    path("compare/", views.compare_plans, name="compare"),
    path("", include("bedwright.apps.web.season.drawing.urls")),
    path("<int:plan_id>/", views.plan, name="plan"),
    path("<int:plan_id>/progress/", views.progress, name="progress"),
    path("<int:plan_id>/stop/", views.stop, name="stop"),
    path("<int:plan_id>/search-on/", views_again.search_on, name="search-on"),
    path("<int:plan_id>/delete/", views.delete, name="delete"),
    path("<int:plan_id>/season.json", views.season_file, name="file"),
    path("<int:plan_id>/planting/<path:code>/", views.planting, name="planting"),
]
