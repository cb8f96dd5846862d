"""Addresses below `garden/<garden_id>/ground/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.ground import views

app_name = "ground"
urlpatterns = [
    path("", views.plan, name="plan"),
    path("now/", views.now, name="now"),
    path("plants/", views.plants, name="plants"),
    path("sun/", views.sun, name="sun"),
    path("save/", views.save, name="save"),
    path("step/", views.step, name="step"),
]
