"""Ground taken, bed by bed and week by week, laid out as a drawing in pixels."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.formats import date_format

from bedwright.apps.web.season.drawing.hatches import Pattern
from bedwright.apps.web.season.drawing.plan_data import name_of, words_of
from bedwright.apps.web.season.drawing.weeks import Weeks, weeks_of
from bedwright.model.season import Planting, SeasonPlan

DAY_PX = 2.6
LEFT_PX = 58.0
TOP_PX = 40.0
LANE_PX = 24.0
_GAP_PX = 5.0
_LETTER_PX = 6.6
"""Usual width of a letter of the words on bars; words that are cut off are in the table too."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One planting on the chart."""

    planting: Planting
    name: str
    words: str
    x_px: float
    y_px: float
    width_px: float
    height_px: float
    pick_x_px: float
    pick_y_px: float
    pick_width_px: float
    """Weeks of picking, a heavy line under the bar."""
    words_x_px: float
    words_y_px: float
    pattern: str
    pinned: bool


@dataclass(frozen=True, slots=True)
class BedBand:
    """One bed: its lanes of bars."""

    code: str
    name: str
    y_px: float
    text_y_px: float
    bars: tuple[Bar, ...]


@dataclass(frozen=True, slots=True)
class Tick:
    """A Monday or the begin of a month."""

    x_px: float
    words: str


@dataclass(frozen=True, slots=True)
class Occupancy:
    """The whole chart."""

    width_px: float
    height_px: float
    day_px: float
    bands: tuple[BedBand, ...]
    mondays: tuple[Tick, ...]
    months: tuple[Tick, ...]
    right_px: float


def occupancy_of(plan: SeasonPlan, patterns: Iterable[Pattern], pinned: Collection[str]) -> Occupancy | None:
    """The chart of a plan; None where nothing is planted."""
    weeks = weeks_of(plan.plantings)
    if weeks is None:
        return None
    keys = {pattern.group: pattern.key for pattern in patterns}
    bands: list[BedBand] = []
    y = TOP_PX
    for bed in plan.book.beds:
        lanes = _lanes(plan.in_bed(bed.code), weeks) or [[]]
        bars = tuple(
            _bar(planting, weeks, y + k * LANE_PX, keys, planting.code in pinned)
            for k, lane in enumerate(lanes)
            for planting in lane
        )
        bands.append(BedBand(bed.code, bed.name, y, y + 16, bars))
        y += len(lanes) * LANE_PX
    right = LEFT_PX + weeks.count * 7 * DAY_PX
    widest = max((bar.words_x_px + _words_px(bar.words) for band in bands for bar in band.bars), default=0.0)
    return Occupancy(
        width_px=round(max(right, widest) + 8, 1),
        height_px=y + 1,
        day_px=DAY_PX,
        bands=tuple(bands),
        mondays=tuple(Tick(_x(day, weeks), str(day.day)) for day in weeks),
        months=tuple(_months(weeks)),
        right_px=right,
    )


def _months(weeks: Weeks) -> Iterator[Tick]:
    """The first week and the first of each month; one too near to the next goes without words."""
    days = [day for day in weeks if day == weeks.first or day.day <= 7]
    year_due = True
    for day, following in zip(days, [*days[1:], None], strict=True):
        words = date_format(day, "F Y" if year_due or day.month == 1 else "F")
        fits = following is None or _words_px(words) + 6 <= _x(following, weeks) - _x(day, weeks)
        year_due = year_due and not fits
        yield Tick(_x(day, weeks), words if fits else "")


def _x(day: date, weeks: Weeks) -> float:
    return round(LEFT_PX + (day - weeks.first).days * DAY_PX, 1)


def _words_px(words: str) -> float:
    return len(words) * _LETTER_PX


def _ends_px(planting: Planting, weeks: Weeks) -> tuple[float, float, bool]:
    """Left and right end of the bar, and whether its words fit into it."""
    x0 = _x(planting.dates.in_ground, weeks)
    x1 = _x(planting.dates.clear_by + timedelta(days=1), weeks)
    return x0, x1, _words_px(words_of(planting)) + 10 <= x1 - x0


def _lanes(plantings: Sequence[Planting], weeks: Weeks) -> list[list[Planting]]:
    """Bars that do not touch, nor their words, share a lane."""
    lanes: list[list[Planting]] = []
    taken_px: list[float] = []
    for planting in plantings:
        x0, x1, fits = _ends_px(planting, weeks)
        end = x1 if fits else x1 + _words_px(words_of(planting)) + 8
        home = next((k for k, taken in enumerate(taken_px) if taken <= x0), None)
        if home is None:
            lanes.append([])
            taken_px.append(0.0)
            home = len(lanes) - 1
        lanes[home].append(planting)
        taken_px[home] = end
    return lanes


def _bar(planting: Planting, weeks: Weeks, y: float, keys: Mapping[str, str], pinned: bool) -> Bar:
    x0, x1, fits = _ends_px(planting, weeks)
    dates = planting.dates
    pick = _x(dates.first_pick, weeks), min(x1, _x(dates.last_pick + timedelta(days=1), weeks))
    return Bar(
        planting=planting,
        name=name_of(planting),
        words=words_of(planting),
        x_px=x0,
        y_px=y + _GAP_PX / 2,
        width_px=round(x1 - x0, 1),
        height_px=LANE_PX - _GAP_PX,
        pick_x_px=pick[0],
        pick_y_px=y + LANE_PX - _GAP_PX / 2 - 2,
        pick_width_px=round(max(0.0, pick[1] - pick[0]), 1),
        words_x_px=round(x0 + 5 if fits else x1 + 4, 1),
        words_y_px=y + 16,
        pattern=keys.get(planting.crop.rotation_group, ""),
        pinned=pinned,
    )
