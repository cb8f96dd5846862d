"""Who may open what. Every view is wrapped by one of the three doors below, and by no other.

`everyone`     pages without signing in
`signed_in`    pages of a person, outside any garden
`garden_page`  pages of a garden, for those with a part in it that reaches far enough

Somebody without a part in a garden gets 404, as if it did not exist; somebody whose part
does not reach gets 403.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from functools import wraps
from typing import Any, Concatenate, ParamSpec, cast

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.views.decorators.http import require_http_methods
from django_htmx.middleware import HtmxDetails

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.models import Membership, Role, User


class Ability(Enum):
    """What a part in a garden allows."""

    READ = "read"
    """Open book, plans and papers."""
    RECORD = "record"
    """Write down what was done."""
    EDIT = "edit"
    """Change the book, make plans, correct the log."""
    MANAGE = "manage"
    """People, invitations, secret links, taking the garden out, closing it."""


ABILITIES: dict[Role, frozenset[Ability]] = {
    Role.READER: frozenset({Ability.READ}),
    Role.VOLUNTEER: frozenset({Ability.READ, Ability.RECORD}),
    Role.LEADER: frozenset({Ability.READ, Ability.RECORD, Ability.EDIT}),
    Role.COORDINATOR: frozenset(Ability),
}


class PersonRequest(HttpRequest):
    """A request of somebody who has signed in."""

    user: User
    htmx: HtmxDetails


class GardenRequest(PersonRequest):
    """A request of somebody with a part in the garden of the address."""

    membership: Membership


def allows(membership: Membership, ability: Ability) -> bool:
    """Whether a part in a garden reaches so far."""
    return ability in ABILITIES[Role(membership.role)]


P = ParamSpec("P")
View = Callable[..., HttpResponseBase]
ANYONE, PERSON = "anyone", "person"


def _answered(methods: tuple[str, ...]) -> list[str]:
    """Methods answered: GET where none is named, and HEAD wherever GET is."""
    named = list(methods or ("GET",))
    return [*named, "HEAD"] if "GET" in named else named


def everyone(*methods: str) -> Callable[[View], View]:
    """Door of a page that needs no signing in."""

    def wrap(view: View) -> View:
        opened = require_http_methods(_answered(methods))(view)
        opened.access = ANYONE  # type: ignore[attr-defined]  # read by the test of all doors
        return opened

    return wrap


def signed_in(*methods: str) -> Callable[[Callable[Concatenate[PersonRequest, P], HttpResponseBase]], View]:
    """Door of a page for anybody who has signed in."""

    def wrap(view: Callable[Concatenate[PersonRequest, P], HttpResponseBase]) -> View:
        limited = require_http_methods(_answered(methods))(cast("View", view))

        @wraps(view)
        def opened(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if not request.user.is_authenticated:
                return _to_sign_in(request)
            return limited(request, *args, **kwargs)

        opened.access = PERSON  # type: ignore[attr-defined]
        return opened

    return wrap


def garden_page(
    ability: Ability, *methods: str, posting: Ability | None = None
) -> Callable[[Callable[Concatenate[GardenRequest, Garden, P], HttpResponseBase]], View]:
    """Door of a page of a garden; the view is called with the garden in place of its number.

    Parameters
    ----------
    ability
        What the person's part must allow.
    methods
        HTTP methods answered; GET and HEAD where none is named.
    posting
        What the part must allow to send the page's form, where that is more than to see it;
        GET, HEAD and POST are answered then.
    """
    if posting is not None:
        methods = ("GET", "POST")

    def wrap(view: Callable[Concatenate[GardenRequest, Garden, P], HttpResponseBase]) -> View:
        limited = require_http_methods(_answered(methods))(cast("View", view))

        @wraps(view)
        def opened(request: HttpRequest, *args: Any, garden_id: int, **kwargs: Any) -> HttpResponseBase:
            if not request.user.is_authenticated:
                return _to_sign_in(request)
            membership = (
                Membership.objects.select_related("garden")
                .filter(garden_id=garden_id, user_id=request.user.pk)
                .first()
            )
            if membership is None:
                raise Http404
            inside = cast("GardenRequest", request)
            inside.membership = membership
            needed = posting if posting is not None and request.method == "POST" else ability
            if not allows(membership, needed):
                raise PermissionDenied
            return limited(inside, membership.garden, *args, **kwargs)

        opened.access = (ability, posting or ability)  # type: ignore[attr-defined]
        return opened

    return wrap


def _to_sign_in(request: HttpRequest) -> HttpResponse:
    if request.headers.get("HX-Request") == "true":
        # A redirect would put the sign-in page into a corner of the page that asked.
        return HttpResponse(status=401, headers={"HX-Refresh": "true"})
    return redirect_to_login(request.get_full_path())
