"""Plots over the weeks of a season, drawn as vectors and read without colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.papers.drawing import FINE_MM, HAIR_MM, HEAVY_MM, MEDIUM_MM, Drawing, Fill
from bedwright.papers.letters import text_width_mm
from bedwright.papers.measures import month_words, number_words

_LEFT_MM, _TOP_MM, _FOOT_MM = 13.0, 9.0, 9.0
_COLUMN_SHARE = 0.72
"""Width of a column as a share of a week."""


def round_step(largest: float, most_ticks: int = 6) -> float:
    """The smallest of 1, 2, 5 times a power of ten that needs no more ticks than allowed."""
    if largest <= 0:
        return 1.0
    power = 10.0**-6
    while True:
        for base in (1, 2, 5):
            if largest / (base * power) <= most_ticks:
                return base * power
        power *= 10


@dataclass(frozen=True, slots=True)
class WeekAxis:
    """Weeks to the right, values up."""

    drawing: Drawing
    first: date
    """First day of the first week."""
    n_weeks: int
    top: float
    """Value at the top of the plot."""

    @property
    def week_mm(self) -> float:
        """Width of a week."""
        return (self.drawing.width_mm - _LEFT_MM - 2.0) / self.n_weeks

    @property
    def foot_mm(self) -> float:
        """Where the value nought lies."""
        return self.drawing.height_mm - _FOOT_MM

    def x_mm(self, day: date) -> float:
        """Left edge of a day."""
        return _LEFT_MM + (day - self.first).days / 7 * self.week_mm

    def y_mm(self, value: float) -> float:
        """Height of a value."""
        return self.foot_mm - value / self.top * (self.foot_mm - _TOP_MM)

    def column(self, week: date, low: float, high: float, *, fill: Fill, weight_mm: float = HAIR_MM) -> None:
        """A column from one value to another."""
        if high <= low:
            return
        left = self.x_mm(week) + self.week_mm * (1 - _COLUMN_SHARE) / 2
        right = left + self.week_mm * _COLUMN_SHARE
        bottom, top = self.y_mm(low), self.y_mm(high)
        corners = [(left, bottom), (left, top), (right, top), (right, bottom)]
        self.drawing.path(corners, weight_mm, closed=True, fill=fill)

    def mark(self, week: date, value: float) -> None:
        """A heavy stroke across a column."""
        left = self.x_mm(week) + self.week_mm * (1 - _COLUMN_SHARE) / 2
        y = self.y_mm(value)
        self.drawing.path([(left, y), (left + self.week_mm * _COLUMN_SHARE, y)], HEAVY_MM)

    def steps(self, weeks: Sequence[date], values: Sequence[float]) -> None:
        """A stepped line, level through each week."""
        points = []
        for week, value in zip(weeks, values, strict=True):
            x, y = self.x_mm(week), self.y_mm(value)
            points += [(x, y), (x + self.week_mm, y)]
        self.drawing.path(points, MEDIUM_MM)

    def level(self, value: float, words: str) -> None:
        """A dashed line across the whole plot with its name."""
        y = self.y_mm(value)
        right = self.drawing.width_mm - 2.0
        self.drawing.path([(_LEFT_MM, y), (right, y)], MEDIUM_MM, dash="dashed")
        self.drawing.text(right, y - 2.4, words, align="right", halo=True)


def week_axis(
    weeks: Sequence[date], largest: float, unit: str, size_mm: tuple[float, float], *, months: bool = True
) -> WeekAxis:
    """An empty plot with its ticks.

    Parameters
    ----------
    weeks
        First day of every week, in order; at least one.
    largest
        Largest value to be drawn.
    unit
        Printed above the ticks.
    size_mm
        Width and height.
    months
        Whether months are named below.
    """
    step = round_step(largest)
    n_steps = max(1, -(-largest // step)) if largest > 0 else 1
    drawing = Drawing(*size_mm)
    axis = WeekAxis(drawing, weeks[0], (weeks[-1] - weeks[0]).days // 7 + 1, step * n_steps)
    for k in range(int(n_steps) + 1):
        y = axis.y_mm(k * step)
        drawing.path([(_LEFT_MM, y), (size_mm[0] - 2.0, y)], HAIR_MM, grey=0 if k == 0 else 70)
        drawing.text(_LEFT_MM - 1.5, y, number_words(k * step, 3), align="right")
    drawing.text(_LEFT_MM - 1.5, _TOP_MM - 5.0, unit, align="right", bold=True)
    if months:
        _name_months(axis)
    return axis


def _name_months(axis: WeekAxis) -> None:
    """A tick at the first of each month, named where there is room."""
    end = axis.first + timedelta(weeks=axis.n_weeks)
    day, last_right = axis.first.replace(day=1), 0.0
    while day < end:
        following = (day + timedelta(days=32)).replace(day=1)
        left, right = axis.x_mm(max(day, axis.first)), axis.x_mm(min(following, end))
        if day >= axis.first:
            axis.drawing.path([(left, axis.foot_mm), (left, axis.foot_mm + 1.5)], FINE_MM)
        words = month_words(day.month) + (f" {day.year}" if day.month == 1 or day <= axis.first else "")
        for shown in (words, month_words(day.month)):
            width = text_width_mm(shown, 7)
            if width <= right - left and (left + right - width) / 2 > last_right:
                axis.drawing.text((left + right) / 2, axis.foot_mm + 4.0, shown, align="centre")
                last_right = (left + right + width) / 2
                break
        day = following


def key_box(drawing: Drawing, x_mm: float, words: str, *, fill: Fill, marked: bool = False) -> float:
    """A sample of a column with its meaning in the head of a plot; returns where it ends."""
    y = 3.0
    drawing.path([(x_mm, y - 1.4), (x_mm + 3, y - 1.4), (x_mm + 3, y + 1.4), (x_mm, y + 1.4)], HAIR_MM,
                 closed=True, fill=fill)  # fmt: skip
    if marked:
        drawing.path([(x_mm, y), (x_mm + 3, y)], HEAVY_MM)
    drawing.text(x_mm + 4.2, y, words)
    return x_mm + 4.2 + text_width_mm(words, 7) + 5.0


def key_line(drawing: Drawing, x_mm: float, words: str) -> float:
    """A sample of the stepped line with its meaning; returns where it ends."""
    drawing.path([(x_mm, 3.0), (x_mm + 6, 3.0)], MEDIUM_MM)
    drawing.text(x_mm + 7.5, 3.0, words)
    return x_mm + 7.5 + text_width_mm(words, 7) + 5.0
