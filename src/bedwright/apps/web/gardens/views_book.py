"""The book as a whole: overview, text, revisions, undo and redo, taking it in and out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from difflib import unified_diff
from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.formats import date_format
from django.utils.text import slugify
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden, RevisionKind
from bedwright.apps.web.gardens.opening import opened
from bedwright.apps.web.gardens.reading import BOOK_NAME
from bedwright.apps.web.gardens.revisions import HeadMovedError, keep, redo, steps_of, undo
from bedwright.apps.web.gardens.saving import ChangedMeanwhileError, save_text
from bedwright.apps.web.gardens.sections import ALL_SECTIONS, Section, with_unit
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.model.bounds import BOOK_BYTES
from bedwright.model.problem import BadDocumentError, Problem

_A_PAGE = 40


@garden_page(Ability.READ)
def overview(request: GardenRequest, garden: Garden) -> HttpResponse:
    """The sections with what they hold, and the last changes."""
    book = opened(garden)
    sections = [{"section": each, "holds": _holds(each, book.document)} for each in ALL_SECTIONS]
    steps = steps_of(garden)
    context = {
        "book": book.book,
        "sections": sections,
        "revisions": garden.revisions.select_related("author")[:5],
        "can_undo": bool(steps.back),
        "can_redo": bool(steps.forth),
    }
    return render(request, "gardens/book.html", context)


def _holds(section: Section, document: Mapping[str, Any]) -> str:
    """What a section holds, in a word or two."""
    value = section.value_in(document)
    if not value:
        return _("empty")
    if section.is_list:
        return str(len(value))
    key, first = next(iter(value.items()))
    if isinstance(first, int | float):
        return with_unit(section.record, key, first, document["site"].get("units", "metric"))
    return date_format(first, "SHORT_DATE_FORMAT") if isinstance(first, date) else str(first)


@garden_page(Ability.READ, posting=Ability.EDIT)
def text(request: GardenRequest, garden: Garden) -> HttpResponse:
    """The whole text, to read, change or replace by a file."""
    if garden.head is None:
        raise Http404
    if request.method != "POST":
        return _text_page(request, garden.head.text, garden.head.number)
    base = request.POST.get("base", "")
    base_number = int(base) if base.isdecimal() else garden.head.number
    try:
        changed = _posted_text(request)
        saved = save_text(
            garden,
            base_number=base_number,
            text=changed,
            author=request.user,
            note=request.POST.get("note", "").strip() or _("whole text"),
        )
    except BadDocumentError as error:
        shown = request.POST.get("text", "")
        return _text_page(request, shown, base_number, problems=error.problems, status=422)
    except ChangedMeanwhileError as error:
        shown = request.POST.get("text", "")
        return _text_page(request, shown, error.head.number, conflict=error, status=409)
    if saved.merged:
        messages.success(request, _("Kept, together with changes somebody else made meanwhile."))
    elif saved.changed:
        messages.success(request, _("Kept as revision %(number)s.") % {"number": saved.revision.number})
    else:
        messages.info(request, _("Nothing was changed."))
    return redirect("book:text", garden.pk)


def _posted_text(request: GardenRequest) -> str:
    """The text typed, or that of a file chosen."""
    file = request.FILES.get("file")
    if file is None:
        return request.POST.get("text", "")
    return text_of_upload(file.name or BOOK_NAME, file.read(int(BOOK_BYTES.high) + 1))


def text_of_upload(name: str, content: bytes) -> str:
    """The text of a book that came as a file.

    Raises
    ------
    BadDocumentError
        If it is too large or not UTF-8.
    """
    if len(content) not in BOOK_BYTES:
        expected = f"at most {BOOK_BYTES.high / 1e6:g} MB of text"
        got = "nothing" if not content else "more"
        raise BadDocumentError((Problem(name, None, None, "the file", got, expected),))
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        hint = "Save the file as plain text in UTF-8; word-processor files cannot be read."
        problem = Problem(name, line, None, "the file", "bytes that are not UTF-8 text", "UTF-8 text", hint)
        raise BadDocumentError((problem,)) from error


def _text_page(
    request: GardenRequest,
    shown: str,
    base: int,
    *,
    problems: tuple[Problem, ...] = (),
    conflict: ChangedMeanwhileError | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "text": shown,
        "base": base,
        "problems": problems,
        "conflict": conflict,
        "n_rows": min(max(shown.count("\n") + 2, 20), 60),
    }
    return render(request, "gardens/text.html", context, status=status)


@garden_page(Ability.READ)
def download(request: GardenRequest, garden: Garden, number: int | None = None) -> HttpResponse:
    """The text of a revision as a file, to the letter."""
    revision = get_object_or_404(garden.revisions, number=number) if number else garden.head
    if revision is None:
        raise Http404
    name = f"{slugify(garden.name) or 'garden'}-{revision.number}.yaml"
    return HttpResponse(
        revision.text.encode(),
        content_type="application/yaml; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


@garden_page(Ability.READ)
def revisions(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Every revision, newest first."""
    pages = Paginator(garden.revisions.select_related("author").defer("text"), _A_PAGE)
    page = pages.get_page(request.GET.get("page"))
    return render(request, "gardens/revisions.html", {"page": page})


