"""Addresses of a plan's drawings, below `garden/<garden_id>/season/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.season.drawing import views, views_why

urlpatterns = [
    path("drawing/", views.newest_drawing, name="newest-drawing"),
    path("<int:plan_id>/drawing/", views.drawing, name="drawing"),
    path("<int:plan_id>/beds/", views.beds_chart, name="beds"),
    path("<int:plan_id>/curves/", views.curves, name="curves"),
    path("<int:plan_id>/why/<path:code>/", views_why.why_here, name="why"),
    path("<int:plan_id>/short/<path:code>/", views_why.why_short, name="short"),
]
