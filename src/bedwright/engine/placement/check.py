"""An independent look at a plan: every rule a planting must keep, checked from the drawing.

Knows the book, the records of the plan and the rules of the trade; shares no code with the
search. Positions are taken from the rows as drawn, plant by plant.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import combinations

import shapely

from bedwright.engine.placement.check_ground import (
    at_the_same_time,
    crowding,
    off_the_edge,
    on_its_ground,
    overlap,
)
from bedwright.engine.placement.check_lead import lead_in_soil
from bedwright.engine.placement.check_manure import picked_too_soon
from bedwright.engine.placement.check_reach import within_reach
from bedwright.engine.placement.check_rows import codes, row_spacing
from bedwright.engine.placement.check_settled import keeps_pin, own_pins, pins_kept, standing_kept
from bedwright.engine.placement.check_violation import Violation
from bedwright.engine.placement.check_wishes import as_asked, at_supports
from bedwright.engine.placement.rules import COMMON_RULES, PlantingRules
from bedwright.model.book import GardenBook, Pin
from bedwright.model.crop import Crop
from bedwright.model.ground import local_vertices_m
from bedwright.model.season import Planting, PlantingRequest


def check(
    book: GardenBook,
    plantings: Sequence[Planting],
    requests: Sequence[PlantingRequest] = (),
    crops: Mapping[str, Crop] | None = None,
    *,
    rules: PlantingRules = COMMON_RULES,
    standing: Sequence[Planting] = (),
    pins: Sequence[Pin] = (),
    closed_beds: Collection[str] = (),
) -> tuple[Violation, ...]:
    """Every rule that the plantings break.

    Parameters
    ----------
    book
        The garden the plan is for.
    plantings
        The plan.
    requests
        What was asked for; empty: dates, allowed beds and amounts are not looked at.
    crops
        Crops by name; None: names are not looked up.
    rules
        Distances, years and limits that bind.
    standing
        What stood before: it must be in the plan unchanged, and is not held to dates, beds
        and amounts asked for.
    pins
        What was settled about plantings.
    closed_beds
        Beds to which nothing may be added.

    Returns
    -------
    tuple of Violation
        Empty for a plan that keeps all rules.
    """
    found = list(codes(plantings))
    asked = {request.code: request.crop for request in requests}
    if crops is not None:
        found += _unknown_crops(plantings, crops)
    by_bed: dict[str, list[Planting]] = {}
    known = {bed.code for bed in book.beds}
    for planting in plantings:
        if planting.bed_code not in known:
            found.append(
                Violation(
                    "unknown bed", planting.bed_code, (planting.code,), "missing", "a bed of the book", ""
                )
            )
        else:
            by_bed.setdefault(planting.bed_code, []).append(planting)
    staggered = {wish.code for wish in book.wishes if wish.layout == "staggered"}
    for code, in_bed in by_bed.items():
        bed = book.bed(code)
        shape = shapely.Polygon(local_vertices_m(bed.outline))
        for planting in in_bed:
            crop = _crop(planting, asked)
            found += row_spacing(planting, crop, staggered=planting.wish_code in staggered)
            found += on_its_ground(planting, bed, shape)
            found += off_the_edge(planting, crop, bed, shape, rules)
            found += lead_in_soil(planting, crop, bed, rules)
        for one, other in combinations(in_bed, 2):
            if at_the_same_time(one, other, rules):
                found += overlap(one, other)
                found += crowding(one, other, _crop(one, asked), _crop(other, asked))
    stood = {planting.code for planting in standing}
    new = [planting for planting in plantings if planting.code not in stood]
    found += standing_kept(plantings, standing)
    if requests:
        found += as_asked(book, new, requests, standing)
        found += at_supports(book, new, requests, rules)
    for planting in new:
        if planting.bed_code in closed_beds:
            found.append(
                Violation(
                    "planted in a bed left alone", planting.bed_code, (planting.code,), "new", "nothing", ""
                )
            )
        own = own_pins(planting, pins, {request.code for request in requests})
        found += pins_kept(planting, own)
        settled = any(pin.along_m is not None and keeps_pin(planting, pin) for pin in own)
        if planting.bed_code in known:
            found += within_reach(planting, book.bed(planting.bed_code), rules, settled=settled)
        found += [
            Violation(
                "picked too soon after raw manure",
                planting.bed_code,
                (planting.code,),
                one.days,
                one.days_needed,
                "days",
            )
            for one in picked_too_soon(book, planting, _crop(planting, asked))
        ]
    return tuple(found)


def _crop(planting: Planting, asked: Mapping[str, Crop]) -> Crop:
    """Facts of the crop as asked for, with its packet's spacing; else as the planting states them."""
    return asked.get(planting.request_code or planting.code, planting.crop)


def _unknown_crops(plantings: Sequence[Planting], crops: Mapping[str, Crop]) -> Iterator[Violation]:
    for planting in plantings:
        if planting.crop.name not in crops:
            yield Violation(
                "unknown crop", planting.bed_code, (planting.code,), planting.crop.name, "a known crop", ""
            )
