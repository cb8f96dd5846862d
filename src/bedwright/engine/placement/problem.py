"""The question put to the search: beds, requests, light and findings as plain arrays.

Built once from the records; nothing here chooses anything.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from bedwright.engine.placement.date_table import DateTable, date_table
from bedwright.engine.placement.layout import Spacing, spacing_of
from bedwright.engine.placement.light_sums import LightSums, light_sums
from bedwright.engine.placement.neighbours import neighbour_gains
from bedwright.engine.placement.pins import pinned_requests, request_code_of
from bedwright.engine.placement.raw_manure import barred_dates, eaten_root_or_leaf, manure_words
from bedwright.engine.placement.rules import SMALL_M, STEP_M, PlantingRules
from bedwright.engine.placement.shade import bed_rays, site_rays
from bedwright.engine.placement.shape import BedShape, bed_shape, free_pieces, near_pieces
from bedwright.engine.placement.sight import BedPair, Seen, bed_pairs
from bedwright.engine.placement.terms import WORTH_BY_PRIORITY
from bedwright.engine.placement.weekly import (
    NOTHING_KNOWN,
    BedHours,
    Wanted,
    WeekMeasures,
    WeekTables,
    week_tables,
)
from bedwright.model.book import Amount, Bed, GardenBook, History, NeighbourWish, Period, Pin
from bedwright.model.crop import Crop, NeighbourFinding
from bedwright.model.ground import LocalSide
from bedwright.model.light import BedLight
from bedwright.model.safety import ManureSpread
from bedwright.model.season import Planting, PlantingRequest
from bedwright.model.weather import BoolArray, FloatArray

COMMON_PRIORITY = 3
"""Of what stands without being asked for this season."""

NOT_ALLOWED = "not among the beds you allow for it"
"""Why a bed may not take what the wish puts elsewhere."""

CLIMBER_HEIGHT_M = 1.8
"""Height of a climbing crop on its support. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class BedFacts:
    """One bed, ready to be planted."""

    bed: Bed
    shape: BedShape
    support_sides: tuple[LocalSide, ...]
    reach_sides: tuple[LocalSide, ...]
    light: LightSums | None
    """None where the sun on the bed is not known."""
    rays: FloatArray
    """(12, n_rays, 4): by month, unit vector to the sun in the bed's frame (along, across), metres a
    shadow runs for each metre of height, hours a day this ray stands for."""
    last_grown: Mapping[str, int]
    """Latest earlier year of each rotation group."""
    has_history: bool
    raw_manure: tuple[ManureSpread, ...] = ()
    """Raw manure dug in, or to be dug in."""


@dataclass(frozen=True, slots=True)
class KeptPlace:
    """Bed, ground and day of one place in an earlier plan."""

    bed: int
    start_m: float
    low_m: float
    """Side of its ground nearer to the baseline."""
    in_ground: int
    """Ordinal day."""


@dataclass(frozen=True, slots=True, eq=False)
class RequestFacts:
    """One planting wanted, ready to be placed."""

    request: PlantingRequest
    spacing: Spacing
    worth: float
    """Points if all its plants are placed and nothing is amiss."""
    height_m: float
    dates: DateTable
    beds: tuple[int, ...]
    """Beds the rules allow."""
    refused: Mapping[str, str]
    """Bed code to the plain reason why it is not allowed."""
    needs_support_side: bool
    """True: may stand only at a lasting support."""
    starts_m: Mapping[int, tuple[float, ...]]
    """Beds in which a pin says where along the baseline its ground starts."""
    anywhere: bool = False
    """True if it is pinned to where no arm reaches; it then stands there all the same."""
    kept: tuple[KeptPlace, ...] = ()
    """Where an earlier plan had it, as far as that is to be kept."""
    barred: Mapping[int, BoolArray] = field(default_factory=dict)
    """Beds with raw manure to the dates, (n_dates,), on which it would be picked too soon after it."""
    fixed: bool = False
    """True for what stands already: never moved, never left out."""

    @property
    def crop(self) -> Crop:
        """The crop of the request."""
        return self.request.crop


@dataclass(frozen=True, slots=True, eq=False)
class PlacementProblem:
    """Everything the search may ask."""

    book: GardenBook
    rules: PlantingRules
    beds: tuple[BedFacts, ...]
    requests: tuple[RequestFacts, ...]
    neighbour_gain: Mapping[tuple[str, str], float]
    """Share of its worth that the first crop gains (loses) beside the second; 0 is left out."""
    wished: Mapping[frozenset[str], NeighbourWish]
    findings: Mapping[tuple[str, str], tuple[NeighbourFinding, ...]]
    pinned: frozenset[str]
    """Codes of requests about which something is settled; they are placed first."""
    standing: tuple[Planting, ...]
    """Plantings fixed in place and time; the last requests are theirs, in order."""
    weeks: WeekTables
    pairs: Mapping[tuple[int, int], BedPair]
    """Low and tall bed: pairs in which crops of the first may be left short of sun by those of the other."""


