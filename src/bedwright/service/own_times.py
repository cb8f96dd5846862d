"""What jobs really took, learnt from the log, and the lines that put it into the garden book."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import cast

from bedwright.engine.supplies.trays import tray_needs
from bedwright.engine.work import own_rates_of
from bedwright.engine.work.amounts import portions_of
from bedwright.model.book import JOB_UNITS, Job, UnitSystem
from bedwright.model.log import LogRecord
from bedwright.model.season import Planting, SeasonPlan
from bedwright.model.units import feet_to_metres, pounds_to_kg, square_feet_to_m2
from bedwright.model.work import OwnRate, WorkRecord
from bedwright.service.season_log import log_kind_of, standing_records

_US: Mapping[str, tuple[str, float]] = {
    "m2": ("ft2", square_feet_to_m2(1)),
    "row_m": ("row_ft", feet_to_metres(1)),
    "kg": ("lb", pounds_to_kg(1)),
}
"""US units of the garden book's keys, and the metric units in one of each."""


def own_times(plan: SeasonPlan, records: Iterable[LogRecord]) -> tuple[OwnRate, ...]:
    """Rates of the jobs that were finished and timed.

    Parameters
    ----------
    plan
        The season plan: how much of each job there was.
    records
        Every line of the log, corrected ones too.

    Returns
    -------
    tuple of OwnRate
        By job; see `own_rates_of` for low, likely and high.

    Limits
    ------
    A job counts once it is finished and every line of it has its minutes. Picking counts line by
    line, by the kilograms weighed. Weeding and watering go on week after week, and a line does not
    say of how many weeks: they are not learnt.
    """
    standing = standing_records(records)
    found = [*_picked(standing), *_finished(plan, standing)]
    return own_rates_of(found)


def _picked(standing: Iterable[LogRecord]) -> Iterator[WorkRecord]:
    for record in standing:
        timed = record.person_min is not None and record.person_min > 0
        if record.kind == "picked" and record.unit == "kg" and record.quantity and timed:
            yield WorkRecord("pick", record.day, record.quantity, record.person_min or 0.0)


def _finished(plan: SeasonPlan, standing: Iterable[LogRecord]) -> Iterator[WorkRecord]:
    lines: dict[str, list[LogRecord]] = {}
    for record in standing:
        if record.task_code:
            lines.setdefault(record.task_code, []).append(record)
    plantings: Mapping[str, Planting] = {planting.code: planting for planting in plan.plantings}
    trays = {need.planting_code: need.n_trays for need in tray_needs(plan.plantings, plan.orders)}
    for task in plan.tasks:
        mine = [each for each in lines.get(task.code, ()) if each.kind == log_kind_of(task.kind)]
        minutes = [each.person_min for each in mine if each.person_min]
        whole = any(not each.partly for each in mine) and len(minutes) == len(mine)
        if task.kind == "pick" or not whole:
            continue
        code = task.planting_code or ""
        portions = portions_of(task, plantings.get(code), trays.get(code, 0))
        # Minutes of a job that is reckoned in two measures cannot be shared out between them.
        if len(portions) == 1 and portions[0].quantity > 0:
            yield WorkRecord(portions[0].rate_name, mine[-1].day, portions[0].quantity, sum(minutes))


def in_units_of(rate: OwnRate, units: UnitSystem) -> tuple[str, tuple[float, float, float]]:
    """Unit a job is timed in, as the garden book's keys name it, with low, likely and high minutes."""
    unit = JOB_UNITS[cast("Job", rate.rate_name)]
    us_unit, factor = _US.get(unit, (unit, 1.0)) if units == "us" else (unit, 1.0)
    return us_unit, (rate.low_min * factor, rate.likely_min * factor, rate.high_min * factor)


def rate_lines(own: Iterable[OwnRate], units: UnitSystem) -> str:
    """Own times as lines of the garden book, to be copied; empty where there are none."""
    rows = []
    for rate in own:
        unit, minutes = in_units_of(rate, units)
        told = ", ".join(f"{each:.3g}" for each in minutes)
        rows.append(f"  - {{job: {rate.rate_name}, min_per_{unit}: [{told}]}}")
    return "\n".join(["labour_rates:", *rows]) + "\n" if rows else ""
