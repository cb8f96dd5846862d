"""What the log says of each planting, in a few words."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from bedwright.model.log import LoggedSeason, PlantingLogged


def logged_words(logged: LoggedSeason) -> Mapping[str, str]:
    """Code of a planting to what was written down of it; empty where nothing was."""
    return {each.planting.code: _words(each) for each in logged.plantings}


def _words(each: PlantingLogged) -> str:
    if each.failed_on is not None:
        return _("failed %(day)s") % {"day": _day(each.failed_on)}
    if each.cleared_on is not None:
        return _("cleared %(day)s") % {"day": _day(each.cleared_on)}
    told = []
    if each.in_ground_on is not None:
        told.append(_("in the ground %(day)s") % {"day": _day(each.in_ground_on)})
    elif each.sown_under_cover_on is not None:
        told.append(_("sown under cover %(day)s") % {"day": _day(each.sown_under_cover_on)})
    if each.late_days:
        words = ngettext("%(n)s day late", "%(n)s days late", each.late_days)
        told.append(words % {"n": each.late_days})
    return ", ".join(told)


def _day(day: date) -> str:
    return date_format(day, "SHORT_DATE_FORMAT")


def state_of(each: PlantingLogged | None) -> str:
    """One word by which the drawing marks a planting; empty where all is as planned."""
    if each is None:
        return ""
    return "failed" if each.failed_on is not None else "late" if each.late_days else ""


def days_of(each: PlantingLogged | None) -> tuple[date, date] | None:
    """First and last day on which a planting really takes its ground; None where only the plan says."""
    if each is None or (each.in_ground_on is None and each.failed_on is None):
        return None
    last = each.failed_on or each.cleared_on or each.dates.clear_by
    return each.in_ground_on or each.planting.dates.in_ground, last


def told_of(logged: LoggedSeason) -> tuple[object, ...]:
    """All that pages of a plan show of its log; equal where they show the same."""
    words = logged_words(logged)
    return tuple((words[each.planting.code], days_of(each), state_of(each)) for each in logged.plantings)
