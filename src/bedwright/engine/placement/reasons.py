"""Why a planting stands where and when it does: its terms in plain words and numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

import numpy as np

from bedwright.engine.placement.blocks import Blocks, Spot, as_blocks
from bedwright.engine.placement.ground_light import light_got_h
from bedwright.engine.placement.problem import BedFacts, PlacementProblem, RequestFacts
from bedwright.engine.placement.raw_manure import eaten_root_or_leaf
from bedwright.engine.placement.rules import SMALL_M
from bedwright.engine.placement.shade_between import shade_from_other_beds, shade_words
from bedwright.engine.placement.sources import PRACTICE, REACH, ROTATION
from bedwright.engine.placement.terms import LEAST_DAYS_TOGETHER, TALLER_BY_M, TERMS, share
from bedwright.engine.placement.value import (
    at_date,
    beside,
    days_together,
    own_terms,
    picked_plants,
    rotation_of,
    rotation_years_short,
    shade_on,
    share_ground,
    split_points,
    spot_worth,
)
from bedwright.engine.placement.words import counted, group_words, listed, month_span, plain_day
from bedwright.model.crop import Grade, NeighbourFinding
from bedwright.model.season import DateChoice, Reason
from bedwright.model.weather import FloatArray

MOST_SHADES, TOLD_POINTS = 3, 0.005
"""Crops of other beds named for the sun they take, and points from which they are."""

GRADE_WORDS: dict[Grade, str] = {
    "A": "replicated trials, grade A",
    "B": "one trial or a partial one, grade B",
    "C": "belief or unproven, grade C",
}


def reasons_for(
    problem: PlacementProblem, spot: Spot, patch: int, n_rows: int, spots: Sequence[Spot]
) -> tuple[Reason, ...]:
    """All reasons of one spot of a plan.

    Parameters
    ----------
    patch
        1 for the first place of a request, 2 and 3 for further ones.
    n_rows
        Rows as drawn.
    spots
        The whole plan.
    """
    facts, bed = problem.requests[spot.request], problem.beds[spot.bed]
    blocks = as_blocks(spot)
    gains = {name: at_date(points, spot.date) for name, points in own_terms(problem, blocks).items()}
    dates = facts.dates.choices[spot.date]
    neighbours = [other for other in spots if other.bed == spot.bed and other is not spot]
    found = [
        *_amount(facts, spot, n_rows, gains),
        *_dates(facts, dates, gains),
        *_light(problem, bed, facts, blocks, spot, gains),
        *_rotation(problem, bed, facts, spot, gains),
        *_followed(problem, spot, neighbours),
        *_together(problem, spot, neighbours),
        *_neighbours(problem, spot, neighbours),
        *_shade(problem, spot, neighbours),
        *_shade_from_beyond(problem, spot, spots),
        *_support(problem, bed, facts, spot, gains),
        *_bed(problem, bed, facts, gains),
        *_block(facts, bed, gains),
        *_weeks(facts, dates, gains),
        *_evenly(problem, spot, spots),
    ]
    if patch > 1:
        points = split_points(problem, spot.request, 2)
        text = f"Place {patch} of the same planting: there was no free ground for all of it in one place."
        found.append(Reason("split", text, round(points, 2)))
    # Adding 0 turns a negative zero into a plain one.
    return tuple(replace(reason, gain=reason.gain + 0.0) for reason in found)


def _amount(facts: RequestFacts, spot: Spot, n_rows: int, gains: dict[str, float]) -> Iterator[Reason]:
    wanted = facts.request.n_plants
    which = "all that are wanted" if spot.n_plants == wanted else f"of {wanted} wanted"
    text = f"{counted(spot.n_plants, 'plant').capitalize()} in {counted(n_rows, 'row')}, {which}."
    yield Reason("amount", text, round(gains["amount"], 2))
    yield Reason("setting out", f"{counted(n_rows, 'row')} to set out.", round(gains["setting out"], 2))


def _dates(facts: RequestFacts, dates: DateChoice, gains: dict[str, float]) -> Iterator[Reason]:
    request = facts.request
    verb = "Sown" if request.way == "sow" else "Set out"
    day = plain_day(dates.in_ground)
    if dates.chance is None:
        yield Reason("date", f"{verb} {day}; the chance of success is not known: no weather record.", 0.0)
    else:
        worked = round(dates.chance * dates.n_years)
        text = f"{verb} {day}: worked in {worked} of {dates.n_years} recorded years ({dates.chance:.0%})."
        yield Reason("date", text, round(gains["date"], 2))
    best = request.choices[request.best] if request.best is not None else None
    if best is not None and best.in_ground != dates.in_ground:
        days = (dates.in_ground - best.in_ground).days
        text = (
            f"{counted(abs(days), 'day')} {'after' if days > 0 else 'before'} the date that suits it best, "
            f"{plain_day(best.in_ground)}: that day would have cost more elsewhere in the plan."
        )
        yield Reason("date preference", text, round(gains["date preference"], 2))
    elif best is not None:
        yield Reason("date preference", f"{day} is the date that suits it best here.", 0.0)


def _light(
    problem: PlacementProblem,
    bed: BedFacts,
    facts: RequestFacts,
    blocks: Blocks,
    spot: Spot,
    gains: dict[str, float],
) -> Iterator[Reason]:
    got = light_got_h(problem, blocks)
    hours = float("nan") if got is None else float(got[spot.date, 0])
    if np.isnan(hours):
        text = f"Hours of sun on bed {bed.bed.code} are not known, so light was not weighed."
        yield Reason("light", text, 0.0)
        return
    need = facts.crop.min_sun_h
    dates = facts.dates.choices[spot.date]
    months = month_span(dates.in_ground, dates.last_pick)
    text = f"Sun on this ground, {months}: {hours:.1f} h a day against {need:g} h needed"
    short = f"; {need - hours:.1f} h short." if hours < need - 0.05 else "."
    yield Reason("light", text + short, round(gains["light"], 2), (PRACTICE,))


def _rotation(
    problem: PlacementProblem, bed: BedFacts, facts: RequestFacts, spot: Spot, gains: dict[str, float]
) -> Iterator[Reason]:
    code, family = bed.bed.code, group_words(facts.crop.rotation_group)
    if facts.crop.life_cycle == "perennial":
        yield Reason("rotation", f"{facts.crop.name.capitalize()} stays for years: no rotation.", 0.0)
        return
    if not bed.has_history:
        text = f"The book does not say what grew in bed {code} before, so rotation was not weighed."
        yield Reason("rotation", text, 0.0)
        return
    last = bed.last_grown.get(facts.crop.rotation_group)
    if last is None:
        text = f"Bed {code} had no {family} in the years on record."
        yield Reason("rotation", text, 0.0, (ROTATION,))
        return
    years = int(facts.dates.year[spot.date]) - last
    wanted = problem.rules.rotation_years
    missing = int(rotation_years_short(problem, spot.request, spot.bed)[spot.date])
    text = f"Bed {code} had no {family} since {last}: {counted(years, 'year')}"
    text += (
        f", {counted(missing, 'year')} less than the {wanted} wanted."
        if missing
        else f"; {wanted} are wanted."
    )
    yield Reason("rotation", text, round(gains["rotation"], 2), (ROTATION,))


def _followed(problem: PlacementProblem, spot: Spot, others: Sequence[Spot]) -> Iterator[Reason]:
    facts, blocks = problem.requests[spot.request], as_blocks(spot)
    for other in others:
        theirs = problem.requests[other.request]
        if not share_ground(blocks, other)[0]:
            continue
        same = (
            facts.crop.rotation_group == theirs.crop.rotation_group and facts.crop.life_cycle != "perennial"
        )
        if other.clear_by < spot.taken_from:
            cleared = plain_day(date.fromordinal(other.clear_by))
            text = f"Follows {theirs.crop.name} ({theirs.request.code}), cleared by {cleared}"
            text += ", of the same family." if same else ", of another family."
        else:
            text = f"Cleared before {theirs.crop.name} ({theirs.request.code}) takes this ground"
            text += ", of the same family." if same else ", of another family."
        cost = -spot_worth(problem, spot) / 2 * share("rotation in the season") if same else 0.0
        yield Reason("rotation in the season", text, round(cost, 2))


def _together(problem: PlacementProblem, spot: Spot, others: Sequence[Spot]) -> Iterator[Reason]:
    crop = problem.requests[spot.request].crop
    if crop.life_cycle == "perennial":
        return
    alike = [other for other in others if rotation_of(problem, other.request) == crop.rotation_group]
    gain = -TERMS["families together"].weight / (len(alike) + 1)
    family = group_words(crop.rotation_group)
    text = f"One more bed with the {family} in it, which next year's rotation has to keep free of it."
    if alike:
        names = listed(sorted({problem.requests[other.request].crop.name for other in alike}))
        text = f"Shares the bed with its own family ({names}), which leaves more beds free of it next year."
    yield Reason("families together", text, round(gain, 2))


def _neighbours(problem: PlacementProblem, spot: Spot, others: Sequence[Spot]) -> Iterator[Reason]:
    facts, blocks = problem.requests[spot.request], as_blocks(spot)
    for other in others:
        together = days_together(problem, spot.request, other)[spot.date]
        if together < LEAST_DAYS_TOGETHER or not beside(blocks, other)[0]:
            continue
        name = problem.requests[other.request].crop.name
        pair = (facts.crop.name, name)
        share_there = other.n_plants / problem.requests[other.request].request.n_plants
        gain = problem.neighbour_gain.get(pair, 0.0) * spot_worth(problem, spot) * share_there
        wish = problem.wished.get(frozenset(pair))
        if wish is not None:
            said = f" ({wish.reason})" if wish.reason else ""
            text = f"Beside {name}, {'as you wish' if wish.wanted else 'although you want them apart'}{said}."
            yield Reason("neighbour wish", text, round(gain, 2))
            continue
        for finding in _speaking(problem.findings.get(pair, ())):
            text = f"Beside {name}: {finding.mechanism} ({GRADE_WORDS[finding.grade]})."
            yield Reason("neighbour", text, round(gain, 2), (finding.source_id,))
            gain = 0.0


def _speaking(found: Sequence[NeighbourFinding]) -> list[NeighbourFinding]:
    """The best-graded finding of each sign: those that count."""
    chosen = []
    for effect in ("beneficial", "harmful"):
        alike = sorted((one for one in found if one.effect == effect), key=lambda one: one.grade)
        chosen += alike[:1]
    return chosen


def _shade(problem: PlacementProblem, spot: Spot, others: Sequence[Spot]) -> Iterator[Reason]:
    facts, blocks = problem.requests[spot.request], as_blocks(spot)
    lower: list[str] = []
    for other in others:
        together = days_together(problem, spot.request, other)
        theirs = problem.requests[other.request]
        if not together[spot.date]:
            continue
        points = shade_on(problem, blocks, other, _only_at(together, spot.date))
        cost = 0.0 if points is None else at_date(points, spot.date)
        if cost:
            text = (
                f"{theirs.crop.name.capitalize()} ({theirs.height_m:.1f} m) stands on the sun side of it "
                f"({facts.height_m:.1f} m) and takes some of its light."
            )
            yield Reason("shade by a taller crop", text, round(cost, 2), (PRACTICE,))
        elif facts.height_m > theirs.height_m + TALLER_BY_M:
            theirs_together = _only_at(days_together(problem, other.request, spot), other.date)
            back = shade_on(problem, as_blocks(other), spot, theirs_together)
            if back is None or not at_date(back, other.date):
                lower.append(theirs.crop.name)
    if lower:
        names = listed(sorted(set(lower)))
        text = f"At {facts.height_m:.1f} m it stands where it takes no midday sun from {names}."
        yield Reason("shade by a taller crop", text, 0.0, (PRACTICE,))


def _only_at(together: FloatArray, date: int) -> FloatArray:
    """Days together at one date, none at the others: what is of no account need not be worked out."""
    found = np.zeros_like(together)
    found[date] = together[date]
    return found


def _shade_from_beyond(problem: PlacementProblem, spot: Spot, spots: Sequence[Spot]) -> Iterator[Reason]:
    """What taller crops in other beds take of the sun it needs."""
    found = [one for one in shade_from_other_beds(problem, spot, spots) if one.points < -TOLD_POINTS]
    for one in sorted(found, key=lambda each: (each.points, each.tall))[:MOST_SHADES]:
        text = shade_words(problem, spot, one)
        yield Reason("shade by a taller crop", text, round(one.points, 2), (PRACTICE,))


def _support(
    problem: PlacementProblem, bed: BedFacts, facts: RequestFacts, spot: Spot, gains: dict[str, float]
) -> Iterator[Reason]:
    need = facts.crop.support
    if need == "none":
        if gains["support"]:
            text = f"Takes ground along a support of bed {bed.bed.code} that it does not need."
            yield Reason("support", text, round(gains["support"], 2), (PRACTICE,))
        return
    if spot.side is not None:
        frame = bed.bed.frame
        standing = [one for one in bed.bed.supports if frame.local_side(one.side) == spot.side]
        text = f"Stands at the {standing[0].kind} on the {standing[0].side} side of bed {bed.bed.code}."
    elif facts.crop.climbs:
        what = "netting" if need == "netting" else "canes or a trellis"
        text = f"Climbs: put up {what} here for the season."
        if need == "trellis":
            text = f"No bed allowed for it has a trellis. {text}"
    else:
        text = f"Needs a {need} for each plant." if need == "cane" else f"Needs {need}."
    yield Reason("support", text, round(gains["support"], 2), (PRACTICE,))


def _block(facts: RequestFacts, bed: BedFacts, gains: dict[str, float]) -> Iterator[Reason]:
    name = facts.crop.name
    if gains.get("pollination"):
        text = f"In fewer than three rows: wind pollinates {name} better in a block."
        yield Reason("pollination", text, round(gains["pollination"], 2), (PRACTICE,))
    elif "pollination" in gains:
        yield Reason("pollination", f"In a block, because wind pollinates {name}.", 0.0, (PRACTICE,))
    if "side of a bed" in gains:
        text = f"On one side of bed {bed.bed.code} only; the other side is free for another crop."
        yield Reason("side of a bed", text, round(gains["side of a bed"], 2), (PRACTICE,))


def _weeks(facts: RequestFacts, dates: DateChoice, gains: dict[str, float]) -> Iterator[Reason]:
    if gains["quiet weeks"]:
        months = month_span(dates.first_pick, dates.last_pick)
        text = f"Part of its picking ({months}) falls in your quiet weeks."
        yield Reason("quiet weeks", text, round(gains["quiet weeks"], 2), (PRACTICE,))
    if facts.kept:
        gain = round(gains["kept place"], 2)
        text = "As planned before." if gain else f"{facts.crop.name.capitalize()} is not where it was before."
        yield Reason("kept place", text, gain)


def _evenly(problem: PlacementProblem, spot: Spot, spots: Sequence[Spot]) -> Iterator[Reason]:
    """What it does to the weeks in which its wish is picked."""
    weeks, name = problem.weeks, problem.requests[spot.request].crop.name
    curve = int(weeks.group[spot.request])
    if curve < 0:
        return
    others = [other for other in spots if other is not spot and weeks.group[other.request] == curve]
    before, after = (picked_plants(problem, found)[curve] for found in (others, (*others, spot)))
    least, most = weeks.least_plants[curve], weeks.steady_plants[curve]
    filled = np.minimum(after, least) - np.minimum(before, least)
    over = np.maximum(after, most) - np.maximum(before, most)
    worth = share("even picking") * float(weeks.plant_worth[curve])
    if number := int((filled > SMALL_M).sum()):
        text = f"Picked in {counted(number, 'week')} that would bring too little {name} without it."
        yield Reason("even picking", text, round(worth * float(filled.sum()), 2), (PRACTICE,))
    if number := int((over > SMALL_M).sum()):
        text = f"Brings more {name} than an even share in {counted(number, 'week')} of picking."
        yield Reason("even picking", text, round(-worth * float(over.sum()), 2), (PRACTICE,))


def _bed(
    problem: PlacementProblem, bed: BedFacts, facts: RequestFacts, gains: dict[str, float]
) -> Iterator[Reason]:
    code = bed.bed.code
    if gains["reach"]:
        text = f"Part of this ground is farther than an arm's length from where one can stand at bed {code}."
        yield Reason("reach", text, round(gains["reach"], 2), (REACH,))
    if facts.anywhere:
        text = (
            f"Pinned to where no arm reaches: farther than {problem.rules.arms_length_m:.2f} m from where "
            f"one can stand at bed {code}."
        )
        yield Reason("reach", text, 0.0, (REACH,))
    if gains["watering"]:
        how = "is watered by can" if bed.bed.watering_reach == "can" else "has no water within reach"
        yield Reason("watering", f"Bed {code} {how}.", round(gains["watering"], 2))
    lead = bed.bed.soil_test.lead_mg_kg if bed.bed.soil_test else None
    rules = problem.rules
    if lead is not None and lead > rules.lead_several_sources_mg_kg and facts.crop.edible_parts:
        kind = (
            "a crop eaten for root or leaf" if eaten_root_or_leaf(facts.crop) else "washed well before eating"
        )
        text = (
            f"The soil of bed {code} holds {lead:g} mg of lead per kg ({kind}): wash produce and hands, "
            "mulch, and ask your health authority what holds where you are."
        )
        yield Reason("lead", text, 0.0, rules.lead_source_ids)
