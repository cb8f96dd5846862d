"""Addresses of a plan's drawings, below `garden/<garden_id>/season/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.season.drawing import views, views_moves, views_pins, views_why

urlpatterns = [
    path("drawing/", views.newest_drawing, name="newest-drawing"),
    path("<int:plan_id>/drawing/", views.drawing, name="drawing"),
    path("<int:plan_id>/beds/", views.beds_chart, name="beds"),
    path("<int:plan_id>/changes/", views.changes, name="changes"),
    path("<int:plan_id>/curves/", views.curves, name="curves"),
    path("<int:plan_id>/why/<path:code>/", views_why.why_here, name="why"),
    path("<int:plan_id>/short/<path:code>/", views_why.why_short, name="short"),
    path("<int:plan_id>/ready/", views_moves.ready, name="ready"),
    path("<int:plan_id>/move/<path:code>/", views_moves.move, name="move"),
    path("<int:plan_id>/keep/<path:code>/", views_moves.keep, name="keep"),
    path("<int:plan_id>/kept/<path:code>/", views_moves.kept, name="kept"),
    path("<int:plan_id>/undo-move/", views_moves.undo_move, name="undo-move"),
    path("<int:plan_id>/pin/<path:code>/", views_pins.pin, name="pin"),
    path("<int:plan_id>/unpin/<path:code>/", views_pins.unpin, name="unpin"),
    path("<int:plan_id>/undo-pin/<path:code>/", views_pins.undo_pin, name="undo-pin"),
]
