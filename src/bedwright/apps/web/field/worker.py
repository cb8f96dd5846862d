"""Scripts that let the field pages and the pegs' addresses work without a network."""

from __future__ import annotations

import hashlib
import json
from importlib.resources import files

from django.http import HttpRequest, HttpResponse
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import get_language

from bedwright import __version__
from bedwright.apps.web.people.access import everyone

MODULES = (
    "main", "dom", "store", "words", "lines", "sync", "keypad", "today", "job", "weigh", "rain", "hours",
    "rows", "sent", "days", "photo",
)  # fmt: skip
"""Scripts of the field pages, all of which have to be there before the network is gone."""
_FONTS = ("web/fonts/bedwright-sans-regular.woff", "web/fonts/bedwright-sans-semibold.woff")
_HERE = "bedwright.apps.web.field"


def assets() -> tuple[str, ...]:
    """Addresses of everything that the field pages are made of, but the page itself."""
    names = ["web/sheet.css", "web/mark.svg", *_FONTS, "field/field.css"]
    names += [f"field/{name}.js" for name in MODULES]
    return tuple(static(name) for name in names)


@everyone()
def field_worker(request: HttpRequest, garden_id: int) -> HttpResponse:
    """The service worker of one garden's field pages. It holds nothing private."""
    shell = reverse("field:today", args=[garden_id])
    listed = assets()
    page = (files(_HERE) / "templates" / "field" / "shell.html").read_text(encoding="utf-8")
    stamp = json.dumps([__version__, get_language(), shell, listed, page])
    settings = {
        "version": hashlib.sha256(stamp.encode()).hexdigest()[:12],
        "prefix": f"bedwright-field-{garden_id}-",
        "shell": shell,
        "assets": listed,
    }
    return _script(f"const SETTINGS = {json.dumps(settings)};\n{_text('field_worker.js')}")


@everyone()
def peg_worker(request: HttpRequest, token: str) -> HttpResponse:
    """The service worker of pegs' addresses, taken on by phones that have the field pages.

    The same for every token, so that it tells nobody which tokens there are.
    """
    return _script(_text("peg_worker.js"))


def _text(name: str) -> str:
    return (files(_HERE) / "workers" / name).read_text(encoding="utf-8")


def _script(text: str) -> HttpResponse:
    return HttpResponse(
        text, content_type="text/javascript; charset=utf-8", headers={"Cache-Control": "no-cache"}
    )
