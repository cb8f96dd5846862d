"""An independent look at a plan: every rule a planting must keep, checked from the drawing.

Knows the book, the records of the plan and the rules of the trade; shares no code with the
search. Positions are taken from the rows as drawn, plant by plant.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray

from bedwright.engine.placement.check_manure import picked_too_soon
from bedwright.engine.placement.check_reach import farthest_m
from bedwright.engine.placement.rules import COMMON_RULES, ROOT_AND_LEAF_WORDS, PlantingRules
from bedwright.model.book import Bed, GardenBook, Pin
from bedwright.model.crop import Crop
from bedwright.model.ground import local_vertices_m
from bedwright.model.season import Planting, PlantingRequest, Row

ROUNDING_M = 0.001
"""Differences below a millimetre are not seen on the ground."""

PIN_ROUNDING_M = 0.026
PIN_ROUNDING_DAYS = 3
"""A pin is kept to the step of 5 cm and to the date worked out nearest to its day."""

Points = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Violation:
    """One rule that a plan breaks."""

    kind: str
    bed_code: str
    codes: tuple[str, ...]
    """Plantings or rows concerned."""
    actual: float | str
    needed: float | str
    unit: str

    def __str__(self) -> str:
        named = " and ".join(self.codes)
        return (
            f"{self.kind}: {named} in bed {self.bed_code}: is {_words(self.actual)}, "
            f"should be {_words(self.needed)} {self.unit}"
        ).rstrip()


def _words(value: float | str) -> str:
    return value if isinstance(value, str) else f"{value:.3g}"


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
    found = list(_codes(plantings))
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
            found += _rows(planting, crop, staggered=planting.wish_code in staggered)
            found += _ground(planting, bed, shape)
            found += _edges(planting, crop, bed, shape, rules)
            found += _lead(planting, crop, bed, rules)
        for one, other in combinations(in_bed, 2):
            if _at_the_same_time(one, other, rules):
                found += _overlap(one, other)
                found += _crowding(one, other, _crop(one, asked), _crop(other, asked))
    stood = {planting.code for planting in standing}
    new = [planting for planting in plantings if planting.code not in stood]
    found += _moved(plantings, standing)
    if requests:
        found += _wishes(book, new, requests, standing)
        found += _supports(book, new, requests, rules)
    for planting in new:
        if planting.bed_code in closed_beds:
            found.append(
                Violation(
                    "planted in a bed left alone", planting.bed_code, (planting.code,), "new", "nothing", ""
                )
            )
        own = _own_pins(planting, pins, {request.code for request in requests})
        found += _pinned(planting, own)
        settled = any(pin.along_m is not None and _keeps(planting, pin) for pin in own)
        if planting.bed_code in known and not settled:
            found += _reach(planting, book.bed(planting.bed_code), rules)
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


def _moved(plantings: Sequence[Planting], standing: Sequence[Planting]) -> Iterator[Violation]:
    """What stands is in the plan, in the same place and rows."""
    now = {planting.code: planting for planting in plantings}
    for before in standing:
        after = now.get(before.code)
        if after is None:
            yield Violation(
                "standing planting gone", before.bed_code, (before.code,), "missing", "as it stands", ""
            )
        elif (after.bed_code, after.rows, after.dates) != (before.bed_code, before.rows, before.dates):
            yield Violation(
                "standing planting moved", before.bed_code, (before.code,), "changed", "as it stands", ""
            )


def _own_pins(planting: Planting, pins: Sequence[Pin], asked: Collection[str]) -> list[Pin]:
    code = planting.request_code or planting.code
    return [pin for pin in pins if _pin_of(pin, asked) == code]


def _pinned(planting: Planting, own: Sequence[Pin]) -> Iterator[Violation]:
    """A planting keeps one of the pins of its request, where there are any."""
    if own and not any(_keeps(planting, pin) for pin in own):
        yield Violation(
            "not where or when it is pinned",
            planting.bed_code,
            (planting.code,),
            "elsewhere",
            str(own[0]),
            "",
        )


def _pin_of(pin: Pin, asked: Collection[str]) -> str:
    code = pin.planting_code
    return code if code in asked else code.rpartition("-")[0]


def _keeps(planting: Planting, pin: Pin) -> bool:
    return (
        pin.bed_code in (None, planting.bed_code)
        and (pin.along_m is None or abs(planting.along_m[0] - pin.along_m) <= PIN_ROUNDING_M)
        and (
            pin.in_ground is None or abs((planting.dates.in_ground - pin.in_ground).days) <= PIN_ROUNDING_DAYS
        )
    )


def _crop(planting: Planting, asked: Mapping[str, Crop]) -> Crop:
    """Facts of the crop as asked for, with its packet's spacing; else as the planting states them."""
    return asked.get(planting.request_code or planting.code, planting.crop)


