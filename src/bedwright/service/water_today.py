"""What each bed wants this morning, from the plan, the record and what was written down since."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from bedwright.engine.care import COMMON_CAN_L, tap_flow_l_min, watered_patches
from bedwright.engine.climate import fill_gaps
from bedwright.engine.pipeline import open_month_h
from bedwright.engine.water import (
    LOOK_AHEAD_DAYS,
    duty_list,
    season_so_far,
    share_out,
    site_conditions,
    water_today,
)
from bedwright.model.book import GardenBook, Period
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.season import SeasonPlan
from bedwright.model.water import (
    DutyVisit,
    ForecastDay,
    ShortShare,
    WateredPatch,
    Watering,
    WaterSupply,
    WaterToday,
)
from bedwright.model.weather import WeatherRecord
from bedwright.store.gauge import BedWatering, KnownCodes, WaterLog, read_water_log

FAR_DAYS = 3 * 366
UNKNOWN_FLOW_L_MIN = 1.0
"""Stands in where no flow is stated; minutes are then not told."""


@dataclass(frozen=True, slots=True)
class WaterAsked:
    """What is asked beside "what today"."""

    rain_if_mm: float = 10.0
    available_l: float | None = None
    duty: Period | None = None
    why: bool = False
    """Whether the state of each planting is told."""


@dataclass(frozen=True, slots=True)
class WaterAnswer:
    """The morning's answer, with what was asked beside it."""

    answer: WaterToday
    shares: tuple[ShortShare, ...]
    duty: tuple[DutyVisit, ...]
    supply: WaterSupply
    flow_known: bool
    can_known: bool
    last_known: date | None
    """Last day whose rain is known from record or gauge; None if none of this season is."""
    not_counted: tuple[str, ...]
    """Plantings in the ground whose water needs are not known."""


def known_codes(plan: SeasonPlan) -> KnownCodes:
    """Codes a water log may name."""
    plantings = {row.code: p.code for p in plan.plantings for row in p.rows}
    plantings |= {p.code: p.code for p in plan.plantings}
    return KnownCodes([bed.code for bed in plan.book.beds], plantings)


def water_log(
    plan: SeasonPlan, files: Sequence[Path], forecast: Sequence[ForecastDay], *, today: date
) -> WaterLog:
    """Several logs and a forecast typed in, put together.

    Raises
    ------
    BadDocumentError
        If a log cannot be used, or a day is forecast twice.
    """
    logs = [read_water_log(file, known_codes(plan), today=today) for file in files]
    days = [*(day for log in logs for day in log.forecast), *forecast]
    _refuse_twice([day.day for day in days], "forecast")
    readings = [reading for log in logs for reading in log.readings]
    _refuse_twice([reading.day for reading in readings], "rain gauge")
    read = {reading.day for reading in readings}
    return WaterLog(
        readings=tuple(readings),
        waterings=tuple(watering for log in logs for watering in log.waterings),
        # what the gauge has caught is no longer a forecast
        forecast=tuple(day for day in days if day.day >= today and day.day not in read),
        tap_flow_l_min=next((log.tap_flow_l_min for log in logs if log.tap_flow_l_min is not None), None),
        can_l=next((log.can_l for log in logs if log.can_l is not None), None),
    )


def _refuse_twice(days: Sequence[date], what: str) -> None:
    twice = sorted({day for day in days if days.count(day) > 1})
    if twice:
        raise BadDocumentError(
            tuple(
                Problem(what, None, None, day.isoformat(), "the same day more than once", "one entry a day")
                for day in twice
            )
        )


