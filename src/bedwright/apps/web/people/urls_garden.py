"""Addresses below `garden/<garden_id>/people/`."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.people import garden_people

app_name = "garden-people"
urlpatterns = [
    path("", garden_people.list_people, name="list"),
    path("invite/", garden_people.invite, name="invite"),
    path("invite/<int:invitation_id>/revoke/", garden_people.revoke, name="revoke"),
    path("<int:membership_id>/part/", garden_people.change_part, name="change-part"),
    path("<int:membership_id>/remove/", garden_people.remove, name="remove"),
]
