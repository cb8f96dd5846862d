"""What an earlier plan still holds after something happened: what stands, what is lost, what is left."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Literal

from bedwright.engine.placement.words import plain_day
from bedwright.model.book import GardenBook, HelpingHands
from bedwright.model.changes import (
    BedClosed,
    BedLost,
    BedOpened,
    Event,
    HoursChanged,
    NotDelivered,
    PlantingFailed,
    PlantingLate,
)
from bedwright.model.season import DateChoice, Planting, SeasonPlan

DAYS_A_WEEK = 7

_Fate = Literal["stands", "rest", "lost"]


class EventRefusedError(ValueError):
    """Events that cannot be, each named with the reason."""


@dataclass(frozen=True, slots=True)
class Situation:
    """An earlier plan sorted by what the events leave of it."""

    today: date
    book: GardenBook
    """With beds left alone and hours as they are now."""
    standing: tuple[Planting, ...]
    """In the ground, or in a bed left alone: kept as it is, with later dates where it is late."""
    rest: tuple[Planting, ...]
    """Planned and untouched: to stay where and when it is as far as possible."""
    lost: tuple[Planting, ...]
    """To be put back: gone from the ground, or planned where or when it cannot be."""
    closed_beds: frozenset[str]
    not_before: Mapping[str, date] = field(default_factory=dict)
    """Request code to the first day it may go into the ground."""
    begins_from: Mapping[str, date | None] = field(default_factory=dict)
    """Request code to the day from which it can be begun; None: not this season."""
    why: Mapping[str, str] = field(default_factory=dict)
    """Planting code to the sentence on what happened to it."""
    happened: tuple[str, ...] = ()
    """One sentence for each event."""


def request_of(planting: Planting) -> str:
    """Code of the request that a planting meets."""
    return planting.request_code or planting.code


def in_ground_before(planting: Planting, today: date) -> bool:
    """True for what went in before a day."""
    return planting.dates.in_ground < today


def begun_before(planting: Planting, today: date) -> bool:
    """True for what went in or was sown under cover before a day."""
    sown = planting.dates.sow_under_cover if planting.way == "raise" else None
    return (sown or planting.dates.in_ground) < today


def situation_after(plan: SeasonPlan, book: GardenBook, events: Sequence[Event], today: date) -> Situation:
    """Sort an earlier plan by what events leave of it.

    Parameters
    ----------
    plan
        The earlier plan.
    book
        The garden book as it is now; may have more beds and wishes than the plan's.
    events
        What happened; codes are those of the plan.
    today
        What went into the ground before it stands, unless it is lost.

    Raises
    ------
    EventRefusedError
        If an event names what is not there or cannot be, with every such event.
    """
    faults = [fault for event in events for fault in _faults(plan, book, event, today)]
    if faults:
        raise EventRefusedError("\n".join(faults))
    told = _told(plan, book, events)
    why = dict(_reasons(plan, events))
    sorted_out: dict[_Fate, list[Planting]] = {"stands": [], "rest": [], "lost": []}
    for one in plan.plantings:
        fate, reason = _fate(one, told, today)
        if reason:
            why.setdefault(one.code, reason)
        late = one.code in told.late and fate == "stands" and in_ground_before(one, today)
        sorted_out[fate].append(delayed(one, told.late[one.code]) if late else one)
    return Situation(
        today=today,
        book=_book_now(book, told.closed, events, today),
        standing=tuple(sorted_out["stands"]),
        rest=tuple(sorted_out["rest"]),
        lost=tuple(sorted_out["lost"]),
        closed_beds=told.closed,
        not_before=_not_before(plan, told),
        begins_from={
            request_of(one): told.missing[one.code] for one in plan.plantings if one.code in told.missing
        },
        why=why,
        happened=tuple(_sentence(plan, event) for event in events),
    )


@dataclass(frozen=True, slots=True)
class _Told:
    """The events, by what they are about."""

    closed: frozenset[str]
    """Beds to which nothing is added, of old and anew."""
    refused: frozenset[str]
    """Beds that what is planned must leave."""
    lost_beds: frozenset[str]
    failed: frozenset[str]
    late: Mapping[str, float]
    """Planting code to weeks."""
    missing: Mapping[str, date | None]
    """Planting code to the day from which it can be begun."""
    wished: frozenset[str]
    beds: frozenset[str]


def _told(plan: SeasonPlan, book: GardenBook, events: Sequence[Event]) -> _Told:
    return _Told(
        closed=_closed_beds(plan, book, events),
        refused=frozenset(event.bed_code for event in events if isinstance(event, BedLost | BedClosed)),
        lost_beds=frozenset(event.bed_code for event in events if isinstance(event, BedLost)),
        failed=frozenset(event.planting_code for event in events if isinstance(event, PlantingFailed)),
        late={event.planting_code: event.weeks for event in events if isinstance(event, PlantingLate)},
        missing={event.planting_code: event.until for event in events if isinstance(event, NotDelivered)},
        wished=frozenset(wish.code for wish in book.wishes),
        beds=frozenset(bed.code for bed in book.beds),
    )


def _fate(one: Planting, told: _Told, today: date) -> tuple[_Fate, str]:
    """What becomes of a planting, and a sentence on it where the events do not say it already."""
    bed = one.bed_code
    if in_ground_before(one, today):
        if one.code in told.failed:
            return "lost", ""
        gone = bed in told.lost_beds and one.dates.clear_by >= today
        return ("lost", f"Bed {bed} is lost.") if gone else ("stands", "")
    unplaced = _unplaced(one, told)
    if unplaced is not None:
        return "lost", unplaced
    return ("stands" if bed in told.closed else "rest"), ""


def _unplaced(one: Planting, told: _Told) -> str | None:
    """Why something planned cannot stay, empty where an event says it; None if it can."""
    bed, reason = one.bed_code, None
    if one.code in told.late or (one.code in told.missing and not _in_time(one, told.missing[one.code])):
        reason = ""
    if bed in told.refused:
        reason = f"Bed {bed} cannot be planted any more."
    if bed not in told.beds:
        reason = f"The book no longer has bed {bed}."
    if one.wish_code not in told.wished:
        reason = "The book no longer asks for it."
    return reason


def _not_before(plan: SeasonPlan, told: _Told) -> dict[str, date]:
    """Request code to the first day it may go in, where something planned is late."""
    found: dict[str, date] = {}
    for one in plan.plantings:
        if one.code in told.late:
            first = one.dates.in_ground + timedelta(days=round(told.late[one.code] * DAYS_A_WEEK))
            found[request_of(one)] = max(first, found.get(request_of(one), first))
    return found


def delayed(planting: Planting, weeks: float) -> Planting:
    """A standing planting that is picked and cleared so many weeks later."""
    by = timedelta(days=round(weeks * DAYS_A_WEEK))
    dates: DateChoice = planting.dates
    return replace(
        planting,
        dates=replace(
            dates,
            first_pick=dates.first_pick + by,
            first_pick_early=dates.first_pick_early + by,
            first_pick_late=dates.first_pick_late + by,
            last_pick=dates.last_pick + by,
            clear_by=dates.clear_by + by,
        ),
    )


def _in_time(planting: Planting, until: date | None) -> bool:
    return until is not None and (planting.dates.sow_under_cover or planting.dates.in_ground) >= until


def _closed_beds(plan: SeasonPlan, book: GardenBook, events: Sequence[Event]) -> frozenset[str]:
    """Beds to leave alone: those of the book and of the plan, with what the events say."""
    known = {bed.code for bed in book.beds}
    closed = {*book.leave_alone, *plan.book.leave_alone} & known
    for event in events:
        if isinstance(event, BedLost | BedClosed):
            closed.add(event.bed_code)
        elif isinstance(event, BedOpened):
            closed.discard(event.bed_code)
    return frozenset(closed)


def _book_now(book: GardenBook, closed: frozenset[str], events: Sequence[Event], today: date) -> GardenBook:
    people: tuple[HelpingHands, ...] = book.people
    for event in events:
        if isinstance(event, HoursChanged):
            people = tuple(part for hands in people for part in _fewer_hours(hands, event.share, today))
    alone = tuple(bed.code for bed in book.beds if bed.code in closed)
    return replace(book, people=people, leave_alone=alone)


def _fewer_hours(hands: HelpingHands, share: float, today: date) -> Iterator[HelpingHands]:
    """Promised hours as they were until yesterday, and their share from today on."""
    if hands.start < today:
        yield replace(hands, end=min(hands.end, today - timedelta(days=1)))
    if hands.end >= today:
        yield replace(hands, start=max(hands.start, today), hours_per_week=hands.hours_per_week * share)


def _faults(plan: SeasonPlan, book: GardenBook, event: Event, today: date) -> Iterator[str]:
    if isinstance(event, BedLost | BedClosed | BedOpened):
        if event.bed_code not in {bed.code for bed in book.beds}:
            yield f"There is no bed {event.bed_code} in the book."
        return
    if isinstance(event, HoursChanged):
        if not book.people:
            yield "The book promises no hours, so a share of them says nothing."
        if event.share < 0:
            yield f"{event.share:g} is no share of the hours: it must be 0 or more."
        return
    found = next((one for one in plan.plantings if one.code == event.planting_code), None)
    if found is None:
        yield f"There is no planting {event.planting_code} in the plan."
    elif found.dates.clear_by < today and not isinstance(event, NotDelivered):
        yield f"{found.code} was cleared by {plain_day(found.dates.clear_by)}."
    elif isinstance(event, PlantingFailed) and not in_ground_before(found, today):
        yield (
            f"{found.code} goes in on {plain_day(found.dates.in_ground)} and cannot have failed "
            f"before {plain_day(today)}."
        )
    elif isinstance(event, PlantingLate) and event.weeks <= 0:
        yield f"{found.code}: {event.weeks:g} weeks late is not late."
    elif isinstance(event, NotDelivered) and begun_before(found, today):
        yield f"{found.code} was begun before {plain_day(today)}, so its seed was there."


def _reasons(plan: SeasonPlan, events: Sequence[Event]) -> Iterator[tuple[str, str]]:
    for event in events:
        if isinstance(event, PlantingFailed | PlantingLate | NotDelivered):
            yield event.planting_code, _sentence(plan, event)


def _sentence(plan: SeasonPlan, event: Event) -> str:
    match event:
        case BedLost(bed_code):
            text = f"Bed {bed_code} is lost."
        case BedClosed(bed_code):
            text = f"Nothing more goes into bed {bed_code}."
        case BedOpened(bed_code):
            text = f"Bed {bed_code} may be planted."
        case HoursChanged(share):
            text = f"{share:.0%} of the hours promised can be counted on."
        case PlantingFailed(code):
            text = f"{_named(plan, code)} failed."
        case PlantingLate(code, weeks):
            number = f"{weeks:g} {'week' if weeks == 1 else 'weeks'}"
            text = f"{_named(plan, code)} is {number} late."
        case NotDelivered(code, until):
            when = "was not delivered" if until is None else f"comes on {plain_day(until)} only"
            text = f"{_named(plan, code)}: what it is grown from {when}."
    return text


def _named(plan: SeasonPlan, code: str) -> str:
    planting = next(one for one in plan.plantings if one.code == code)
    return f"{planting.crop.name.capitalize()} ({code}) in bed {planting.bed_code}"
