"""One spot beside another: every term that differs, in points and in plain words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.engine.placement.blocks import Blocks, Spot, as_blocks
from bedwright.engine.placement.ground_light import light_short_h
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.scarce import LIMIT_WORDS
from bedwright.engine.placement.shade_between import points_between
from bedwright.engine.placement.terms import TERMS
from bedwright.engine.placement.value import (
    at_date,
    days_together,
    limit_points,
    n_rows,
    own_terms,
    pair_terms,
    picking_points,
    rotation_of,
    rotation_years_short,
    spots_use,
)
from bedwright.engine.placement.words import counted, group_words, listed, month_span

TOLD_POINTS = 0.05
"""Differences below this are not told."""

MOST_TOLD = 3


@dataclass(frozen=True, slots=True)
class Difference:
    """One term that differs between two spots of a planting."""

    term: str
    points: float
    """What the second spot gains (loses) by it."""
    words: str


def spot_terms(problem: PlacementProblem, spot: Spot, others: Sequence[Spot]) -> Mapping[str, float]:
    """What a spot adds to a plan, by term, in points.

    Parameters
    ----------
    others
        The rest of the plan.
    """
    blocks = as_blocks(spot)
    terms = {name: at_date(points, spot.date) for name, points in own_terms(problem, blocks).items()}
    beside = [other for other in others if other.bed == spot.bed]
    for other in beside:
        together = days_together(problem, spot.request, other)
        for name, points in pair_terms(problem, blocks, other, together).items():
            terms[name] = terms.get(name, 0.0) + at_date(points, spot.date)
    beyond = points_between(problem, spot, others)
    if beyond:
        terms["shade by a taller crop"] = terms.get("shade by a taller crop", 0.0) + beyond
    family = rotation_of(problem, spot.request)
    if family is not None and family not in {rotation_of(problem, other.request) for other in beside}:
        terms["families together"] = -TERMS["families together"].weight
    before, after = spots_use(problem, spot.bed, beside), spots_use(problem, spot.bed, (*beside, spot))
    terms["even use"] = -TERMS["even use"].weight * (after**2 - before**2)
    for limit in problem.weeks.limits:
        terms[limit.term] = limit_points(problem, limit, (*others, spot)) - limit_points(
            problem, limit, others
        )
    terms["even picking"] = picking_points(problem, (*others, spot)) - picking_points(problem, others)
    return terms


def differences(
    problem: PlacementProblem, was: Spot, now: Spot, others: Sequence[Spot]
) -> tuple[Difference, ...]:
    """Terms that differ between two spots of one request, the largest first.

    Parameters
    ----------
    others
        The rest of the plan, without either spot.
    """
    before, after = spot_terms(problem, was, others), spot_terms(problem, now, others)
    found = []
    for name in dict.fromkeys((*before, *after)):
        points = after.get(name, 0.0) - before.get(name, 0.0)
        if abs(points) >= TOLD_POINTS:
            found.append(Difference(name, points, _words(problem, name, points, was, now, others)))
    return tuple(sorted(found, key=lambda one: (-abs(one.points), one.term)))


def in_words(found: Sequence[Difference]) -> str:
    """The largest differences in one breath; empty where nothing differs."""
    return "; ".join(one.words for one in found[:MOST_TOLD])


def cost_words(points: float) -> str:
    """What a change gains or costs, as a sentence."""
    if abs(points) < TOLD_POINTS:
        return "As good as where it is."
    amount = f"{abs(points):.0f}" if abs(points) >= 10 else f"{abs(points):.1f}"
    unit = "point" if amount == "1.0" else "points"
    return f"Costs {amount} {unit}." if points < 0 else f"Would be worth {amount} {unit} more."


def _words(
    problem: PlacementProblem, name: str, points: float, was: Spot, now: Spot, others: Sequence[Spot]
) -> str:
    if name in _PLAIN:
        worse, better = _PLAIN[name]
        return worse if points < 0 else better
    if name in ("neighbour", "neighbour wish"):
        return _neighbour_words(problem, was, now, others, points)
    return next(_counted_words(problem, name, points, was, now), name)


_PLAIN: Mapping[str, tuple[str, str]] = {
    "amount": ("fewer plants", "more plants"),
    "quiet weeks": ("more of its picking in your quiet weeks", "less of its picking in your quiet weeks"),
    "kept place": ("not where or when it was planned before", "where and when it was planned before"),
    "support": ("supports suit it less", "supports suit it better"),
    "reach": ("more of it beyond arm's reach", "less of it beyond arm's reach"),
    "watering": ("harder to water", "easier to water"),
    "pollination": (
        "fewer than three rows, so wind pollinates it less well",
        "in a block, so wind pollinates it better",
    ),
    "side of a bed": ("on one side of the bed only", "over the full width of the bed"),
    "families together": ("apart from its own family", "together with its own family"),
    "rotation in the season": (
        "on ground that its own family has in the same season",
        "on ground that its own family does not have in the season",
    ),
    "shade by a taller crop": ("more shade by taller crops", "less shade by taller crops"),
    "even use": ("in a fuller bed", "in an emptier bed"),
    "even picking": (
        "picked less evenly: more weeks with too much or too little of it",
        "picked more evenly: fewer weeks with too much or too little of it",
    ),
}
"""What to say where the term costs points, and where it gains them."""


def _counted_words(
    problem: PlacementProblem, name: str, points: float, was: Spot, now: Spot
) -> Iterator[str]:
    """Words with numbers and units."""
    facts = problem.requests[now.request]
    dates = facts.dates
    if name == "light":
        choice = dates.choices[now.date]
        short = _short_h(problem, now) - _short_h(problem, was)
        months = month_span(choice.in_ground, choice.last_pick)
        yield f"{abs(short):.1f} h a day {'less' if short > 0 else 'more'} of the sun it needs, {months}"
    elif name == "date":
        yield f"works in {dates.chance[now.date]:.0%} of years, not {dates.chance[was.date]:.0%}"
    elif name == "date preference":
        weeks = float(dates.weeks_off[now.date] - dates.weeks_off[was.date])
        number = f"{abs(weeks):.0f} {'week' if round(abs(weeks)) == 1 else 'weeks'}"
        number = number if abs(weeks) >= 1 else counted(round(abs(weeks) * 7), "day")
        yield f"{number} {'farther from' if weeks > 0 else 'nearer to'} the date that suits it best"
    elif name == "rotation":
        family = group_words(facts.crop.rotation_group)
        years = _years_short(problem, now) - _years_short(problem, was)
        yield f"{counted(abs(years), 'year')} {'less' if years > 0 else 'more'} of rest from the {family}"
    elif name == "setting out":
        rows = _rows(problem, now) - _rows(problem, was)
        yield f"{counted(abs(rows), 'row')} {'more' if rows > 0 else 'fewer'} to set out"
    elif name in LIMIT_WORDS:
        amount = -points / TERMS[name].weight
        words = LIMIT_WORDS[name]
        yield f"{words.counted(abs(amount))} {'more' if amount > 0 else 'less'} over {words.there_is}"


def _short_h(problem: PlacementProblem, spot: Spot) -> float:
    return at_date(light_short_h(problem, as_blocks(spot)), spot.date)


def _years_short(problem: PlacementProblem, spot: Spot) -> int:
    return int(rotation_years_short(problem, spot.request, spot.bed)[spot.date])


def _rows(problem: PlacementProblem, spot: Spot) -> int:
    return round(float(n_rows(problem, as_blocks(spot))[0]))


def _neighbour_words(
    problem: PlacementProblem, was: Spot, now: Spot, others: Sequence[Spot], points: float
) -> str:
    good_then, bad_then = _neighbours(problem, was, others)
    good_now, bad_now = _neighbours(problem, now, others)
    parts = []
    if points < 0:
        if bad_now - bad_then:
            parts.append(f"beside {listed(sorted(bad_now - bad_then))}, a poor neighbour")
        if good_then - good_now:
            parts.append(f"away from {listed(sorted(good_then - good_now))}, a good neighbour")
        return " and ".join(parts) or "less suited neighbours"
    if good_now - good_then:
        parts.append(f"beside {listed(sorted(good_now - good_then))}, a good neighbour")
    if bad_then - bad_now:
        parts.append(f"away from {listed(sorted(bad_then - bad_now))}, a poor neighbour")
    return " and ".join(parts) or "better suited neighbours"


def _neighbours(
    problem: PlacementProblem, spot: Spot, others: Sequence[Spot]
) -> tuple[frozenset[str], frozenset[str]]:
    """Crops beside a spot that gain points with it, and that lose."""
    blocks: Blocks = as_blocks(spot)
    good: set[str] = set()
    bad: set[str] = set()
    for other in others:
        if other.bed != spot.bed:
            continue
        together = days_together(problem, spot.request, other)
        terms = pair_terms(problem, blocks, other, together)
        points = sum(
            at_date(np.asarray(terms[name]), spot.date)
            for name in ("neighbour", "neighbour wish")
            if name in terms
        )
        if points:
            (good if points > 0 else bad).add(problem.requests[other.request].crop.name)
    return frozenset(good), frozenset(bad)
