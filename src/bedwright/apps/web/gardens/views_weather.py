"""The weather section: the record of the site, or frost dates by hand."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.entry.boxes import Box, Surroundings, boxes_of, place_problems
from bedwright.apps.web.gardens.entry.posted import entry_of
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.opening import OpenBook, opened
from bedwright.apps.web.gardens.saving import ChangedMeanwhileError, save_document
from bedwright.apps.web.gardens.weather import MOST_BYTES, file_name, keep_weather
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.book.schema import WEATHER


@garden_page(Ability.READ, posting=Ability.EDIT)
def weather(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Which record the book names, and the frost dates stated."""
    number = request.POST.get("base", "")
    base = garden.revisions.filter(number=int(number)).first() if number.isdecimal() else garden.head
    book = opened(garden, base)
    if request.method != "POST":
        return _page(request, garden, book)
    boxes = _boxes(garden, book, book.document["weather"])
    posted = entry_of(boxes, request.POST, get_language() or "en")
    return _save(request, garden, book, posted, _("weather"))


@garden_page(Ability.EDIT, "POST")
def upload(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Keep a record and name it in the book."""
    book = opened(garden)
    file = request.FILES.get("file")
    if file is None:
        problem = Problem("", None, None, "file", "no file", "a daily weather record")
        return _page(request, garden, book, upload_problems=(problem,), status=422)
    name = file_name(file.name or "")
    try:
        if (file.size or 0) > MOST_BYTES:
            got = f"{(file.size or 0) / 1e6:.0f} MB"
            raise BadDocumentError(
                (Problem(name, None, None, "the file", got, f"at most {MOST_BYTES / 1e6:g} MB"),)
            )
        kept = keep_weather(garden, name, file.read(), request.user)
    except BadDocumentError as error:
        return _page(request, garden, book, upload_problems=error.problems, status=422)
    named = {**book.document["weather"], "file": kept.name}
    if named == book.document["weather"]:
        messages.success(request, _("The record %(name)s is replaced.") % {"name": kept.name})
        return redirect("book:weather", garden.pk)
    return _save(request, garden, book, named, _("weather record %(name)s") % {"name": kept.name})


@garden_page(Ability.READ)
def download(request: GardenRequest, garden: Garden, file_id: int) -> HttpResponse:
    """A record as it came."""
    kept = get_object_or_404(garden.weather_files, pk=file_id)
    return HttpResponse(
        kept.content,
        content_type="text/plain; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{file_name(kept.name)}"'},
    )


def _save(
    request: GardenRequest, garden: Garden, book: OpenBook, entry: dict[str, Any], note: str
) -> HttpResponse:
    document = {**book.document, "weather": entry}
    try:
        saved = save_document(
            garden, base_number=book.revision.number, document=document, author=request.user, note=note
        )
    except BadDocumentError as error:
        boxes = _boxes(garden, book, entry)
        elsewhere = place_problems(boxes, error.problems, "weather")
        return _page(request, garden, book, boxes=boxes, problems=tuple(elsewhere), status=422)
    except ChangedMeanwhileError as error:
        boxes = _boxes(garden, book, entry)
        return _page(request, garden, book, boxes=boxes, conflict=error, status=409)
    if saved.changed:
        messages.success(request, _("Kept as revision %(number)s.") % {"number": saved.revision.number})
    else:
        messages.info(request, _("Nothing was changed."))
    return redirect("book:weather", garden.pk)


def _boxes(garden: Garden, book: OpenBook, entry: dict[str, Any]) -> list[Box]:
    names = [(kept.name, kept.name) for kept in garden.weather_files.defer("packed")]
    named = book.book.weather_file
    if named and named not in dict(names):
        names.append((named, _("%(name)s (not here yet: upload it)") % {"name": named}))
    return boxes_of(WEATHER, entry, Surroundings(book.units, choices={"file": names}))


def _page(
    request: GardenRequest,
    garden: Garden,
    book: OpenBook,
    *,
    boxes: list[Box] | None = None,
    problems: tuple[Problem, ...] = (),
    upload_problems: tuple[Problem, ...] = (),
    conflict: ChangedMeanwhileError | None = None,
    status: int = 200,
) -> HttpResponse:
    files = list(garden.weather_files.defer("packed").select_related("uploaded_by"))
    context = {
        "boxes": boxes if boxes is not None else _boxes(garden, book, book.document["weather"]),
        "base": conflict.head.number if conflict else book.revision.number,
        "files": files,
        "named": book.book.weather_file,
        "missing": book.book.weather_file is not None
        and book.book.weather_file not in {kept.name for kept in files},
        "problems": problems,
        "upload_problems": upload_problems,
        "conflict": conflict,
    }
    return render(request, "gardens/weather.html", context, status=status)
