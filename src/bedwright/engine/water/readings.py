"""Faults in a log of rain gauge, waterings and taps, all at once."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

from bedwright.model.bounds import CAN_L, TAP_FLOW_L_MIN, Bounds, plain_number
from bedwright.model.problem import Problem
from bedwright.model.water import RainReading, Watering, WaterSupply

RAIN_READING_MM = Bounds(0, 500, "mm")
"""Rain of one reading. More in a day has fallen in few places on earth; likely tenths or another unit."""

WATERING_L = Bounds(0, 10_000, "L")


def reading_problems(readings: Sequence[RainReading], *, file: str, today: date) -> tuple[Problem, ...]:
    """Faults of rain gauge readings.

    Parameters
    ----------
    readings : sequence of RainReading
        In the order of the log.
    file : str
        Name of the log.
    today : date
        Readings after it cannot be.

    Returns
    -------
    tuple of Problem
        Negative or impossible rain, a day read twice, a day to come.
    """
    problems = []
    first_line: dict[date, int | None] = {}
    for count, reading in enumerate(readings, start=1):
        where = f"readings[{count}]"
        if reading.rain_mm not in RAIN_READING_MM:
            hint = "Rain is never negative; 0 for a dry gauge." if reading.rain_mm < 0 else ""
            hint = hint or ("Tenths of a millimetre?" if math.isfinite(reading.rain_mm) else "")
            problems.append(
                Problem(
                    file, reading.line, None, f"{where}.rain_mm", _number(reading.rain_mm),
                    str(RAIN_READING_MM), hint,
                )
            )  # fmt: skip
        if reading.day in first_line:
            other = first_line[reading.day]
            place = "" if other is None else f" It stands in line {other} too."
            problems.append(
                Problem(
                    file, reading.line, None, f"{where}.day", reading.day.isoformat(),
                    "one reading a day", f"Read twice: keep one, or add both up.{place}",
                )
            )  # fmt: skip
        first_line.setdefault(reading.day, reading.line)
        if reading.day > today:
            problems.append(
                Problem(
                    file, reading.line, None, f"{where}.day", reading.day.isoformat(),
                    f"a day up to {today.isoformat()}", "A day to come belongs to the forecast.",
                )
            )  # fmt: skip
    return tuple(problems)


def watering_problems(
    waterings: Sequence[Watering], patch_codes: Sequence[str], *, file: str, today: date
) -> tuple[Problem, ...]:
    """Faults of logged waterings: impossible amounts, unknown plantings, doubles, days to come."""
    problems, seen = [], set()
    for count, watering in enumerate(waterings, start=1):
        where = f"waterings[{count}]"
        if watering.water_l not in WATERING_L:
            got = _number(watering.water_l)
            problems.append(Problem(file, None, None, f"{where}.water_l", got, str(WATERING_L)))
        if watering.patch_code not in patch_codes:
            known = ", ".join(sorted(patch_codes)) or "none"
            problems.append(
                Problem(file, None, None, f"{where}.planting", watering.patch_code, f"one of: {known}")
            )
        key = (watering.day, watering.patch_code)
        if key in seen:
            got = f"{watering.patch_code} on {watering.day.isoformat()}"
            problems.append(
                Problem(file, None, None, where, got, "one entry a planting and day", "Add both up.")
            )
        seen.add(key)
        if watering.day > today:
            got, expected = watering.day.isoformat(), f"a day up to {today.isoformat()}"
            problems.append(Problem(file, None, None, f"{where}.day", got, expected))
    return tuple(problems)


def supply_problems(supply: WaterSupply, *, file: str) -> tuple[Problem, ...]:
    """Faults of the tap's flow and the can's size."""
    problems = []
    flow = supply.tap_flow_l_min
    if flow not in TAP_FLOW_L_MIN:
        hint = "Time a bucket: 10 L in 40 seconds are 15 L/min."
        problems.append(
            Problem(file, None, None, "supply.tap_flow_l_min", _number(flow), str(TAP_FLOW_L_MIN), hint)
        )
    if supply.can_l not in CAN_L:
        problems.append(Problem(file, None, None, "supply.can_l", _number(supply.can_l), str(CAN_L)))
    return tuple(problems)


def _number(value: float) -> str:
    return plain_number(value) if math.isfinite(value) else str(value)
