"""Pins of the garden book as they bear on the plantings of a plan."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from bedwright.model.book import Pin
from bedwright.model.season import Planting, SeasonPlan


def pinned_codes(plan: SeasonPlan, pins: Iterable[Pin]) -> frozenset[str]:
    """Codes of plantings that a pin names, by the planting's own code or that of its request."""
    named = {pin.planting_code for pin in pins}
    return frozenset(each.code for each in plan.plantings if {each.code, request_code(each)} & named)


def request_code(planting: Planting) -> str:
    """Code of what was asked for; several places of one request share it."""
    return planting.request_code or planting.code


def pins_of(plan: SeasonPlan, planting: Planting, pins: Iterable[Pin]) -> tuple[Pin, ...]:
    """Pins of a planting and of the other places of its request."""
    codes = {request_code(planting), *(each.code for each in places_of(plan, planting))}
    return tuple(pin for pin in pins if pin.planting_code in codes)


def places_of(plan: SeasonPlan, planting: Planting) -> tuple[Planting, ...]:
    """All places of the request a planting belongs to."""
    return tuple(each for each in plan.plantings if request_code(each) == request_code(planting))


def settled(
    plan: SeasonPlan,
    planting: Planting,
    pins: Sequence[Pin],
    *,
    bed_code: str | None,
    along_m: float | None,
    in_ground: date | None,
) -> tuple[Pin, ...]:
    """The pins of a book with one planting settled anew.

    One open pin leaves a matter open for the whole request, and a pin of one place alone would draw
    the others to it. So where a request stands in several places, each is pinned to its own.

    Parameters
    ----------
    bed_code, along_m, in_ground
        What is settled; None is left to the planner.
    """
    others = tuple(pin for pin in pins if pin not in pins_of(plan, planting, pins))
    places = places_of(plan, planting)
    if len(places) == 1:
        return (*others, Pin(request_code(planting), bed_code, along_m, in_ground))
    own = [
        Pin(each.code, each.bed_code, each.along_m[0], in_ground and each.dates.in_ground, each.n_plants)
        for each in places
    ]
    moved = [
        replace(pin, bed_code=bed_code, along_m=along_m, in_ground=in_ground)
        if pin.planting_code == planting.code
        else pin
        for pin in own
    ]
    return (*others, *moved)


def keeping(plan: SeasonPlan, planting: Planting, pins: Sequence[Pin]) -> tuple[Pin, ...]:
    """The pins of a book with one planting held where and when it is."""
    return settled(
        plan,
        planting,
        pins,
        bed_code=planting.bed_code,
        along_m=planting.along_m[0],
        in_ground=planting.dates.in_ground,
    )


def freed(plan: SeasonPlan, planting: Planting, pins: Sequence[Pin]) -> tuple[Pin, ...]:
    """The pins of a book without those of one planting and its other places."""
    own = pins_of(plan, planting, pins)
    return tuple(pin for pin in pins if pin not in own)