def _unknown_crops(plantings: Sequence[Planting], crops: Mapping[str, Crop]) -> Iterator[Violation]:
    for planting in plantings:
        if planting.crop.name not in crops:
            yield Violation(
                "unknown crop", planting.bed_code, (planting.code,), planting.crop.name, "a known crop", ""
            )


def stations_m(row: Row) -> Points:
    """Positions of the plants of a row in the bed's frame, (n_plants, 2) [m]."""
    share = np.linspace(0, 1, row.n_plants)[:, None] if row.n_plants > 1 else np.zeros((1, 1))
    start, end = np.array(row.start_m), np.array(row.end_m)
    points: Points = start + (end - start) * share
    return points


def _plants(planting: Planting) -> Points:
    return np.concatenate([stations_m(row) for row in planting.rows])


def _codes(plantings: Sequence[Planting]) -> Iterator[Violation]:
    for code, number in Counter(planting.code for planting in plantings).items():
        if number > 1:
            yield Violation("planting code used twice", "", (code,), number, 1, "plantings")
    rows = Counter((row.code, planting.bed_code) for planting in plantings for row in planting.rows)
    by_code = Counter(row.code for planting in plantings for row in planting.rows)
    for (code, bed_code), number in rows.items():
        if by_code[code] > 1:
            yield Violation("row code used twice", bed_code, (code,), max(number, by_code[code]), 1, "rows")
        if not code.startswith(bed_code) or not code[len(bed_code) :].isdigit():
            yield Violation(
                "row code of another bed", bed_code, (code,), code, f"{bed_code} and a number", ""
            )


def _rows(planting: Planting, crop: Crop, *, staggered: bool) -> Iterator[Violation]:
    """Spacing within rows and between rows of one planting."""
    bed_code = planting.bed_code
    if not planting.rows:
        yield Violation("no rows", bed_code, (planting.code,), 0, 1, "row")
    for row in planting.rows:
        if row.n_plants < 1:
            yield Violation("empty row", bed_code, (row.code,), row.n_plants, 1, "plant")
            continue
        run_m = float(np.hypot(*np.subtract(row.end_m, row.start_m)))
        actual_m = run_m / (row.n_plants - 1) if row.n_plants > 1 else 0.0
        if row.n_plants > 1 and actual_m < crop.in_row_spacing_m - ROUNDING_M:
            yield Violation(
                "crowded in the row",
                bed_code,
                (row.code,),
                actual_m,
                crop.in_row_spacing_m,
                "m between plants",
            )
        if abs(row.spacing_m - actual_m) > ROUNDING_M:
            yield Violation(
                "spacing stated is not the spacing drawn", bed_code, (row.code,), row.spacing_m, actual_m, "m"
            )
        axis = 1 if planting.direction == "along" else 0
        if abs(row.start_m[axis] - row.end_m[axis]) > ROUNDING_M:
            yield Violation(
                "row askew", bed_code, (row.code,), abs(row.start_m[axis] - row.end_m[axis]), 0.0, "m"
            )
    for pair in combinations([row for row in planting.rows if row.n_plants >= 1], 2):
        yield from _row_pair(planting, pair, crop, staggered=staggered)


def _row_pair(
    planting: Planting, pair: tuple[Row, Row], crop: Crop, *, staggered: bool
) -> Iterator[Violation]:
    one, other = pair
    across, along = (1, 0) if planting.direction == "along" else (0, 1)
    apart_m = abs(one.start_m[across] - other.start_m[across])
    if staggered and apart_m > ROUNDING_M:
        # Rows may come closer by as much as their plants stand between each other.
        apart_m = shapely.MultiPoint(stations_m(one)).distance(shapely.MultiPoint(stations_m(other)))
    codes = (one.code, other.code)
    if apart_m > ROUNDING_M:
        if apart_m < crop.row_spacing_m - ROUNDING_M:
            yield Violation(
                "rows too close", planting.bed_code, codes, apart_m, crop.row_spacing_m, "m between rows"
            )
        return
    first, second = sorted((one, other), key=lambda row: row.start_m[along])
    gap_m = second.start_m[along] - first.end_m[along]
    if gap_m < crop.in_row_spacing_m - ROUNDING_M:
        yield Violation(
            "crowded in the row", planting.bed_code, codes, gap_m, crop.in_row_spacing_m, "m between plants"
        )


