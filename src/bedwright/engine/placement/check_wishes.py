"""The checker's own look at what was asked for: beds, dates, amounts, supports."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np

from bedwright.engine.placement.check_lead import too_much_lead
from bedwright.engine.placement.check_rows import ROUNDING_M, plants_m
from bedwright.engine.placement.check_violation import Violation
from bedwright.engine.placement.rules import PlantingRules
from bedwright.model.book import Bed, GardenBook
from bedwright.model.season import Planting, PlantingRequest


def as_asked(
    book: GardenBook,
    plantings: Sequence[Planting],
    requests: Sequence[PlantingRequest],
    standing: Sequence[Planting],
) -> Iterator[Violation]:
    """Plantings are wanted, in a bed and on a date that will do, and no more of them than wanted."""
    by_code = {request.code: request for request in requests}
    placed: Counter[str] = Counter()
    stands: Counter[str] = Counter()
    for planting in standing:
        stands[planting.request_code or planting.code] += planting.n_plants
    for planting in plantings:
        code = planting.request_code or planting.code
        request = by_code.get(code)
        if request is None:
            yield Violation(
                "not wanted", planting.bed_code, (planting.code,), code, "a planting asked for", ""
            )
            continue
        placed[code] += planting.n_plants
        if planting.bed_code in request.not_beds or (
            request.only_beds and planting.bed_code not in request.only_beds
        ):
            allowed = [
                bed.code
                for bed in book.beds
                if bed.code not in request.not_beds
                and (not request.only_beds or bed.code in request.only_beds)
            ]
            yield Violation(
                "bed not allowed",
                planting.bed_code,
                (planting.code,),
                planting.bed_code,
                "one of " + ", ".join(allowed),
                "",
            )
        if planting.dates not in request.choices:
            yield Violation(
                "date not allowed",
                planting.bed_code,
                (planting.code,),
                planting.dates.in_ground.isoformat(),
                "one of the dates worked out for it",
                "",
            )
    for code, new in placed.items():
        number = new + stands[code]
        if number > by_code[code].n_plants:
            yield Violation("more than wanted", "", (code,), number, by_code[code].n_plants, "plants")


def at_supports(
    book: GardenBook,
    plantings: Sequence[Planting],
    requests: Sequence[PlantingRequest],
    rules: PlantingRules,
) -> Iterator[Violation]:
    """Climbers that want a trellis stand at one, where any bed allowed for them has one."""
    by_code = {request.code: request for request in requests}
    for planting in plantings:
        request = by_code.get(planting.request_code or planting.code)
        if request is None or not planting.rows:
            continue
        if not (request.crop.climbs and request.crop.support == "trellis"):
            continue
        supported = [
            bed
            for bed in book.beds
            if bed.supports
            and bed.code not in request.not_beds
            and (not request.only_beds or bed.code in request.only_beds)
            and not too_much_lead(request.crop, bed, rules)
        ]
        if not supported or planting.bed_code not in {bed.code for bed in book.beds}:
            continue
        away_m = _from_support_m(planting, book.bed(planting.bed_code), rules)
        if away_m > 0:
            yield Violation(
                "support missing",
                planting.bed_code,
                (planting.code,),
                "no support on any side of the bed" if np.isinf(away_m) else f"{away_m:.2f} m off",
                f"within {rules.support_reach_m:g}",
                "m of a trellis, netting or wires",
            )


def _from_support_m(planting: Planting, bed: Bed, rules: PlantingRules) -> float:
    """Distance of the farthest plant to its nearest support; 0 within reach, inf without one."""
    frame = bed.frame
    plants = plants_m(planting)
    distance = {
        "left": plants[:, 1],
        "right": frame.width_m - plants[:, 1],
        "start": plants[:, 0],
        "end": frame.length_m - plants[:, 0],
    }
    sides = {frame.local_side(support.side) for support in bed.supports}
    if not sides:
        return float("inf")
    farthest = min(float(distance[side].max()) for side in sides)
    return 0.0 if farthest <= rules.support_reach_m + ROUNDING_M else farthest