def build_problem(
    book: GardenBook,
    requests: Sequence[PlantingRequest],
    light: Sequence[BedLight],
    neighbours: Sequence[NeighbourFinding],
    crops: Mapping[str, Crop],
    rules: PlantingRules,
    *,
    noon_sun_bearing_deg: float | None = None,
    standing: Sequence[Planting] = (),
    pins: Sequence[Pin] = (),
    closed_beds: Collection[str] = (),
    keep: Sequence[Planting] = (),
    hours: BedHours | None = None,
    measures: WeekMeasures = NOTHING_KNOWN,
) -> PlacementProblem:
    """Turn the records into a problem.

    Parameters
    ----------
    standing
        Plantings fixed in place and time; what they meet of a request is not sought again.
    pins
        What the coordinator has settled.
    closed_beds
        Codes of beds to which nothing is added.
    keep
        An earlier plan whose beds, places and dates are worth keeping.
    hours
        Work that ground takes and hours promised; None: not weighed.
    measures
        Trays that plants take and room for them, and the climate, for limits by the week.
    noon_sun_bearing_deg
        Bearing of the sun at noon [degrees clockwise from north]; None: south (180) in the
        northern half of the world, north (0) in the southern.

    Raises
    ------
    PinRefusedError
        If a pin cannot be kept.
    ValueError
        If something stands in a bed that the book does not have.
    """
    by_bed = {one.bed_code: one for one in light}
    rays = site_rays(book.site.latitude_deg, book.season_start.year, noon_sun_bearing_deg)
    beds = tuple(_bed_facts(book, bed, by_bed.get(bed.code), crops, rays, rules) for bed in book.beds)
    facts = _all_requests(book, requests, beds, rules, standing, pins, closed_beds)
    facts = _with_kept(facts, beds, keep)
    wished = {frozenset((wish.crop_a, wish.crop_b)): wish for wish in book.neighbours}
    findings: dict[tuple[str, str], tuple[NeighbourFinding, ...]] = {}
    for finding in neighbours:
        pair = (finding.crop_a, finding.crop_b)
        findings[pair] = (*findings.get(pair, ()), finding)
    gains = neighbour_gains(findings, wished)
    known = {request.code: request for request in requests}
    pinned = frozenset(request_code_of(pin.planting_code, known) or "" for pin in pins)
    weeks = week_tables(
        [_wanted(one) for one in facts],
        hours,
        water=book.water_limits,
        measures=measures,
        quiet=book.goals.quiet_weeks,
    )
    pairs = bed_pairs([_seen(number, bed, facts) for number, bed in enumerate(beds)])
    return PlacementProblem(
        book, rules, beds, facts, gains, wished, findings, pinned, tuple(standing), weeks, pairs
    )


def _seen(number: int, bed: BedFacts, requests: Sequence[RequestFacts]) -> Seen:
    """A bed, with the heights and the spare sun of all that may stand in it."""
    there = [one for one in requests if number in one.beds and one.dates.choices]
    heights = [one.height_m for one in there]
    spare_h, months = np.zeros(0), np.zeros((0, 12), np.bool_)
    if there and bed.light is not None and bed.light.inside.any():
        need_h = np.concatenate([np.full(len(one.dates.days), one.crop.min_sun_h) for one in there])
        shares = np.concatenate([one.dates.month_share for one in there])
        spare_h = np.maximum(0.0, bed.light.least_h(shares) - need_h)
        months = np.concatenate([one.dates.stands for one in there])
    return Seen(
        frame=bed.bed.frame,
        length_m=bed.shape.length_m,
        width_m=bed.shape.width_m,
        raised_m=bed.bed.raised_m,
        rays=bed.rays,
        tallest_m=max(heights, default=-math.inf),
        lowest_m=min(heights, default=math.inf),
        spare_h=spare_h,
        months=months,
    )


def _wanted(facts: RequestFacts) -> Wanted:
    request, choices = facts.request, facts.dates.choices
    best = request.choices[request.best].in_ground if request.best is not None else None
    number = next((at for at, one in enumerate(choices) if one.in_ground == best), 0)
    return Wanted(
        wish_code=request.wish_code,
        crop=request.crop,
        variety=request.variety,
        way=request.way,
        n_plants=request.n_plants,
        worth=facts.worth,
        choices=choices,
        best=number,
    )


