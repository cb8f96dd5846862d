"""Addresses of signing in and of a person's own pages."""

from __future__ import annotations

from django.urls import path

from bedwright.apps.web.people import account, joining, signing_in

app_name = "people"
urlpatterns = [
    path("sign-in/", signing_in.sign_in, name="sign-in"),
    path("sign-out/", signing_in.sign_out, name="sign-out"),
    path("start/<str:secret>/", joining.start, name="start"),
    path("invitation/<str:secret>/", joining.accept, name="accept"),
    path("account/", account.own_page, name="account"),
    path("account/password/", account.change_password, name="password"),
    path("account/delete/", account.delete_own, name="delete-own"),
]
