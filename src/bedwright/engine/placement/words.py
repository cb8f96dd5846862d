"""Plain words for days, groups of crops and amounts."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

GROUP_WORDS = {
    "allium": "onion family",
    "brassica": "cabbage family",
    "solanum": "potato and tomato family",
    "cucurbit": "cucumber and squash family",
    "legume": "pea and bean family",
    "umbel": "carrot family",
    "chenopod": "beet and spinach family",
    "composite": "lettuce and daisy family",
    "grass": "maize and grain family",
    "mallow": "mallow family",
    "mint family": "mint family",
    "convolvulus": "bindweed family",
}
SIDE_WORDS = {"left": "left side", "right": "right side", "start": "near end", "end": "far end"}
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip


def group_words(group: str) -> str:
    """A rotation group as gardeners call it."""
    name = group.split("/", maxsplit=1)[0].strip()
    return GROUP_WORDS.get(name, f"{name} group")


def plain_day(day: date) -> str:
    """5 May 2027."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def plain_span(start: date, end: date) -> str:
    """5 May to 3 August 2027."""
    if start.year == end.year:
        return f"{start.day} {MONTHS[start.month - 1]} to {plain_day(end)}"
    return f"{plain_day(start)} to {plain_day(end)}"


def month_span(start: date, end: date) -> str:
    """May to August, or one month."""
    first, last = MONTHS[start.month - 1], MONTHS[end.month - 1]
    return first if first == last and start.year == end.year else f"{first} to {last}"


def listed(parts: Sequence[str]) -> str:
    """One, two and three."""
    if len(parts) < 2:
        return "".join(parts)
    return ", ".join(parts[:-1]) + " and " + parts[-1]


def counted(number: int, noun: str) -> str:
    """1 plant, 2 plants."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
