"""Every address. Each app keeps its own list; those under a garden are included once, here."""

from __future__ import annotations

from django.urls import include, path

from bedwright.apps.web.project import faults
from bedwright.apps.web.project.language import set_language

_GARDEN = [
    path("", include("bedwright.apps.web.gardens.urls_garden")),
    path("season/", include("bedwright.apps.web.season.urls")),
    path("papers/", include("bedwright.apps.web.papers.urls")),
    path("log/", include("bedwright.apps.web.log.urls")),
    path("ground/", include("bedwright.apps.web.ground.urls")),
    path("field/", include("bedwright.apps.web.field.urls")),
]

urlpatterns = [
    path("", include("bedwright.apps.web.gardens.urls")),
    path("", include("bedwright.apps.web.people.urls")),
    path("", include("bedwright.apps.web.papers.urls_public")),
    path("", include("bedwright.apps.web.field.urls_public")),
    path("language/", set_language, name="set-language"),
    path("garden/<int:garden_id>/", include(_GARDEN)),
]

handler403 = faults.not_allowed
handler404 = faults.no_such_page
handler500 = faults.own_fault