def _with_kept(
    facts: Sequence[RequestFacts], beds: Sequence[BedFacts], keep: Sequence[Planting]
) -> tuple[RequestFacts, ...]:
    numbers = {bed.bed.code: number for number, bed in enumerate(beds)}
    kept: dict[str, list[KeptPlace]] = {}
    for one in keep:
        if one.bed_code in numbers:
            kept.setdefault(one.request_code or one.code, []).append(
                KeptPlace(
                    numbers[one.bed_code], one.along_m[0], one.across_m[0], one.dates.in_ground.toordinal()
                )
            )
    return tuple(
        one if one.fixed else replace(one, kept=tuple(kept.get(one.request.code, ()))) for one in facts
    )


def _all_requests(
    book: GardenBook,
    requests: Sequence[PlantingRequest],
    beds: Sequence[BedFacts],
    rules: PlantingRules,
    standing: Sequence[Planting],
    pins: Sequence[Pin],
    closed_beds: Collection[str],
) -> tuple[RequestFacts, ...]:
    """What is still sought, then one fixed request for each planting that stands."""
    codes = {facts.bed.code for facts in beds}
    strays = [planting for planting in standing if planting.bed_code not in codes]
    if strays:
        raise ValueError(
            "; ".join(
                f"{one.code} stands in bed {one.bed_code}, which the book does not have" for one in strays
            )
        )
    wished_plants: dict[str, int] = {}
    for request in requests:
        wished_plants[request.wish_code] = wished_plants.get(request.wish_code, 0) + request.n_plants
    met: dict[str, int] = {}
    for planting in standing:
        code = planting.request_code or planting.code
        met[code] = met.get(code, 0) + planting.n_plants
    pinned = pinned_requests(book, requests, pins)
    quiet = book.goals.quiet_weeks
    found = []
    for request in pinned.requests:
        left = max(0, request.n_plants - met.get(request.code, 0))
        sought = replace(request, n_plants=left)
        starts_m = pinned.starts_m[request.code]
        found.append(
            _request_facts(
                sought, beds, wished_plants[request.wish_code], rules, starts_m, closed_beds, quiet
            )
        )
    by_code = {request.code: request for request in requests}
    for planting in standing:
        asked = by_code.get(planting.request_code or planting.code)
        total = wished_plants[asked.wish_code] if asked else planting.n_plants
        found.append(_standing_facts(planting, asked, beds, total, rules, quiet))
    return tuple(found)


def _standing_facts(
    planting: Planting,
    asked: PlantingRequest | None,
    beds: Sequence[BedFacts],
    wish_plants: int,
    rules: PlantingRules,
    quiet: Sequence[Period],
) -> RequestFacts:
    request = PlantingRequest(
        code=planting.code,
        wish_code=planting.wish_code,
        crop=planting.crop,
        variety=planting.variety,
        way=planting.way,
        amount=Amount(planting.n_plants, "plants"),
        n_plants=planting.n_plants,
        priority=asked.priority if asked else COMMON_PRIORITY,
        only_beds=(planting.bed_code,),
        not_beds=(),
        choices=(planting.dates,),
        best=0,
        origins=planting.origins,
    )
    bed = next(number for number, facts in enumerate(beds) if facts.bed.code == planting.bed_code)
    facts = _request_facts(request, beds, wish_plants, rules, {}, (), quiet)
    return replace(facts, beds=(bed,), refused={}, needs_support_side=False, barred={}, fixed=True)


def _bed_facts(
    book: GardenBook,
    bed: Bed,
    light: BedLight | None,
    crops: Mapping[str, Crop],
    rays: FloatArray,
    rules: PlantingRules,
) -> BedFacts:
    frame = bed.frame
    last_grown: dict[str, int] = {}
    records = [record for record in book.history if record.bed_code == bed.code]
    for record in records:
        for group in _groups_of(record, crops):
            last_grown[group] = max(record.year, last_grown.get(group, record.year))
    return BedFacts(
        bed=bed,
        shape=bed_shape(bed, rules.arms_length_m),
        support_sides=tuple(dict.fromkeys(frame.local_side(one.side) for one in bed.supports)),
        reach_sides=tuple(dict.fromkeys(frame.local_side(side) for side in bed.reach)),
        light=light_sums(light),
        rays=bed_rays(rays, frame.bearing_deg),
        last_grown=last_grown,
        has_history=bool(records),
        raw_manure=tuple(one for one in book.manure if one.bed_code == bed.code and not one.composted),
    )


