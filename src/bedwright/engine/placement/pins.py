"""What the coordinator has settled: pins narrow what is asked for before any place is sought."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.engine.placement.rules import STEP_M
from bedwright.model.book import GardenBook, Pin
from bedwright.model.season import PlantingRequest

NEAR_DAYS = 3
"""A pinned day stands for the date worked out nearest to it, within so many days."""


class PinRefusedError(ValueError):
    """Pins that no plan can keep; each named with the reason and what would do."""


@dataclass(frozen=True, slots=True)
class PinnedRequests:
    """Requests as the pins leave them."""

    requests: tuple[PlantingRequest, ...]
    starts_m: Mapping[str, Mapping[str, tuple[float, ...]]]
    """Request code to bed code to where its ground may start; free where nothing is named."""


def request_code_of(code: str, known: Mapping[str, PlantingRequest]) -> str | None:
    """Code of the request that a planting's code belongs to; None if there is none."""
    if code in known:
        return code
    head, _, tail = code.rpartition("-")
    return head if head in known and tail.isalnum() else None


def pinned_requests(
    book: GardenBook, requests: Sequence[PlantingRequest], pins: Sequence[Pin]
) -> PinnedRequests:
    """Narrow requests to what is pinned.

    Raises
    ------
    PinRefusedError
        If a pin names a planting, bed or day that is not there, or more plants than wanted;
        all such pins at once.
    """
    known = {request.code: request for request in requests}
    faults = [fault for pin in pins for fault in _faults(book, known, pin)]
    if faults:
        raise PinRefusedError("\n".join(faults))
    by_request: dict[str, list[Pin]] = {}
    for pin in pins:
        by_request.setdefault(request_code_of(pin.planting_code, known) or "", []).append(pin)
    narrowed = []
    starts_m: dict[str, dict[str, tuple[float, ...]]] = {}
    for request in requests:
        own = by_request.get(request.code, [])
        narrowed.append(_narrowed(request, own) if own else request)
        starts_m[request.code] = _starts(own)
    return PinnedRequests(tuple(narrowed), starts_m)


def _faults(book: GardenBook, known: Mapping[str, PlantingRequest], pin: Pin) -> Iterator[str]:
    code = request_code_of(pin.planting_code, known)
    if code is None:
        yield f"{pin.planting_code}: no such planting is asked for."
        return
    request = known[code]
    beds = {bed.code: bed for bed in book.beds}
    if pin.bed_code is not None:
        if pin.bed_code not in beds:
            yield f"{pin.planting_code}: there is no bed {pin.bed_code}; beds are {', '.join(beds)}."
        elif pin.bed_code in request.not_beds or (
            request.only_beds and pin.bed_code not in request.only_beds
        ):
            yield f"{pin.planting_code}: your wish rules out bed {pin.bed_code}."
    if pin.along_m is not None:
        if pin.bed_code is None:
            yield f"{pin.planting_code}: a place of {pin.along_m:g} m along needs a bed."
        elif pin.bed_code in beds and not 0 <= pin.along_m < beds[pin.bed_code].frame.length_m:
            yield (
                f"{pin.planting_code}: {pin.along_m:g} m is not on bed {pin.bed_code}, "
                f"{beds[pin.bed_code].frame.length_m:g} m long."
            )
    if pin.in_ground is not None and nearest_choice(request, pin.in_ground) is None:
        days = ", ".join(one.in_ground.isoformat() for one in request.choices) or "none"
        yield f"{pin.planting_code}: {pin.in_ground.isoformat()} is not a date for it; dates are {days}."
    if pin.n_plants is not None and not 1 <= pin.n_plants <= request.n_plants:
        yield f"{pin.planting_code}: {pin.n_plants} plants, but 1 to {request.n_plants} are wanted."


def nearest_choice(request: PlantingRequest, day: date) -> int | None:
    """Index of the date worked out nearest to a day; None if none is near."""
    near = [
        (abs((one.in_ground - day).days), number)
        for number, one in enumerate(request.choices)
        if abs((one.in_ground - day).days) <= NEAR_DAYS
    ]
    return min(near)[1] if near else None


def _narrowed(request: PlantingRequest, pins: Sequence[Pin]) -> PlantingRequest:
    """What all pins of a request settle together; one open pin leaves the matter open."""
    changed = request
    if all(pin.bed_code is not None for pin in pins):
        changed = replace(changed, only_beds=tuple(dict.fromkeys(pin.bed_code or "" for pin in pins)))
    if all(pin.in_ground is not None for pin in pins):
        kept = sorted(
            {
                choice
                for pin in pins
                if pin.in_ground is not None
                and (choice := nearest_choice(request, pin.in_ground)) is not None
            }
        )
        best = kept.index(request.best) if request.best in kept else 0
        changed = replace(changed, choices=tuple(request.choices[number] for number in kept), best=best)
    if all(pin.n_plants is not None for pin in pins):
        total = sum(pin.n_plants or 0 for pin in pins)
        changed = replace(changed, n_plants=min(request.n_plants, total))
    return changed


def _starts(pins: Sequence[Pin]) -> dict[str, tuple[float, ...]]:
    found: dict[str, list[float]] = {}
    for pin in pins:
        if pin.bed_code is not None and pin.along_m is not None:
            start_m = round(round(pin.along_m / STEP_M) * STEP_M, 6)
            found.setdefault(pin.bed_code, []).append(start_m)
    free = {pin.bed_code for pin in pins if pin.along_m is None}
    return {code: tuple(starts) for code, starts in found.items() if code not in free}
