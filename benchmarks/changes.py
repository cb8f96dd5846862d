"""Making a plan again and moving blocks by hand, against planning anew with the same things standing.

On the example garden and on gardens of 12 beds and 60 plantings made by the recipe of
`benchmarks/quality/gardens.py`: seconds of a core, share of what was lost that is put back, also
as a share of what planning anew puts back (as far as ground allows), share of the rest that is
moved. Then blocks dropped at random in their own and in other beds with up to 8 others.
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.engine.placement import Placement, place
from bedwright.engine.placement.changes import (
    Ground,
    MoveRefusedError,
    Replanned,
    move_planting,
    move_table,
    replan,
)
from bedwright.engine.placement.terms import WORTH_BY_PRIORITY
from bedwright.model.book import GardenBook, HelpingHands, Wish
from bedwright.model.changes import (
    BedClosed,
    BedLost,
    Event,
    HoursChanged,
    NotDelivered,
    PlantingFailed,
    PlantingLate,
)
from bedwright.model.crop import Catalogue
from bedwright.model.light import BedLight
from bedwright.model.season import Planting, PlantingRequest, SeasonPlan
from benchmarks.placement import example_garden
from benchmarks.quality.gardens import made_garden

SEEDS = (1, 2, 3, 4, 5)
EARLY, MIDDLE = date(2027, 3, 1), date(2027, 5, 24)
N_HIT = 3
"""Plantings that fail, are late or lack seed at once."""
N_DROPS = 60
MOST_OTHERS = 8
PEOPLE = (HelpingHands("promised", 10.0, date(2026, 11, 1), date(2028, 12, 31)),)


@dataclass(frozen=True, slots=True, eq=False)
class Case:
    """A garden with its plan."""

    name: str
    plan: SeasonPlan
    requests: tuple[PlantingRequest, ...]
    light: tuple[BedLight, ...]
    catalogue: Catalogue


@dataclass(frozen=True, slots=True)
class Outcome:
    """One event on one garden."""

    spent_s: float
    anew_s: float
    put_back: float
    anew_put_back: float
    moved: float
    anew_moved: float


def cases() -> Iterator[Case]:
    """The example and the gardens made up, each planned once."""
    book, requests, light, catalogue = example_garden()
    yield planned("example", book, requests, light, catalogue)
    for seed in SEEDS:
        garden = made_garden(12, 60, seed)
        wishes = tuple(
            Wish(one.wish_code, one.crop.name, one.amount, priority=one.priority) for one in garden.requests
        )
        book = replace(garden.book, wishes=wishes, people=PEOPLE, pins=(), leave_alone=())
        yield planned(garden.name, book, garden.requests, garden.light, garden.catalogue)


def planned(
    name: str,
    book: GardenBook,
    requests: tuple[PlantingRequest, ...],
    light: tuple[BedLight, ...],
    catalogue: Catalogue,
) -> Case:
    """A garden with its plan."""
    made = anew(book, requests, light, catalogue)
    plan = SeasonPlan(
        schema_version=1,
        revision="0" * 8,
        made_on=date(2026, 12, 1),
        seed=1,
        book=book,
        climate=None,
        sun=(),
        plantings=made.plantings,
        shortfalls=made.shortfalls,
        tasks=(),
        orders=(),
        warnings=(),
    )
    return Case(name, plan, requests, light, catalogue)


def anew(
    book: GardenBook,
    requests: Sequence[PlantingRequest],
    light: Sequence[BedLight],
    catalogue: Catalogue,
    standing: Sequence[Planting] = (),
) -> Placement:
    """The peer: places sought from the beginning round what stands."""
    return place(
        book,
        requests,
        light,
        catalogue.neighbours,
        dict(catalogue.crops),
        seed=1,
        standing=standing,
        closed_beds=book.leave_alone,
        prove=False,
    )


def events_of(plan: SeasonPlan, today: date, rng: random.Random) -> Iterator[tuple[str, tuple[Event, ...]]]:
    """Each kind of event once."""
    growing = [one for one in plan.plantings if one.dates.in_ground < today <= one.dates.clear_by]
    to_begin = [one for one in plan.plantings if (one.dates.sow_under_cover or one.dates.in_ground) >= today]
    by_bed = {bed.code: sum(one.bed_code == bed.code for one in plan.plantings) for bed in plan.book.beds}
    fullest = max(by_bed, key=lambda code: by_bed[code])
    yield "bed lost", (BedLost(fullest),)
    yield "bed closed", (BedClosed(fullest),)
    if len(growing) >= N_HIT:
        yield "crops failed", tuple(PlantingFailed(one.code) for one in rng.sample(growing, N_HIT))
    if len(to_begin) >= N_HIT:
        yield "three weeks late", tuple(PlantingLate(one.code, 3.0) for one in rng.sample(to_begin, N_HIT))
        yield "not delivered", tuple(NotDelivered(one.code) for one in rng.sample(to_begin, N_HIT))
    yield "half the hours", (HoursChanged(0.5),)


def worth_back(lost: Sequence[Planting], plantings: Sequence[Planting], book: GardenBook) -> float:
    """Share of lost plants that stand again, each planting weighed by its wish."""
    priority = {wish.code: wish.priority for wish in book.wishes}
    total = back = 0.0
    for one in lost:
        code = one.request_code or one.code
        worth = WORTH_BY_PRIORITY[priority.get(one.wish_code, 3)]
        n_now = sum(new.n_plants for new in plantings if (new.request_code or new.code) == code)
        n_then = sum(old.n_plants for old in lost if (old.request_code or old.code) == code)
        total += worth
        back += worth * min(1.0, n_now / n_then)
    return back / total if total else 1.0


def measured(case: Case, today: date, events: Sequence[Event]) -> Outcome:
    """One event: made again, and planned anew."""
    plan, catalogue = case.plan, case.catalogue
    started = time.process_time()
    made: Replanned = replan(
        plan,
        plan.book,
        case.requests,
        case.light,
        catalogue.neighbours,
        catalogue.crops,
        events,
        today=today,
    )
    spent_s = time.process_time() - started
    started = time.process_time()
    peer = anew(made.book, made.requests, case.light, catalogue, made.standing)
    anew_s = time.process_time() - started
    lost_codes = {change.planting_code for change in made.changes if change.why} & _hit(plan, events)
    lost = [one for one in plan.plantings if one.code in lost_codes]
    stood = {one.code for one in made.standing}
    rest = [one for one in plan.plantings if one.code not in lost_codes and one.code not in stood]
    kept = {(one.request_code or one.code, one.bed_code, one.along_m, one.dates) for one in peer.plantings}
    anew_moved = sum(
        (one.request_code or one.code, one.bed_code, one.along_m, one.dates) not in kept for one in rest
    )
    return Outcome(
        spent_s,
        anew_s,
        worth_back(lost, made.plantings, plan.book),
        worth_back(lost, peer.plantings, plan.book),
        made.n_moved / max(1, made.n_rest),
        anew_moved / max(1, len(rest)),
    )


def _hit(plan: SeasonPlan, events: Sequence[Event]) -> set[str]:
    """Codes of the plantings an event is about."""
    beds = {event.bed_code for event in events if isinstance(event, BedLost | BedClosed)}
    codes = {event.planting_code for event in events if isinstance(event, PlantingFailed | PlantingLate)}
    return codes | {one.code for one in plan.plantings if one.bed_code in beds}


def print_events(found: dict[str, list[Outcome]]) -> None:
    """A line for each kind of event."""
    print(
        "event              n   made again: s (worst)  times faster  put back  "
        "of what anew puts back (worst)  moved (anew)"
    )
    for kind, outcomes in found.items():
        spent = [one.spent_s for one in outcomes]
        faster = statistics.median(one.anew_s / one.spent_s for one in outcomes)
        back = statistics.median(one.put_back for one in outcomes)
        ratios = [
            min(1.0, one.put_back / one.anew_put_back) if one.anew_put_back else 1.0 for one in outcomes
        ]
        moved = statistics.median(one.moved for one in outcomes)
        anew_moved = statistics.median(one.anew_moved for one in outcomes)
        print(
            f"{kind:17s} {len(outcomes):3d}   {statistics.median(spent):8.2f} ({max(spent):.2f})"
            f"{faster:17.1f}{back:13.0%}{statistics.median(ratios):16.0%} ({min(ratios):.0%})"
            f"{moved:20.1%} ({anew_moved:.0%})"
        )


@dataclass(frozen=True, slots=True)
class Drop:
    """One block dropped."""

    spent_s: float
    proven: bool
    fits: bool
    n_others: int
    """Other plantings of the bed."""


def drops(case: Case, rng: random.Random) -> list[Drop]:
    """Blocks dropped at random."""
    plan = case.plan
    ground = Ground(case.light, case.catalogue.neighbours, case.catalogue.crops)
    ready = move_table(plan, case.requests, ground, today=plan.made_on)
    n_in = {bed.code: len(plan.in_bed(bed.code)) for bed in plan.book.beds}
    found: list[Drop] = []
    while len(found) < N_DROPS:
        planting = rng.choice(plan.plantings)
        bed = rng.choice([planting.bed_code, rng.choice(plan.book.beds).code])
        n_others = n_in[bed] - (bed == planting.bed_code)
        if n_others > MOST_OTHERS:
            continue
        along_m = rng.uniform(0, plan.book.bed(bed).frame.length_m)
        started = time.process_time()
        try:
            moved = move_planting(ready, planting.code, bed, along_m)
        except MoveRefusedError:
            continue
        spent_s = time.process_time() - started
        found.append(Drop(spent_s, moved.proven, not moved.left_out, n_others))
    return found


def print_drops(found: Sequence[Drop], anew_s: float) -> None:
    """What the drops took, by what came of them and by the number of other blocks."""
    parts = {
        "all": list(found),
        "all blocks found ground": [one for one in found if one.fits],
        "something left the bed": [one for one in found if not one.fits],
        "up to 3 others": [one for one in found if one.n_others <= 3],
        "4 or 5 others": [one for one in found if 4 <= one.n_others <= 5],
        "6 to 8 others": [one for one in found if one.n_others >= 6],
    }
    for name, part in parts.items():
        if part:
            spent_ms = sorted(1000 * one.spent_s for one in part)
            p95_ms = spent_ms[int(0.95 * len(spent_ms))]
            print(
                f"{name:24s} {len(part):4d} blocks dropped: median {statistics.median(spent_ms):.0f} ms, "
                f"95 of 100 within {p95_ms:.0f} ms of a core; "
                f"proven best {sum(one.proven for one in part) / len(part):.0%} "
                f"({1000 * anew_s / p95_ms:.0f} times faster than planning anew)"
            )


def main() -> None:
    found: dict[str, list[Outcome]] = {}
    dropped: list[Drop] = []
    anew_s: list[float] = []
    for case in cases():
        # The first run of a process reads the machine code.
        measured(case, MIDDLE, (BedClosed(case.plan.book.beds[0].code),))
        rng = random.Random(case.name)
        for today in (EARLY, MIDDLE):
            for kind, events in events_of(case.plan, today, rng):
                outcome = measured(case, today, events)
                found.setdefault(kind, []).append(outcome)
                anew_s.append(outcome.anew_s)
        dropped += drops(case, rng)
        print(f"{case.name}: {len(case.plan.plantings)} plantings, {len(case.plan.shortfalls)} short")
    print_events(found)
    print_drops(dropped, statistics.median(anew_s))


if __name__ == "__main__":
    main()
