"""A small garden whose plan is moved in time, so that its carrots are to be sown today."""

from __future__ import annotations

import gzip
import re
from datetime import date, timedelta
from functools import cache

from django.utils import timezone

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of, catalogue
from bedwright.apps.web.log.reading import today_in
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.engine.pipeline import plan_season
from bedwright.store.season import season_from_text, season_json

BOOK = """\
site: {name: Small garden, latitude_deg: 52, longitude_deg: 0, elevation_m: 20, time_zone: Europe/London}
season: {start: 2027-01-01}
weather: {stated_frost: {last_spring: 05-05, first_autumn: 10-10}}
beds:
  - {code: A, rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}, texture: loam}
  - {code: B, rectangle: {length_m: 4, width_m: 1.2, east_m: 3, north_m: 0, bearing_deg: 0}, texture: loam}
wishes:
  - {crop: carrot, row_m: 4}
  - {crop: lettuce, plants: 8}
  - {crop: potato, plants: 6}
"""


@cache
def _season(start: str) -> str:
    book = book_of(BOOK.replace("2027-01-01", start))
    return season_json(plan_season(book, None, catalogue(), seed=1, today=date(2026, 12, 1)))


def season_at(today: date, start: str = "2027-01-01", first_job: str = "carrot-1:sow") -> str:
    """season.json with every day moved by as many days as put a job on a day."""
    text = _season(start)
    by = today - next(task.start for task in season_from_text(text).tasks if task.code == first_job)

    def moved(found: re.Match[str]) -> str:
        return f'"{date.fromisoformat(found[1]) + by}"'

    return re.sub(r'"(\d{4}-\d\d-\d\d)"', moved, text)


def garden_now(coordinator: User, *volunteers: User, later_days: int = 0) -> Garden:
    """The garden with its plan; `later_days` after the carrots are to be sown."""
    garden = load_demo(coordinator)
    for volunteer in volunteers:
        Membership.objects.create(garden=garden, user=volunteer, role=Role.VOLUNTEER)
    _keep(garden, coordinator, season_at(today_in(garden) - timedelta(days=later_days)))
    return garden


def season_to_come(garden: Garden, coordinator: User) -> SavedPlan:
    """A plan for the season that begins in five weeks; its lettuces are to be sown under cover today."""
    text = season_at(today_in(garden), "2027-03-15", "lettuce-1:sow-under-cover")
    return _keep(garden, coordinator, text)


def _keep(garden: Garden, coordinator: User, text: str) -> SavedPlan:
    plan = season_from_text(text)
    assert garden.head is not None
    return SavedPlan.objects.create(
        garden=garden,
        revision=garden.head,
        asked_by=coordinator,
        today=plan.made_on,
        state=PlanState.DONE,
        finished_at=timezone.now(),
        digest=plan.revision,
        season_start=plan.book.season_start,
        packed=gzip.compress(text.encode()),
    )
