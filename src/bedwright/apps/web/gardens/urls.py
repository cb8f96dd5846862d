"""Addresses outside any one garden: the list, and new gardens."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.gardens import views_list, views_new

app_name = "gardens"
urlpatterns = [
    path("", views_list.list_gardens, name="list"),
    path("new/", views_new.new_garden, name="new"),
    path("new/demo/", views_list.new_from_demo, name="new-from-demo"),
    path("new/book/", views_new.from_book, name="new-from-book"),
]
