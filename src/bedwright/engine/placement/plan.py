"""Place a season's plantings: problem, search, and the answer as records."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.bound import upper_bound
from bedwright.engine.placement.check_reach import farthest_m
from bedwright.engine.placement.check_rows import ROUNDING_M, plants_m
from bedwright.engine.placement.layout import area_beyond_m2, lay_rows
from bedwright.engine.placement.numbering import number_rows
from bedwright.engine.placement.problem import BedFacts, PlacementProblem, build_problem
from bedwright.engine.placement.reasons import reasons_for
from bedwright.engine.placement.rules import COMMON_RULES, PlantingRules
from bedwright.engine.placement.scarce import limit_warnings
from bedwright.engine.placement.search import find_plan
from bedwright.engine.placement.shape import BedShape
from bedwright.engine.placement.shortage import shortfalls_of
from bedwright.engine.placement.standing import start_spots, with_standing
from bedwright.engine.placement.value import plan_terms
from bedwright.engine.placement.weekly import NOTHING_KNOWN, BedHours, WeekMeasures, hours_of
from bedwright.engine.placement.words import listed
from bedwright.model.book import Bed, GardenBook, Pin
from bedwright.model.crop import Crop, NeighbourFinding
from bedwright.model.light import BedLight
from bedwright.model.season import Planting, PlantingRequest, Row, Shortfall

COMMON_EFFORT = 300_000
"""Moves after the first plan in gardens of up to 75 plantings: two to three seconds of one core."""

MOVES_A_PLANTING = 4_000
"""Moves for each planting in larger gardens, which would lie farther from the best with the same moves."""

PATCH_LETTERS = "bcdefghij"

TOLD_FROM_M2 = 0.05
"""Less ground out of reach is not told."""

ROUNDED_M = 0.02
"""By so much beds of 4 ft and of 30 in are wider than the 1.2 m and 0.75 m of the rule, printed in feet."""


@dataclass(frozen=True, slots=True)
class PlacementProgress:
    """How far the work is, with the best plan so far."""

    done: int
    total: int
    """Moves done and moves in all."""
    value: float
    n_placed: int
    n_wanted: int
    """Plants."""
    plantings: tuple[Planting, ...]
    bound: float | None = None
    """Points that no plan can exceed; None until it is worked out."""
    trying: str = ""
    """What is being tried, in plain words."""

    @property
    def text(self) -> str:
        """One line for a screen."""
        trying = f", {self.trying}" if self.trying else ""
        return f"{self.n_placed} of {self.n_wanted} plants have a place{trying} ({self._share:.0%})"

    @property
    def _share(self) -> float:
        return self.done / self.total if self.total else 1.0

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Placement:
    """What goes where and when, with what did not fit."""

    plantings: tuple[Planting, ...]
    """With row codes, in order of bed, day and place."""
    shortfalls: tuple[Shortfall, ...]
    value: float
    """Points: the sum of `terms`."""
    first_value: float
    """Points of the plan before improvement."""
    terms: Mapping[str, float]
    """Points by term of the table in `terms.py`."""
    warnings: tuple[str, ...]
    n_moves: int
    """Moves tried: the measure of work done."""
    bound: float | None = None
    """Points that no plan for the same question can exceed; None where it was not worked out."""
    stopped: bool = False
    """True where `stop` ended the work early; the plan is the best found until then."""


def place(
    book: GardenBook,
    requests: Sequence[PlantingRequest],
    light: Sequence[BedLight],
    neighbours: Sequence[NeighbourFinding],
    crops: Mapping[str, Crop],
    *,
    seed: int,
    progress: Callable[[PlacementProgress], None] | None = None,
    effort: int | None = None,
    rules: PlantingRules = COMMON_RULES,
    noon_sun_bearing_deg: float | None = None,
    standing: Sequence[Planting] = (),
    pins: Sequence[Pin] = (),
    closed_beds: Collection[str] = (),
    start: Sequence[Planting] | None = None,
    stop: Callable[[], bool] | None = None,
    keep: Sequence[Planting] = (),
    hours: BedHours | None = None,
    measures: WeekMeasures = NOTHING_KNOWN,
    prove: bool = True,
) -> Placement:
    """Give every planting its ground and its date, as well as the ground allows.

    Parameters
    ----------
    book
        Beds, history, wishes for neighbours.
    requests
        Plantings wanted, with the dates that would do.
    light
        Direct sun by bed; a bed without it is planted, and the reason says that light was
        not weighed.
    neighbours
        Findings about crops side by side.
    crops
        Crops by name, for the rotation groups of the history.
    seed
        The same input, seed and effort give the same plan.
    progress
        Called some forty times with the best plan so far.
    effort
        Moves tried to improve the first plan; 0 for none, None for as many as the garden is large.
    rules
        Distances, years and limits that bind.
    noon_sun_bearing_deg
        Bearing of the sun at noon [degrees clockwise from north]; None: by the hemisphere.
    standing
        What stands already or must stay: kept as it is, codes, rows and dates. It counts
        toward the request whose code it carries.
    pins
        What the coordinator has settled about plantings still to be placed.
    closed_beds
        Codes of beds to leave alone: nothing is added there, and what `start` has in them stays.
    start
        An earlier plan to begin with; places that are no longer allowed are passed over.
    stop
        Asked between rounds; once it says True the best plan so far is returned.
    keep
        An earlier plan whose beds, places and dates are worth keeping (term "kept place").
    hours
        Work that ground takes; None: the common table with the people of the book.
    measures
        Trays that plants take and room for them, and the climate: with them the plan keeps to
        the room for raising and to the water limits of the book.
    prove
        Work out what no plan can exceed, after the first plan is told.

    Returns
    -------
    Placement
        Keeps every rule of `check`; what found no ground is in `shortfalls`.

    Raises
    ------
    PinRefusedError
        If a pin cannot be kept, with every such pin.
    ValueError
        If something stands in a bed that the book does not have.
    """
    standing, start = _settled(standing, start or (), closed_beds)
    problem = build_problem(
        book,
        requests,
        light,
        neighbours,
        crops,
        rules,
        noon_sun_bearing_deg=noon_sun_bearing_deg,
        standing=standing,
        pins=pins,
        closed_beds=closed_beds,
        keep=keep,
        hours=hours or hours_of(book),
        measures=measures,
    )
    n_wanted = sum(request.n_plants for request in requests)

    bounds: list[float | None] = []

    def on_step(done: int, total: int, spots: Sequence[Spot], value: float, trying: str) -> None:
        if progress is not None:
            plantings = plantings_of(problem, spots, with_reasons=False)
            n_placed = sum(planting.n_plants for planting in plantings)
            bound = bounds[0] if bounds else None
            progress(PlacementProgress(done, total, value, n_placed, n_wanted, plantings, bound, trying))
        # The bound takes longer than the first plan, which is shown before it.
        if prove and not bounds:
            bounds.append(upper_bound(problem))

    if effort is None:
        effort = max(COMMON_EFFORT, MOVES_A_PLANTING * len(requests))
    found = find_plan(problem, seed, effort, on_step, start=start_spots(problem, start), stop=stop)
    terms = plan_terms(problem, found.spots)
    value, bound = sum(terms.values()), bounds[0] if bounds else None
    plantings = plantings_of(problem, found.spots)
    return Placement(
        plantings=plantings,
        shortfalls=_shortfalls(problem, requests, found.spots),
        value=value,
        first_value=found.first_value,
        terms=terms,
        warnings=(
            *warnings_of(problem),
            *pin_warnings(problem, plantings),
            *limit_warnings(problem, found.spots),
            *headroom(value, bound),
        ),
        n_moves=found.n_moves,
        bound=bound,
        stopped=found.stopped,
    )


def headroom(value: float, bound: float | None) -> tuple[str, ...]:
    """How much better any plan could be, in a sentence; empty where that is not known."""
    if bound is None or value <= 0:
        return ()
    more_pct = max(0.0, bound / value - 1) * 100
    if more_pct < 0.05:
        return ("No plan for this book can be better than this one by the weights used.",)
    return (f"No plan for this book can be more than {more_pct:.1f} % better by the weights used.",)


def _settled(
    standing: Sequence[Planting], start: Sequence[Planting], closed_beds: Collection[str]
) -> tuple[tuple[Planting, ...], tuple[Planting, ...]]:
    """What is fixed, and what a search may begin with: a bed left alone keeps what it has."""
    known = {planting.code for planting in standing}
    new = [planting for planting in start if planting.code not in known]
    kept = tuple(planting for planting in new if planting.bed_code in closed_beds)
    return (*standing, *kept), tuple(planting for planting in new if planting.bed_code not in closed_beds)


def _shortfalls(
    problem: PlacementProblem, requests: Sequence[PlantingRequest], spots: Sequence[Spot]
) -> tuple[Shortfall, ...]:
    met: dict[str, int] = {}
    for planting in problem.standing:
        code = planting.request_code or planting.code
        met[code] = met.get(code, 0) + planting.n_plants
    wanted = {request.code: request.n_plants for request in requests}
    return with_standing(shortfalls_of(problem, spots), met, wanted)


def plantings_of(
    problem: PlacementProblem, spots: Sequence[Spot], *, with_reasons: bool = True
) -> tuple[Planting, ...]:
    """The spots of a plan as records, rows numbered."""
    # The code of a request is free for its first place, unless a standing planting carries it.
    taken = {planting.code for planting in problem.standing}
    asked = {facts.request.code for facts in problem.requests if not facts.fixed}
    patches = {
        number: sum((one.request_code or one.code) == facts.request.code for one in problem.standing)
        for number, facts in enumerate(problem.requests)
        if not facts.fixed
    }
    plantings = list(problem.standing)
    # The largest patch carries the code of the request itself.
    for spot in sorted(spots, key=lambda spot: (spot.request, -spot.n_plants, spot)):
        if problem.requests[spot.request].fixed:
            continue
        patch = patches[spot.request] = patches.get(spot.request, 0) + 1
        facts, bed = problem.requests[spot.request], problem.beds[spot.bed]
        rows = lay_rows(
            bed.shape,
            spot.direction,
            spot.along_m,
            spot.across_m,
            facts.spacing,
            spot.n_plants,
            single_row=spot.side is not None,
        )
        code = _patch_code(facts.request.code, patch, taken | (asked - {facts.request.code}))
        taken.add(code)
        plantings.append(
            Planting(
                code=code,
                wish_code=facts.request.wish_code,
                crop=facts.crop,
                variety=facts.request.variety,
                way=facts.request.way,
                bed_code=bed.bed.code,
                along_m=spot.along_m,
                across_m=spot.across_m,
                direction=spot.direction,
                rows=tuple(Row("", row.start_m, row.end_m, row.n_plants, row.spacing_m) for row in rows),
                dates=facts.dates.choices[spot.date],
                reasons=reasons_for(problem, spot, patch, len(rows), spots) if with_reasons else (),
                origins=facts.request.origins,
                request_code=facts.request.code,
            )
        )
    bed_order = {facts.bed.code: number for number, facts in enumerate(problem.beds)}
    plantings.sort(key=lambda p: (bed_order[p.bed_code], p.dates.in_ground, p.along_m, p.across_m, p.code))
    return number_rows(plantings, {one.code: tuple(row.code for row in one.rows) for one in problem.standing})


def _patch_code(code: str, patch: int, taken: set[str]) -> str:
    """Code of the request for its first place, then with a letter; never one already given."""
    named = [code] if patch == 1 else []
    named += [f"{code}-{letter}" for letter in PATCH_LETTERS[max(0, patch - 2) :]]
    return next((one for one in named if one not in taken), f"{code}-{patch}")


def warnings_of(problem: PlacementProblem) -> list[str]:
    """What of the beds is to be known before planting, whatever the plan."""
    found = []
    for facts in problem.beds:
        code = facts.bed.code
        lead = facts.bed.soil_test.lead_mg_kg if facts.bed.soil_test else None
        if lead is not None and lead > problem.rules.lead_limit_mg_kg:
            found.append(
                f"Bed {code}: {lead:g} mg of lead per kg of soil, over the screening level of "
                f"{problem.rules.lead_limit_mg_kg:g} mg/kg ({problem.rules.lead_rule_words}). No root "
                "or leaf crops were placed in it. Ask your health authority before growing any food there."
            )
        found += _reach_warnings(problem, facts)
    dark = [facts.bed.code for facts in problem.beds if facts.light is None]
    if dark:
        found.append(f"{_beds(dark)}: hours of sun are not known, so light was not weighed.")
    unknown = [facts.bed.code for facts in problem.beds if not facts.has_history]
    if unknown:
        found.append(f"{_beds(unknown)}: nothing on record of earlier years, so rotation was not weighed.")
    return found


def _beds(codes: Sequence[str]) -> str:
    return f"Bed {codes[0]}" if len(codes) == 1 else f"Beds {listed(codes)}"


def _reach_warnings(problem: PlacementProblem, facts: BedFacts) -> Iterator[str]:
    """What of a bed is hard to reach or out of reach, and what stands there already."""
    code, shape, rules = facts.bed.code, facts.shape, problem.rules
    across = {"left", "right"} & set(facts.reach_sides)
    reach_m = 2 * rules.reach_two_sides_m if len(across) == 2 else rules.reach_one_side_m
    beyond_m2 = area_beyond_m2(shape) if _deep_beyond_m(shape) > ROUNDED_M else 0.0
    # An odd outline may be far narrower than the box round it.
    too_wide = shape.rectangular and min(shape.width_m, shape.length_m) > reach_m + ROUNDED_M
    if too_wide and beyond_m2 < TOLD_FROM_M2 and not facts.bed.stepping_boards:
        yield (
            f"Bed {code}: {shape.width_m:.2f} m wide, more than the {reach_m:.2f} m an arm reaches from "
            f"{'both sides' if len(across) == 2 else 'where it can be worked'}."
        )
    if beyond_m2 >= TOLD_FROM_M2:
        yield (
            f"Bed {code}: {beyond_m2:.1f} m² lie farther than {rules.arms_length_m:.2f} m from where one can "
            "stand and get no plants. If one can stand inside on boards or stones, say so in the book "
            "(stepping_boards)."
        )
    for planting in problem.standing:
        if planting.bed_code == code:
            yield from _out_of_reach(planting, facts.bed, rules, "stands")


def _deep_beyond_m(shape: BedShape) -> float:
    """Lesser side of what is out of reach of a rectangle; inf for others and where nothing is [m]."""
    if shape.beyond is None:
        return math.inf
    (low_a, high_a), (low_c, high_c) = shape.beyond
    return min(min(high_a, shape.length_m) - max(low_a, 0.0), min(high_c, shape.width_m) - max(low_c, 0.0))


def pin_warnings(problem: PlacementProblem, plantings: Sequence[Planting]) -> Iterator[str]:
    """How far from where one can stand a planting is that was pinned to where no arm reaches."""
    beyond = {facts.request.code for facts in problem.requests if facts.anywhere and not facts.fixed}
    beds = {facts.bed.code: facts.bed for facts in problem.beds}
    stood = {planting.code for planting in problem.standing}
    for planting in plantings:
        if planting.request_code in beyond and planting.code not in stood:
            yield from _out_of_reach(planting, beds[planting.bed_code], problem.rules, "is pinned")


def _out_of_reach(planting: Planting, bed: Bed, rules: PlantingRules, stands: str) -> Iterator[str]:
    away_m = farthest_m(bed, plants_m(planting)) if planting.rows else 0.0
    if away_m > rules.arms_length_m + ROUNDING_M:
        yield (
            f"{planting.crop.name.capitalize()} ({planting.code}) {stands} up to {away_m:.2f} m from "
            f"where one can stand at bed {bed.code}; an arm reaches {rules.arms_length_m:.2f} m."
        )
