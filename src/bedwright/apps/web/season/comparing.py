"""What is different between two plans of one garden."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from bedwright.apps.web.gardens.crop_words import crop_word
from bedwright.model.season import Planting, SeasonPlan


@dataclass(frozen=True, slots=True)
class Difference:
    """One planting that differs, with what it is in each plan."""

    code: str
    crop: str
    kind: str
    """gone, new or changed."""
    changes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two plans beside each other."""

    differences: tuple[Difference, ...]
    n_same: int
    shortfalls_gone: tuple[str, ...]
    shortfalls_new: tuple[str, ...]


def compare(old: SeasonPlan, new: SeasonPlan) -> Comparison:
    """The differences from an older plan to a newer, planting by planting."""
    before, after = _by_code(old.plantings), _by_code(new.plantings)
    differences: list[Difference] = []
    n_same = 0
    for code in sorted(before.keys() | after.keys()):
        was, now = before.get(code), after.get(code)
        if was is None or now is None:
            only = was or now
            if only is not None:
                kind = _("gone") if now is None else _("new")
                differences.append(Difference(code, _name(only), kind, (_stands(only),)))
            continue
        changes = tuple(_changes(was, now))
        if changes:
            differences.append(Difference(code, _name(now), _("changed"), changes))
        else:
            n_same += 1
    short_old = {
        short.planting_code: f"{crop_word(short.crop)} ({short.planting_code})" for short in old.shortfalls
    }
    short_new = {
        short.planting_code: f"{crop_word(short.crop)} ({short.planting_code})" for short in new.shortfalls
    }
    return Comparison(
        tuple(differences),
        n_same,
        tuple(name for code, name in short_old.items() if code not in short_new),
        tuple(name for code, name in short_new.items() if code not in short_old),
    )


def _by_code(plantings: Iterable[Planting]) -> dict[str, Planting]:
    return {planting.code: planting for planting in plantings}


def _name(planting: Planting) -> str:
    return f"{crop_word(planting.crop.name)} {planting.variety}".strip()


def _stands(planting: Planting) -> str:
    words = _("%(n)s plants in bed %(bed)s, in the ground %(day)s")
    day = date_format(planting.dates.in_ground, "SHORT_DATE_FORMAT")
    return words % {"n": planting.n_plants, "bed": planting.bed_code, "day": day}


def _changes(was: Planting, now: Planting) -> Iterable[str]:
    if was.bed_code != now.bed_code:
        yield _("bed %(was)s → %(now)s") % {"was": was.bed_code, "now": now.bed_code}
    elif (was.along_m, was.across_m) != (now.along_m, now.across_m):
        yield _("another place in bed %(bed)s") % {"bed": now.bed_code}
    for label, first, second in (
        (_("in the ground"), was.dates.in_ground, now.dates.in_ground),
        (_("first pick"), was.dates.first_pick, now.dates.first_pick),
        (_("ground free"), was.dates.clear_by, now.dates.clear_by),
    ):
        if first != second:
            n_days = abs((second - first).days)
            words = ngettext("%(n)s day", "%(n)s days", n_days) % {"n": n_days}
            later = _("%(label)s %(days)s later") if second > first else _("%(label)s %(days)s earlier")
            yield later % {"label": label, "days": words}
    if was.n_plants != now.n_plants:
        yield _("%(was)s → %(now)s plants") % {"was": was.n_plants, "now": now.n_plants}
