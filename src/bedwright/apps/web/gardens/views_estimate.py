"""Whether ground, weeks and hours suffice: beside the wishes, and beside a form while it is filled in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.formats import number_format
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.document import book_of_document
from bedwright.apps.web.gardens.entry.posted import entry_of
from bedwright.apps.web.gardens.entry_form import EntryForm, form_of, section_or_404
from bedwright.apps.web.gardens.estimating import NoRecordError, estimate_of
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.opening import opened
from bedwright.apps.web.gardens.promised_weeks import short_weeks
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.model import units as u
from bedwright.model.book import GardenBook, UnitSystem
from bedwright.model.estimate import SeasonEstimate, WishEstimate
from bedwright.model.problem import BadDocumentError

_HIGH = 40
"""Height of a chart, in its own units."""


@dataclass(frozen=True, slots=True)
class _Bar:
    """One week in a chart."""

    x: int
    height: str
    over: bool


@dataclass(frozen=True, slots=True)
class _Chart:
    """Weeks against what there is: bars, and the line they must not pass."""

    bars: tuple[_Bar, ...]
    line: str
    """Points of the line."""
    high: int = _HIGH

    @property
    def wide(self) -> int:
        """Width in units of a week."""
        return len(self.bars)


@garden_page(Ability.READ, posting=Ability.EDIT)
def estimate(request: GardenRequest, garden: Garden) -> HttpResponse:
    """The estimate of the book as it stands, or with what a form holds just now."""
    book, code = opened(garden).book, ""
    if request.method == "POST" and "section" in request.GET:
        section = section_or_404(request.GET.get("section", ""))
        name = request.GET.get("entry") or None
        form = form_of(request, garden, section, name)
        try:
            book = _book_with(form, request)
        except BadDocumentError:
            return _page(request, {"unfinished": True})
        code = _code(form, book)
    try:
        found = estimate_of(garden, book, today=timezone.localdate())
    except NoRecordError:
        return _page(request, {"no_record": book.weather_file})
    except BadDocumentError as error:
        return _page(request, {"problems": error.problems})
    return _page(request, _context(found, book, code))


def _page(request: GardenRequest, context: dict[str, Any]) -> HttpResponse:
    template = "gardens/estimate.html" if request.htmx else "gardens/estimate_page.html"
    return render(request, template, context)


def _book_with(form: EntryForm, request: GardenRequest) -> GardenBook:
    """The book as it would be with what the form holds."""
    posted = entry_of(form.boxes(form.entry), request.POST, get_language() or "en")
    return book_of_document(form.document_with(posted))


def _code(form: EntryForm, book: GardenBook) -> str:
    """Code of the wish being looked at; empty in other sections."""
    if form.section.slug != "wishes" or not book.wishes:
        return ""
    return book.wishes[-1 if form.index is None else form.index].code


def _context(found: SeasonEstimate, book: GardenBook, code: str) -> dict[str, Any]:
    units = book.site.units
    total = sum(week.needed.likely_h for week in found.weeks)
    short = short_weeks(found.weeks, found.short_weeks)
    return {
        "estimate": found,
        "area": _area(found.ground_m2, units),
        "taken": _area(found.fullest.ground_m2, units) if found.fullest else "",
        "taken_pct": round(100 * found.fullest.ground_m2 / found.ground_m2) if found.fullest else 0,
        "harvest": _mass(found.harvest_kg, units),
        "donation": _mass(found.donation_kg, units) if found.donation_kg else "",
        "donation_short": found.donation_kg > found.harvest_kg and not found.yields_unknown,
        "hours": _hours(total),
        "hours_low": _hours(sum(week.needed.low_h for week in found.weeks)),
        "hours_high": _hours(sum(week.needed.high_h for week in found.weeks)),
        "short_weeks": [
            (week.week, _hours(week.needed.likely_h), _hours(week.promised_h)) for week in short.within
        ],
        "outside": len(short.outside),
        "outside_h": _hours(short.outside_h),
        "own": _own(found, code, units),
        "ground_chart": _ground_chart(found),
        "hours_chart": _hours_chart(found) if found.people_named else None,
    }


def _own(found: SeasonEstimate, code: str, units: UnitSystem) -> tuple[WishEstimate, str] | None:
    wish = next((each for each in found.wishes if each.wish_code == code), None)
    return (wish, _area(wish.ground_m2, units)) if wish is not None else None


def _area(area_m2: float, units: UnitSystem) -> str:
    if units == "us":
        return _("%(n)s ft²") % {"n": _number(u.m2_to_square_feet(area_m2))}
    return _("%(n)s m²") % {"n": _number(area_m2)}


def _mass(mass_kg: float, units: UnitSystem) -> str:
    if units == "us":
        return _("%(n)s lb") % {"n": _number(u.kg_to_pounds(mass_kg))}
    return _("%(n)s kg") % {"n": _number(mass_kg)}


def _hours(hours: float) -> str:
    return _number(hours)


def _number(value: float) -> str:
    return number_format(value, 0 if value >= 10 or value == 0 else 1, force_grouping=True)


def _ground_chart(found: SeasonEstimate) -> _Chart:
    most = found.ground_m2 or 1.0
    heights = [min(1.0, week.ground_m2 / most) for week in found.weeks]
    bars = tuple(_Bar(x, f"{_HIGH * height:.2f}", over=False) for x, height in enumerate(heights))
    return _Chart(bars, f"0,0 {len(bars)},0")


def _hours_chart(found: SeasonEstimate) -> _Chart:
    most = max((max(week.needed.likely_h, week.promised_h) for week in found.weeks), default=0.0) or 1.0
    short = found.short_weeks
    bars = tuple(
        _Bar(x, f"{_HIGH * week.needed.likely_h / most:.2f}", over=week in short)
        for x, week in enumerate(found.weeks)
    )
    corners = []
    for x, week in enumerate(found.weeks):
        y = round(_HIGH * (1 - week.promised_h / most), 2)
        corners += [f"{x},{y}", f"{x + 1},{y}"]
    return _Chart(bars, " ".join(corners))
