"""People who stay together: teams, and children beside their adult."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bedwright.engine.work.blocks import minutes_in
from bedwright.model.work import DueTask, Helper, WorkBlock

MOST_CHILDREN = 8
"""In one group (SCHOOLGARDENS)."""


@dataclass(frozen=True, slots=True)
class Company:
    """People who do the same job at the same time."""

    adults: tuple[Helper, ...]
    children: tuple[Helper, ...]

    @property
    def name(self) -> str:
        """Of the first adult."""
        return self.adults[0].name


@dataclass(frozen=True, slots=True)
class Presence:
    """Who of a company is there in one block."""

    adults: tuple[Helper, ...]
    children: tuple[Helper, ...]
    person_min: int
    """Of the adults: what children do is teaching time, not labour."""

    @property
    def newcomers(self) -> int:
        """Adults who are there for the first time."""
        return sum(helper.first_time for helper in self.adults)

    @property
    def practised(self) -> bool:
        """True if someone has been there before, and so can show a job."""
        return self.newcomers < len(self.adults)


def companies_of(helpers: Sequence[Helper]) -> tuple[tuple[Company, ...], tuple[Helper, ...]]:
    """Companies in order of name, and the children whose adult is not there.

    Raises
    ------
    ValueError
        If two people carry the same name.
    """
    names = [helper.name for helper in helpers]
    for name in names:
        if names.count(name) > 1:
            raise ValueError(f"two people are called {name!r}; every name stands for one person")
    adults = sorted((helper for helper in helpers if not helper.child), key=lambda h: h.name)
    groups: dict[str, list[Helper]] = {}
    for adult in adults:
        groups.setdefault(f"team {adult.team}" if adult.team else f"person {adult.name}", []).append(adult)
    children = sorted((helper for helper in helpers if helper.child), key=lambda h: h.name)
    companies = []
    for group in groups.values():
        held = {adult.name for adult in group}
        companies.append(Company(tuple(group), tuple(c for c in children if c.with_adult in held)))
    known = {adult.name for adult in adults}
    alone = tuple(child for child in children if child.with_adult not in known)
    return tuple(sorted(companies, key=lambda company: company.name)), alone


def presence_of(company: Company, block: WorkBlock) -> Presence | None:
    """Who is there in a block; None if no adult is."""
    minutes = {adult.name: minutes_in(adult, block) for adult in company.adults}
    adults = tuple(adult for adult in company.adults if minutes[adult.name])
    if not adults:
        return None
    # A child is there as long as its own adult is.
    children = tuple(c for c in company.children if minutes[c.with_adult] and minutes_in(c, block))
    return Presence(adults, children, sum(minutes.values()))


def why_not(presence: Presence, task: DueTask) -> str:
    """Why people cannot take a job; empty if they can."""
    adults = presence.adults
    if any(helper.sitting_only for helper in adults) and not task.sitting:
        return "cannot be done sitting"
    if any(helper.no_lifting for helper in adults) and task.lifting:
        return "means lifting"
    if any(helper.shade_only for helper in (*adults, *presence.children)) and not task.shade:
        return "is in full sun"
    if presence.children and not task.child:
        return "is not for children"
    if len(presence.children) > MOST_CHILDREN:
        return f"the group has more than {MOST_CHILDREN} children: divide it"
    return ""
