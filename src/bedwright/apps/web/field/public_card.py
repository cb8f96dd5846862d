"""What a visitor may know of a row: the plant, what of it is eaten, what was done for the soil."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.reading import plan_in, season_in
from bedwright.model.log import LoggedSeason, PlantingLogged
from bedwright.model.season import SeasonPlan
from bedwright.papers.cautions import BROAD_BEAN, LOCAL_RULES, POISONOUS
from bedwright.service.field_jobs import JobCaution


@dataclass(frozen=True, slots=True)
class PublicCard:
    """Nothing in it names a person, tells a note or says where the garden is."""

    row_code: str
    crop: str
    latin_name: str
    variety: str
    facts: tuple[str, ...]
    eaten: tuple[str, ...]
    not_eaten: tuple[str, ...]
    soil: tuple[str, ...]
    cautions: tuple[JobCaution, ...]
    local: str


def public_card(garden: Garden, row_code: str) -> PublicCard | None:
    """The card of a row of the newest plan; None if there is no such row."""
    newest = plan_in(garden)
    if newest is None:
        return None
    plan = newest[1]
    logged = season_in(garden, plan)
    found = next(
        (each for each in logged.plantings if any(row.code == row_code for row in each.planting.rows)), None
    )
    if found is None:
        return None
    crop = found.planting.crop
    return PublicCard(
        row_code=row_code,
        crop=_(crop.name),
        latin_name=crop.latin_name,
        variety=found.planting.variety,
        facts=tuple(_facts(found)),
        eaten=tuple(_(part) for part in crop.edible_parts),
        not_eaten=tuple(_(part) for part in crop.poisonous_parts),
        soil=tuple(_soil(plan, logged, found)),
        cautions=tuple(_cautions(crop.latin_name, crop.poisonous_parts)),
        local=_(LOCAL_RULES),
    )


def _day(day: date) -> str:
    return date_format(day, "DATE_FORMAT")


def _facts(found: PlantingLogged) -> Iterator[str]:
    sown = found.planting.way == "sow"
    if found.in_ground_on is not None:
        day = {"day": _day(found.in_ground_on)}
        yield _("Sown here on %(day)s.") % day if sown else _("Set out here on %(day)s.") % day
    else:
        day = {"day": _day(found.dates.in_ground)}
        yield (
            _("To be sown here about %(day)s.") % day
            if sown
            else _("To be set out here about %(day)s.") % day
        )
    if found.failed_on is not None:
        yield _("It failed this year.")
    elif found.cleared_on is not None:
        yield _("Cleared on %(day)s.") % {"day": _day(found.cleared_on)}
    elif found.planting.crop.kind == "cover crop":
        yield _("A cover crop: it is grown for the soil, and cut down.")
    else:
        span = {"start": _day(found.dates.first_pick), "end": _day(found.dates.last_pick)}
        yield _("Picked from about %(start)s to %(end)s.") % span


def _soil(plan: SeasonPlan, logged: LoggedSeason, found: PlantingLogged) -> Iterator[str]:
    """What the log says was done for the ground of this bed, latest first."""
    done = {
        "prepare": _("Cleared, compost spread and raked level, %(day)s."),
        "mulch": _("Mulched, %(day)s."),
        "cut down": _("A cover crop was cut down for the soil, %(day)s."),
        "side dress": _("Fed along the row, %(day)s."),
    }
    bed, code = found.planting.bed_code, found.planting.code
    told = {
        (each.done_on, done[each.task.kind])
        for each in logged.tasks
        if each.task.kind in done
        and each.done_on is not None
        and (each.task.planting_code == code or (each.task.kind == "cut down" and each.task.bed_code == bed))
    }
    for day, words in sorted(told, reverse=True):
        yield words % {"day": _day(day)}
    covers = sorted(
        {
            _(each.crop.name)
            for each in plan.in_bed(bed)
            if each.crop.kind == "cover crop" and each.code != code
        }
    )
    if covers:
        yield _("In this bed a cover crop is grown for the soil this season: %(crops)s.") % {
            "crops": ", ".join(covers)
        }


def _cautions(latin_name: str, poisonous_parts: Iterable[str]) -> Iterator[JobCaution]:
    if latin_name.startswith("Vicia faba"):
        yield JobCaution(_(BROAD_BEAN.text), BROAD_BEAN.source)
    if tuple(poisonous_parts):
        yield JobCaution(_(POISONOUS.text), POISONOUS.source)
