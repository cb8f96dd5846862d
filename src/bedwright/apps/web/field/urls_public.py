"""Addresses that stand on pegs, outside any garden."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.field import pegs, worker

app_name = "peg"
urlpatterns = [
    path("p/<str:token>/worker.js", worker.peg_worker, name="worker"),
    path("p/<str:token>/<str:row_code>", pegs.card, name="card"),
]