def garden_today(
    plan: SeasonPlan, record: WeatherRecord | None, log: WaterLog, asked: WaterAsked, *, today: date
) -> WaterAnswer:
    """What each bed wants today, when it will next, who comes first, and who has to come when.

    Parameters
    ----------
    plan
        The season plan.
    record
        The site's weather record.
    log
        Rain gauge, waterings and forecast since.
    asked
        Water there is, days of a duty list, rain to suppose.
    today
        Morning asked about.

    Raises
    ------
    BadDocumentError
        If there is no weather record, a day lies years from the season, or a watering was
        logged where nothing stood.
    """
    if record is None:
        got, hint = "no weather record", "Name one in the book, or give it with --weather."
        raise BadDocumentError((Problem(plan.book.site.name, None, None, "weather", got, "a record", hint),))
    _refuse_far_days(plan.book, asked, today)
    filled, _, _ = fill_gaps(record)
    patches = watered_patches(plan, open_month_h(plan.book))
    site = site_conditions(filled, plan.book.site.latitude_deg, plan.book.site.elevation_m)
    start = min((today, plan.book.season_start, *(patch.in_ground for patch in patches)))
    until = max((today, *((asked.duty.end,) if asked.duty else ()))) + timedelta(days=LOOK_AHEAD_DAYS)
    conditions = season_so_far(site, start, until, readings=log.readings, forecast=log.forecast)
    flow = log.tap_flow_l_min or tap_flow_l_min(plan.book)
    supply = supply_of(plan.book, log)
    waterings = spread(log.waterings, patches)
    answer = water_today(patches, conditions, waterings, supply, today, rain_if_mm=asked.rain_if_mm)
    return WaterAnswer(
        answer=answer,
        shares=() if asked.available_l is None else share_out(answer, asked.available_l),
        duty=()
        if asked.duty is None
        else duty_list(patches, conditions, waterings, supply, min(today, asked.duty.start), asked.duty),
        supply=supply,
        flow_known=flow is not None,
        can_known=log.can_l is not None or plan.book.can_l is not None,
        last_known=_last_known(record, log, start, today),
        not_counted=_not_counted(plan, patches, today),
    )


def _refuse_far_days(book: GardenBook, asked: WaterAsked, today: date) -> None:
    """Days far from the season are slips of the pen, and would be reckoned through one by one."""
    days = {"--date": today} | ({} if asked.duty is None else {"--duty": asked.duty.end})
    problems = [
        Problem(
            "the command",
            None,
            None,
            name,
            day.isoformat(),
            f"a day near the season, from {book.season_start}",
        )
        for name, day in days.items()
        if abs((day - book.season_start).days) > FAR_DAYS
    ]
    if problems:
        raise BadDocumentError(tuple(problems))


def supply_of(book: GardenBook, log: WaterLog) -> WaterSupply:
    """Tap and can: as logged, else as the book states, else the common can."""
    flow = log.tap_flow_l_min or tap_flow_l_min(book) or UNKNOWN_FLOW_L_MIN
    return WaterSupply(flow, log.can_l or book.can_l or COMMON_CAN_L)


def spread(waterings: Sequence[BedWatering], patches: Sequence[WateredPatch]) -> tuple[Watering, ...]:
    """Water given to beds, shared by ground among the plantings that stood there on that day.

    Raises
    ------
    BadDocumentError
        If nothing that is watered stood there then.
    """
    given: dict[tuple[date, str], float] = {}
    problems = []
    for watering in waterings:
        stood = [
            patch
            for patch in patches
            if patch.in_ground <= watering.day <= patch.last_pick
            and (patch.code == watering.planting_code or patch.bed_code == watering.bed_code)
        ]
        if not stood:
            where = f"watering of {watering.planting_code or f'bed {watering.bed_code}'}"
            got, expected = watering.day.isoformat(), "a day on which something stood there"
            problems.append(Problem("water log", None, None, where, got, expected))
            continue
        ground_m2 = sum(patch.area_m2 for patch in stood)
        for patch in stood:
            key = (watering.day, patch.code)
            given[key] = given.get(key, 0.0) + watering.water_l * patch.area_m2 / ground_m2
    if problems:
        raise BadDocumentError(tuple(problems))
    return tuple(Watering(day, code, water_l) for (day, code), water_l in sorted(given.items()))


def _last_known(record: WeatherRecord, log: WaterLog, start: date, today: date) -> date | None:
    last_recorded: date = record.dates[-1].astype("datetime64[D]").astype(date)
    days = [*(reading.day for reading in log.readings), last_recorded]
    known = [day for day in days if start <= day <= today]
    return max(known, default=None)


def _not_counted(plan: SeasonPlan, patches: Sequence[WateredPatch], today: date) -> tuple[str, ...]:
    counted = {patch.code for patch in patches}
    return tuple(
        f"{p.label_code} {p.crop.name}"
        for p in plan.plantings
        if p.code not in counted and p.dates.in_ground <= today <= p.dates.last_pick
    )