def _ground(planting: Planting, bed: Bed, shape: shapely.Polygon) -> Iterator[Violation]:
    """The ground taken lies in the bed's box; the plants on that ground and inside the outline."""
    low_a, low_c, high_a, high_c = shape.bounds
    for (low, high), (least, most) in (
        (planting.along_m, (low_a, high_a)),
        (planting.across_m, (low_c, high_c)),
    ):
        over_m = max(least - low, high - most, low - high)
        if over_m > ROUNDING_M:
            yield Violation("ground outside the bed", bed.code, (planting.code,), over_m, 0.0, "m outside")
    if not planting.rows:
        return
    plants = _plants(planting)
    box = shapely.box(planting.along_m[0], planting.across_m[0], planting.along_m[1], planting.across_m[1])
    points = shapely.points(plants)
    off_m = float(shapely.distance(points, box).max())
    if off_m > ROUNDING_M:
        yield Violation("plant off its ground", bed.code, (planting.code,), off_m, 0.0, "m outside")
    out_m = float(shapely.distance(points, shape).max())
    if out_m > ROUNDING_M:
        yield Violation("plant outside the bed", bed.code, (planting.code,), out_m, 0.0, "m outside")


def _edges(
    planting: Planting, crop: Crop, bed: Bed, shape: shapely.Polygon, rules: PlantingRules
) -> Iterator[Violation]:
    if not planting.rows:
        return
    needed_m = min(crop.in_row_spacing_m / 2, rules.edge_cap_m)
    actual_m = float(shapely.distance(shapely.points(_plants(planting)), shape.exterior).min())
    if actual_m < needed_m - ROUNDING_M:
        yield Violation(
            "too close to the edge",
            bed.code,
            (planting.code,),
            actual_m,
            needed_m,
            "m from the edge of the bed",
        )


def _reach(planting: Planting, bed: Bed, rules: PlantingRules) -> Iterator[Violation]:
    """Every plant is within an arm's length of where one can stand; what is pinned to a place may not be."""
    away_m = farthest_m(bed, _plants(planting)) if planting.rows else 0.0
    if away_m > rules.arms_length_m + ROUNDING_M:
        yield Violation(
            "out of reach",
            bed.code,
            (planting.code,),
            away_m,
            rules.arms_length_m,
            "m or less from where one can stand",
        )


def _at_the_same_time(one: Planting, other: Planting, rules: PlantingRules) -> bool:
    before = timedelta(days=rules.preparation_days)
    return (
        one.dates.in_ground - before <= other.dates.clear_by
        and other.dates.in_ground - before <= one.dates.clear_by
    )


def _overlap(one: Planting, other: Planting) -> Iterator[Violation]:
    along_m = min(one.along_m[1], other.along_m[1]) - max(one.along_m[0], other.along_m[0])
    across_m = min(one.across_m[1], other.across_m[1]) - max(one.across_m[0], other.across_m[0])
    if min(along_m, across_m) > ROUNDING_M:
        yield Violation(
            "two plantings on the same ground",
            one.bed_code,
            (one.code, other.code),
            along_m * across_m,
            0.0,
            "m2",
        )


def _crowding(one: Planting, other: Planting, first: Crop, second: Crop) -> Iterator[Violation]:
    """Plants of two plantings closer than half the sum of their in-row spacings."""
    if not one.rows or not other.rows:
        return
    needed_m = (first.in_row_spacing_m + second.in_row_spacing_m) / 2  # common practice, no source
    tree = shapely.STRtree([shapely.Point(at) for at in _plants(one)])
    distances = tree.query_nearest(
        shapely.points(_plants(other)), max_distance=needed_m, return_distance=True, all_matches=False
    )[1]
    if len(distances) and float(distances.min()) < needed_m - ROUNDING_M:
        yield Violation(
            "crowding",
            one.bed_code,
            (one.code, other.code),
            float(distances.min()),
            needed_m,
            "m between plants",
        )


def _lead(planting: Planting, crop: Crop, bed: Bed, rules: PlantingRules) -> Iterator[Violation]:
    if bed.soil_test is not None and _too_much_lead(crop, bed, rules):
        yield Violation(
            "root or leaf crop in soil with lead",
            bed.code,
            (planting.code,),
            bed.soil_test.lead_mg_kg or 0.0,
            rules.lead_limit_mg_kg,
            "mg/kg or less",
        )


def _too_much_lead(crop: Crop, bed: Bed, rules: PlantingRules) -> bool:
    lead = bed.soil_test.lead_mg_kg if bed.soil_test else None
    eaten = [set(part.lower().replace(",", " ").split()) for part in crop.edible_parts]
    carries_soil = any(words & ROOT_AND_LEAF_WORDS for words in eaten if "flower" not in words)
    return carries_soil and lead is not None and lead > rules.lead_limit_mg_kg


def _wishes(
    book: GardenBook,
    plantings: Sequence[Planting],
    requests: Sequence[PlantingRequest],
    standing: Sequence[Planting],
) -> Iterator[Violation]:
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


def _supports(
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
            and not _too_much_lead(request.crop, bed, rules)
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
    plants = _plants(planting)
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