def _groups_of(record: History, crops: Mapping[str, Crop]) -> set[str]:
    """Rotation groups of what stood in a bed, named by crop or by botanical family."""
    return {
        crop.rotation_group
        for name, crop in crops.items()
        if name in record.crops or (crop.family in record.families and crop.life_cycle != "perennial")
    }


def _request_facts(
    request: PlantingRequest,
    beds: Sequence[BedFacts],
    wish_plants: int,
    rules: PlantingRules,
    starts_m: Mapping[str, tuple[float, ...]],
    closed_beds: Collection[str],
    quiet: Sequence[Period],
) -> RequestFacts:
    crop = request.crop
    refused: dict[str, str] = {}
    for facts in beds:
        why = refusal(request, facts.bed, rules)
        if why:
            refused[facts.bed.code] = why
        elif facts.bed.code in closed_beds:
            refused[facts.bed.code] = "to be left alone, as you asked"
    allowed = tuple(number for number, facts in enumerate(beds) if facts.bed.code not in refused)
    needs_side = wants_trellis(crop) and any(beds[number].support_sides for number in allowed)
    if needs_side:
        for number in allowed:
            if not beds[number].support_sides:
                refused[beds[number].bed.code] = "no trellis, netting or wires on any side"
        allowed = tuple(number for number in allowed if beds[number].support_sides)
    dates = date_table(request, rules, quiet)
    barred = {
        number: barred_dates(crop, dates.choices, beds[number].raw_manure)
        for number in allowed
        if beds[number].raw_manure
    }
    for number, dates_barred in barred.items():
        if len(dates_barred) and dates_barred.all():
            refused[beds[number].bed.code] = manure_words(crop, beds[number].raw_manure)
    allowed = tuple(number for number in allowed if beds[number].bed.code not in refused)
    climbs = crop.climbs and crop.support != "none"
    pinned_m = {number: starts_m[one.bed.code] for number, one in enumerate(beds) if one.bed.code in starts_m}
    anywhere = bool(allowed) and all(pinned_beyond(beds[one].shape, pinned_m.get(one)) for one in allowed)
    return RequestFacts(
        request=request,
        spacing=replace(spacing_of(crop, rules, request.layout), everywhere=anywhere),
        worth=WORTH_BY_PRIORITY[request.priority] * request.n_plants / max(1, wish_plants),
        height_m=max(crop.height_m, CLIMBER_HEIGHT_M) if climbs else crop.height_m,
        dates=dates,
        beds=allowed,
        refused=refused,
        needs_support_side=needs_side,
        starts_m=pinned_m,
        anywhere=anywhere,
        barred={number: found for number, found in barred.items() if number in allowed and found.any()},
    )


def pinned_beyond(shape: BedShape, starts_m: Sequence[float] | None) -> bool:
    """True if a pin names places of which nothing is in reach: what is settled is kept all the same."""
    if starts_m is None:
        return False
    if not shape.rectangular:
        return math.isfinite(shape.arm_m) and all(_line_beyond(shape, start_m) for start_m in starts_m)
    if shape.beyond is None:
        return False
    (low_a, high_a), (low_c, high_c) = shape.beyond
    across = low_c <= 0 and high_c >= shape.width_m
    return across and all(low_a - SMALL_M <= start_m < high_a for start_m in starts_m)


def _line_beyond(shape: BedShape, start_m: float) -> bool:
    """True if nothing is in reach of the line square to the baseline at which ground starts."""
    positions_m = np.array([max(start_m, STEP_M)])
    pieces = free_pieces(shape, "across", positions_m, SMALL_M)
    return bool(pieces[0]) and not near_pieces(shape, "across", positions_m, pieces)[0]


def wants_trellis(crop: Crop) -> bool:
    """True for climbers that want a standing trellis rather than canes put up for the season."""
    return crop.climbs and crop.support == "trellis"


def refusal(request: PlantingRequest, bed: Bed, rules: PlantingRules) -> str:
    """Why a bed may not take a request, in plain words; empty if it may."""
    if request.only_beds and bed.code not in request.only_beds:
        return NOT_ALLOWED
    if bed.code in request.not_beds:
        return "ruled out in your wish"
    lead = bed.soil_test.lead_mg_kg if bed.soil_test else None
    if lead is not None and lead > rules.lead_limit_mg_kg and eaten_root_or_leaf(request.crop):
        return (
            f"its soil holds {lead:g} mg of lead per kg, over {rules.lead_limit_mg_kg:g} mg/kg, "
            "so no crop eaten for root or leaf"
        )
    if request.layout == "staggered" and not bed_shape(bed).rectangular:
        return "staggered rows are laid out in beds with four square corners only"
    return ""
