"""The pages of a garden as its navigation lists them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.urls import NoReverseMatch, reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from bedwright.apps.web.people.access import Ability, allows
from bedwright.apps.web.people.models import Membership


@dataclass(frozen=True, slots=True)
class Entry:
    """One page of the navigation; it shows once its address exists."""

    url_name: str
    label: str | Promise
    app: str
    """The app whose pages mark it as the current one."""
    ability: Ability = Ability.READ
    args: tuple[str, ...] = ()
    """What the address takes beside the garden."""


_WISHES = "wishes"
"""Pages of the book that are the wishes', as an app of their own."""

ENTRIES: tuple[Entry, ...] = (
    Entry("garden:home", _("Overview"), "garden"),
    Entry("ground:plan", _("Ground"), "ground"),
    Entry("book:section", _("Wishes"), _WISHES, args=("wishes",)),
    Entry("season:plans", _("Season"), "season"),
    Entry("papers:all", _("Papers"), "papers"),
    Entry("field:today", _("Today"), "field"),
    Entry("log:entries", _("Log"), "log"),
    Entry("book:overview", _("Garden book"), "book"),
    Entry("garden-people:list", _("People"), "garden-people", Ability.MANAGE),
)


def navigation(request: HttpRequest) -> dict[str, Any]:
    """Context of every page: the garden, the person's part in it, and where one can go."""
    membership: Membership | None = getattr(request, "membership", None)
    if membership is None:
        return {}
    here = _here(request)
    entries = [
        {"label": entry.label, "url": url, "current": entry.app == here}
        for entry in ENTRIES
        if allows(membership, entry.ability) and (url := _address(entry, membership))
    ]
    return {
        "garden": membership.garden,
        "membership": membership,
        "may": {ability.value: allows(membership, ability) for ability in Ability},
        "navigation": entries,
        "here": next((entry["label"] for entry in entries if entry["current"]), ""),
    }


def _here(request: HttpRequest) -> str:
    match = request.resolver_match
    if match is None:
        return ""
    if match.app_name == "book" and (
        match.kwargs.get("slug") == "wishes" or match.url_name in {"crops", "crop", "estimate"}
    ):
        return _WISHES
    return match.app_name


def _address(entry: Entry, membership: Membership) -> str:
    try:
        return reverse(entry.url_name, args=[membership.garden_id, *entry.args])
    except NoReverseMatch:
        return ""
