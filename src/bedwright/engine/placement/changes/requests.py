"""What is asked for now: the requests of an earlier plan with the dates that are left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from bedwright.engine.placement.changes.situation import Situation, begun_before, request_of
from bedwright.engine.placement.date_table import MOST_DATES
from bedwright.engine.placement.words import plain_day
from bedwright.model.book import Amount
from bedwright.model.season import DateChoice, Planting, PlantingRequest, SeasonPlan

NOT_DELIVERED = "What it is grown from was not delivered."


def requests_again(
    plan: SeasonPlan, situation: Situation, dated: Sequence[PlantingRequest]
) -> tuple[PlantingRequest, ...]:
    """The requests behind an earlier plan, each with the dates that are still to come.

    Parameters
    ----------
    plan
        The earlier plan; its codes and amounts hold.
    situation
        What events leave of it.
    dated
        Requests worked out for the book as it is now without regard to the day: the dates of
        all sowings of a wish are open to each of them.

    Returns
    -------
    tuple of PlantingRequest
        In order of the wishes. A request without a date carries the reason. Wishes that the
        plan does not know yet come as in `dated`, less the dates that are past.
    """
    by_wish: dict[str, list[PlantingRequest]] = {}
    for request in dated:
        by_wish.setdefault(request.wish_code, []).append(request)
    wanted = _wanted(plan)
    own = _by_request((*situation.rest, *situation.lost, *situation.standing))
    known = {wish for wish, _ in wanted.values()}
    found: list[PlantingRequest] = []
    for wish_code, asked in by_wish.items():
        if wish_code not in known:
            found += [_ahead(request, situation.today) for request in asked]
            continue
        for code, (wish, n_plants) in wanted.items():
            if wish == wish_code:
                same = next((one for one in asked if one.code == code), None)
                # A sowing that is not worked out any more aims at the day it was planned for.
                base = same or replace(asked[0], choices=(), best=None)
                request = replace(base, code=code, n_plants=n_plants, amount=Amount(n_plants, "plants"))
                found.append(_dated(request, asked, situation, own.get(code, ())))
    return tuple(found)


def _wanted(plan: SeasonPlan) -> dict[str, tuple[str, int]]:
    """Request code to wish and plants wanted, as the earlier plan was asked."""
    found: dict[str, tuple[str, int]] = {}
    for planting in plan.plantings:
        code = request_of(planting)
        found[code] = (planting.wish_code, found.get(code, ("", 0))[1] + planting.n_plants)
    for short in plan.shortfalls:
        placed = found.get(short.planting_code, ("", 0))[1]
        found[short.planting_code] = (short.wish_code, max(placed, short.wanted_plants))
    return found


def _by_request(plantings: Sequence[Planting]) -> Mapping[str, tuple[Planting, ...]]:
    found: dict[str, tuple[Planting, ...]] = {}
    for planting in plantings:
        code = request_of(planting)
        found[code] = (*found.get(code, ()), planting)
    return found


def _ahead(request: PlantingRequest, today: date) -> PlantingRequest:
    """A request that is new, less the dates that are past."""
    choices = tuple(one for one in request.choices if (one.sow_under_cover or one.in_ground) >= today)
    if not request.choices:
        return request
    preferred = request.choices[request.best or 0].in_ground
    return _with_choices(request, choices, max(preferred, today), frozenset())


def _dated(
    request: PlantingRequest,
    asked: Sequence[PlantingRequest],
    situation: Situation,
    own: Sequence[Planting],
) -> PlantingRequest:
    code, today = request.code, situation.today
    begins = situation.begins_from.get(code, today)
    if begins is None:
        return replace(request, choices=(), best=None, no_window_reason=NOT_DELIVERED)
    first = max(today, situation.not_before.get(code, today))
    lost = {planting.code for planting in situation.lost}
    kept = [one for one in own if one.dates.in_ground >= max(first, today) and one.code not in lost]
    raised = next((one for one in own if begun_before(one, today) and one.dates.in_ground >= today), None)
    choices: dict[date, DateChoice] = {}
    for choice in (choice for one in asked for choice in one.choices):
        if choice.in_ground < first:
            continue
        if (choice.sow_under_cover or choice.in_ground) >= max(today, begins):
            choices.setdefault(choice.in_ground, choice)
        elif raised is not None and choice.in_ground >= raised.dates.in_ground:
            choices[choice.in_ground] = replace(choice, sow_under_cover=raised.dates.sow_under_cover)
    for planting in own:
        if planting.dates.in_ground >= first and not _begins_too_late(planting, begins, today):
            choices[planting.dates.in_ground] = planting.dates
    target = _aimed_at(request, own, first)
    reason = request.no_window_reason or _past(asked, first)
    made = replace(request, no_window_reason=reason)
    ordered = tuple(choices[day] for day in sorted(choices))
    return _with_choices(made, ordered, target, frozenset(one.dates.in_ground for one in kept))


def _aimed_at(request: PlantingRequest, own: Sequence[Planting], first: date) -> date:
    """The day to prefer: as worked out for the crop, else as planned, else as soon as can be."""
    if request.best is not None:
        return max(first, request.choices[request.best].in_ground)
    return min((one.dates.in_ground for one in own if one.dates.in_ground >= first), default=first)


def _begins_too_late(planting: Planting, begins: date, today: date) -> bool:
    """True if its own date needs it to be begun before it can be."""
    if begun_before(planting, today):
        return False
    return (planting.dates.sow_under_cover or planting.dates.in_ground) < begins


def _past(asked: Sequence[PlantingRequest], first: date) -> str:
    days = [choice.in_ground for one in asked for choice in one.choices]
    if not days:
        return ""
    return (
        f"The last date for it was {plain_day(max(days))}."
        if max(days) < first
        else f"None of the dates left after {plain_day(first)} leaves time to begin it."
    )


def _with_choices(
    request: PlantingRequest, choices: Sequence[DateChoice], target: date, kept: frozenset[date]
) -> PlantingRequest:
    """A request with so few dates that all are tried: those kept, the one aimed at, others spread."""
    if not choices:
        return replace(request, choices=(), best=None)
    aimed = min(range(len(choices)), key=lambda n: (abs((choices[n].in_ground - target).days), n))
    numbers = {aimed, *(n for n, one in enumerate(choices) if one.in_ground in kept)}
    for number in _spread(len(choices), aimed):
        if len(numbers) >= MOST_DATES:
            break
        numbers.add(number)
    left = sorted(numbers)
    return replace(request, choices=tuple(choices[number] for number in left), best=left.index(aimed))


def _spread(n_choices: int, aimed: int) -> Iterator[int]:
    """Numbers of dates: half of them next to the one aimed at, the others evenly over all."""
    for step in range(1, MOST_DATES // 4 + 1):
        for number in (aimed + step, aimed - step):
            if 0 <= number < n_choices:
                yield number
    for share in range(MOST_DATES):
        yield round(share * (n_choices - 1) / (MOST_DATES - 1))
