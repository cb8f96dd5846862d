"""Weeks of the season: hours of work against those promised, and how evenly a crop is picked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.engine.placement.layout import IntArray
from bedwright.model.book import GardenBook, HelpingHands, Period
from bedwright.model.season import DateChoice
from bedwright.model.weather import FloatArray

STEADY = 1.5
"""A week may bring half as much again as the even share before it counts as a glut.
Common practice, no source."""

DAYS_A_WEEK = 7


@dataclass(frozen=True, slots=True)
class BedHours:
    """Hours of work that ground under a crop takes, and the hours that people promise.

    The hours are common practice, without a source: a first measure, to be replaced by a
    garden's own records.
    """

    people: tuple[HelpingHands, ...]
    plant_h_m2: float = 0.20
    """To prepare the ground and sow or set out, in the week it goes in. [h/m²]"""
    tend_h_m2: float = 0.015
    """Weeding, watering and looking after, each week it stands. [h/m² a week]"""
    pick_h_m2: float = 0.05
    """Each week of picking. [h/m² a week]"""
    clear_h_m2: float = 0.10
    """In the week the ground is cleared. [h/m²]"""


@dataclass(frozen=True, slots=True, eq=False)
class WeekTables:
    """What each date of each request asks of the weeks; weeks count from `first_day`."""

    first_day: int
    """Ordinal of the Monday that week 0 begins on."""
    n_weeks: int
    promised_h: FloatArray | None
    """(n_weeks,): hours promised; None where no people are named."""
    work_from: tuple[IntArray, ...]
    """By request, (n_dates,): first week of work."""
    work_h_m2: tuple[tuple[FloatArray, ...], ...]
    """By request and date: hours of work per m² in each week from the first."""
    pick_from: tuple[IntArray, ...]
    pick_to: tuple[IntArray, ...]
    """By request, (n_dates,): first and last week of picking."""
    group: IntArray
    """By request: number of its picking curve; -1 where a wish is one planting."""
    steady_plants: FloatArray
    """By curve: plants picked in one week that still count as steady."""
    plant_worth: FloatArray
    """By curve: points of one plant."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the tables need to know of one request."""

    wish_code: str
    n_plants: int
    worth: float
    choices: tuple[DateChoice, ...]
    best: int


def week_tables(wanted: Sequence[Wanted], hours: BedHours | None) -> WeekTables:
    """Tables for requests in order; `hours` None: work is not weighed."""
    days = [choice for one in wanted for choice in one.choices]
    first = min((choice.in_ground.toordinal() for choice in days), default=1) - DAYS_A_WEEK
    first -= date.fromordinal(max(1, first)).weekday()
    last = max((choice.clear_by.toordinal() for choice in days), default=first)
    n_weeks = (last - first) // DAYS_A_WEEK + 2

    def week(day: date) -> int:
        return (day.toordinal() - first) // DAYS_A_WEEK

    def numbers(days_of: Sequence[date]) -> IntArray:
        return np.array([week(day) for day in days_of], dtype=np.int64)

    group, steady, worth = _curves(wanted, week)
    table = hours or BedHours(())
    return WeekTables(
        first_day=first,
        n_weeks=n_weeks,
        promised_h=_promised(hours.people, first, n_weeks) if hours else None,
        work_from=tuple(numbers([choice.in_ground for choice in one.choices]) for one in wanted),
        work_h_m2=tuple(tuple(_work(choice, table, week) for choice in one.choices) for one in wanted),
        pick_from=tuple(numbers([choice.first_pick for choice in one.choices]) for one in wanted),
        pick_to=tuple(
            numbers([max(choice.first_pick, choice.last_pick) for choice in one.choices]) for one in wanted
        ),
        group=group,
        steady_plants=steady,
        plant_worth=worth,
    )


def _promised(people: Sequence[HelpingHands], first: int, n_weeks: int) -> FloatArray:
    hours = np.zeros(n_weeks)
    for hands in people:
        for number in range(n_weeks):
            start = first + number * DAYS_A_WEEK
            days = min(hands.end.toordinal(), start + 6) - max(hands.start.toordinal(), start) + 1
            hours[number] += hands.hours_per_week * max(0, days) / DAYS_A_WEEK
    return hours


def _work(choice: DateChoice, table: BedHours, week: Callable[[date], int]) -> FloatArray:
    start, clear = week(choice.in_ground), week(choice.clear_by)
    hours = np.full(clear - start + 1, table.tend_h_m2)
    hours[0] += table.plant_h_m2
    hours[-1] += table.clear_h_m2
    first, last = week(choice.first_pick), week(max(choice.first_pick, choice.last_pick))
    hours[max(0, first - start) : last - start + 1] += table.pick_h_m2
    return hours


def _curves(wanted: Sequence[Wanted], week: Callable[[date], int]) -> tuple[IntArray, FloatArray, FloatArray]:
    """Picking curve of each request with sisters of the same wish; its steady level and worth."""
    sisters: dict[str, list[int]] = {}
    for number, one in enumerate(wanted):
        if one.choices and one.n_plants:
            sisters.setdefault(one.wish_code, []).append(number)
    group = np.full(len(wanted), -1, dtype=np.int64)
    steady: list[float] = []
    worth: list[float] = []
    for numbers in sisters.values():
        if len(numbers) < 2:
            continue
        best = [wanted[number].choices[wanted[number].best] for number in numbers]
        spans = [(week(one.first_pick), week(max(one.first_pick, one.last_pick))) for one in best]
        n_weeks = max(last for _, last in spans) - min(first for first, _ in spans) + 1
        total = sum(wanted[number].n_plants for number in numbers)
        # One planting picked at its own pace is never a glut by itself.
        alone = max(
            wanted[number].n_plants / (last - first + 1)
            for number, (first, last) in zip(numbers, spans, strict=True)
        )
        group[numbers] = len(steady)
        steady.append(max(STEADY * total / n_weeks, alone))
        worth.append(sum(wanted[number].worth for number in numbers) / total)
    return group, np.array(steady, dtype=np.float64), np.array(worth, dtype=np.float64)


def hours_of(book: GardenBook) -> BedHours | None:
    """The common table with the people of a book; None where it names none."""
    return BedHours(book.people) if book.people else None


def quiet_share(choice: DateChoice, quiet: Sequence[Period]) -> float:
    """Share of the days of picking that fall in quiet weeks."""
    first, last = choice.first_pick, max(choice.first_pick, choice.last_pick)
    n_quiet = sum(
        any(period.start.toordinal() <= day <= period.end.toordinal() for period in quiet)
        for day in range(first.toordinal(), last.toordinal() + 1)
    )
    return n_quiet / ((last - first).days + 1)
