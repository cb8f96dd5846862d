"""A plot over weeks, laid out in pixels: columns, marks and stepped lines without colour."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.formats import date_format, number_format

from bedwright.papers.week_axis import round_step

WEEK_PX = 13.0
_COLUMN_SHARE = 0.7


@dataclass(frozen=True, slots=True)
class Tick:
    """A level or a month with its words."""

    at_px: float
    words: str


@dataclass(frozen=True, slots=True)
class Column:
    """A bar of one week."""

    x_px: float
    y_px: float
    width_px: float
    height_px: float


@dataclass(frozen=True, slots=True)
class WeekPlot:
    """Weeks to the right, values up.

    Parameters
    ----------
    first
        First day of the first week.
    n_weeks
        Number of weeks, at least 1.
    largest
        Largest value to be drawn, 0 or more.
    height_px
        Height of the whole plot.
    """

    first: date
    n_weeks: int
    largest: float
    height_px: float = 230.0
    top_px: float = 26.0
    """Where the largest value may lie."""
    foot_px: float = 206.0
    """Where nought lies."""
    left_px: float = 58.0
    room_right_px: float = 12.0
    fitted: bool = False
    """True: the largest value touches the top; False: a round level does."""

    @property
    def width_px(self) -> float:
        """Width of the whole plot."""
        return self.right_px + self.room_right_px

    @property
    def right_px(self) -> float:
        """Right end of the weeks."""
        return self.left_px + self.n_weeks * WEEK_PX

    @property
    def text_y_px(self) -> float:
        """Line of the names of months."""
        return self.height_px - 6

    @property
    def _step(self) -> float:
        return round_step(self.largest, 5)

    @property
    def _top(self) -> float:
        if self.fitted and self.largest > 0:
            return self.largest
        step = self._step
        return step * max(1, -(-self.largest // step))

    def levels(self) -> list[Tick]:
        """Levels with their numbers, nought first."""
        step = self._step
        digits = max(0, -int(f"{step:e}".rpartition("e")[2]))
        n_steps = round(self._top / step)
        return [
            Tick(self.y(k * step), number_format(k * step, digits, force_grouping=True))
            for k in range(n_steps + 1)
        ]

    def months(self) -> Iterator[Tick]:
        """The first of each month; no words where there is no room for them."""
        end = self.first + timedelta(weeks=self.n_weeks)
        day = self.first.replace(day=1)
        while day < end:
            following = (day + timedelta(days=32)).replace(day=1)
            if day >= self.first:
                words = date_format(day, "M Y" if day.month == 1 else "M")
                yield Tick(self.x(day), words if following <= end else "")
            day = following

    def x(self, day: date) -> float:
        """Left edge of a day."""
        return round(self.left_px + (day - self.first).days / 7 * WEEK_PX, 1)

    def y(self, value: float) -> float:
        """Height of a value."""
        return round(self.foot_px - value / self._top * (self.foot_px - self.top_px), 1)

    def column(self, week: date, low: float, high: float) -> Column:
        """A column from one value to another."""
        top, bottom = self.y(high), self.y(low)
        width = round(WEEK_PX * _COLUMN_SHARE, 1)
        left = round(self.x(week) + (WEEK_PX - width) / 2, 1)
        return Column(left, top, width, round(max(0.0, bottom - top), 1))

    def steps(self, weeks: Sequence[date], values: Sequence[float]) -> str:
        """Path of a line that is level through each week, and broken where a week is left out."""
        parts: list[str] = []
        due: date | None = None
        for week, value in zip(weeks, values, strict=True):
            x = self.x(week)
            parts.append(f"{'L' if week == due else 'M'}{x} {self.y(value)}H{round(x + WEEK_PX, 1)}")
            due = week + timedelta(weeks=1)
        return "".join(parts)

    def area(self, weeks: Sequence[date], values: Sequence[float]) -> str:
        """Path of the same line closed down to nought."""
        if not weeks:
            return ""
        end = round(self.x(weeks[-1]) + WEEK_PX, 1)
        return f"{self.steps(weeks, values)}L{end} {self.foot_px}H{self.x(weeks[0])}Z"