@garden_page(Ability.READ, posting=Ability.EDIT)
def revision(request: GardenRequest, garden: Garden, number: int) -> HttpResponse:
    """What one revision changed; it can be made the newest again."""
    found = get_object_or_404(garden.revisions.select_related("author", "parent"), number=number)
    if request.method == "POST":
        return _take_again(request, garden, found.text, number)
    before = found.parent.text if found.parent else ""
    lines = list(unified_diff(before.splitlines(), found.text.splitlines(), lineterm="", n=2))[2:]
    context = {"revision": found, "lines": lines, "kinds": RevisionKind}
    return render(request, "gardens/revision.html", context)


def _take_again(request: GardenRequest, garden: Garden, old: str, number: int) -> HttpResponse:
    try:
        if garden.head is None or request.POST.get("base") != str(garden.head.number):
            raise HeadMovedError
        keep(garden, old, author=request.user, follows=garden.head, note=f"revision {number} again")
    except HeadMovedError:
        messages.error(request, _("Somebody changed the book a moment ago. Look at it, then try again."))
    except BadDocumentError:
        messages.error(request, _("This revision has problems by today's rules. Open its text to mend them."))
    else:
        messages.success(request, _("Revision %(number)s is the newest again.") % {"number": number})
    return redirect("book:overview", garden.pk)


@garden_page(Ability.EDIT, "POST")
def undo_change(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Go back one change."""
    return _step(request, garden, back=True)


@garden_page(Ability.EDIT, "POST")
def redo_change(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Take the last undone change again."""
    return _step(request, garden, back=False)


def _step(request: GardenRequest, garden: Garden, *, back: bool) -> HttpResponse:
    head = garden.head
    if head is None:
        raise Http404
    base = request.POST.get("base", "")
    if base and base != str(head.number):
        messages.error(request, _("Somebody changed the book a moment ago. Look at it, then try again."))
        return redirect("book:overview", garden.pk)
    try:
        made = (undo if back else redo)(garden, request.user, head)
    except HeadMovedError:
        messages.error(request, _("Somebody changed the book a moment ago. Look at it, then try again."))
    except BadDocumentError:
        messages.error(request, _("This revision has problems by today's rules. Open its text to mend them."))
    else:
        if made is None:
            messages.info(request, _("There is nothing to undo.") if back else _("There is nothing to redo."))
        else:
            done = _("Undone: now revision %(number)s.") if back else _("Redone: now revision %(number)s.")
            messages.success(request, done % {"number": made.number})
    return redirect("book:overview", garden.pk)
