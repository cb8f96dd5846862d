"""Ground that nothing follows on, and the cover crop that can still be sown there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from bedwright.engine.placement.words import plain_day
from bedwright.engine.timing import plan_dates
from bedwright.model.book import Amount, Bed, GardenBook, Wish
from bedwright.model.crop import Crop
from bedwright.model.season import DateChoice, Planting
from bedwright.model.weather import SeasonYears

LEAST_M = 0.8
"""A shorter stretch is not worth the seed. Common practice, no source."""
PREPARED_DAYS = 2
"""Ground is cleared so many days before it is sown. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class BareGround:
    """A stretch of a bed over its full width that stays free to the end of the plan."""

    bed_code: str
    length_m: float
    free_from: date
    crop: str
    """Cover crop that covers most of it."""
    sown_by: date
    """Its last useful sowing."""


def bare_ground(
    book: GardenBook,
    plantings: Sequence[Planting],
    crops: Mapping[str, Crop],
    years: SeasonYears | None,
    *,
    today: date,
) -> tuple[BareGround, ...]:
    """What of each bed could still be sown to a cover crop, once the last crop is off.

    Parameters
    ----------
    book, crops, years, today
        As for `plan_dates`.
    plantings
        The plan.

    Returns
    -------
    tuple of BareGround
        One a bed at most, the longest stretch; beds left alone are passed over.
    """
    cover = [crop.name for crop in crops.values() if crop.kind == "cover crop"]
    wishes = tuple(Wish(code=name, crop=name, amount=Amount(1.0, "row_m")) for name in cover)
    dated = plan_dates(replace(book, wishes=wishes), crops, years, today=today) if wishes else ()
    choices = {one.crop.name: one.choices for one in dated if one.choices}
    found = []
    for bed in book.beds:
        if bed.code not in book.leave_alone:
            in_bed = [one for one in plantings if one.bed_code == bed.code]
            best = max(_stretches(bed, in_bed, choices), key=_rank, default=None)
            if best is not None:
                found.append(best)
    return tuple(found)


def _rank(one: BareGround) -> tuple[float, int, int]:
    """The longest stretch, then the earliest; of several crops the one that can wait longest."""
    return round(one.length_m, 2), -one.free_from.toordinal(), one.sown_by.toordinal()


def _stretches(
    bed: Bed, plantings: Sequence[Planting], choices: Mapping[str, Sequence[DateChoice]]
) -> Iterator[BareGround]:
    for name, days in choices.items():
        last = days[-1].in_ground
        for low, high in _free(bed.frame.length_m, plantings, last - timedelta(days=PREPARED_DAYS)):
            if high - low >= LEAST_M:
                before = [
                    one.dates.clear_by for one in plantings if one.along_m[0] < high and one.along_m[1] > low
                ]
                free_from = max(before, default=days[0].in_ground - timedelta(days=1)) + timedelta(days=1)
                yield BareGround(bed.code, high - low, max(free_from, days[0].in_ground), name, last)


def _free(length_m: float, plantings: Sequence[Planting], day: date) -> Iterator[tuple[float, float]]:
    """Stretches on which nothing stands from a day on."""
    reached = 0.0
    for low, high in sorted(one.along_m for one in plantings if one.dates.clear_by >= day):
        if low > reached:
            yield reached, low
        reached = max(reached, high)
    if length_m > reached:
        yield reached, length_m


def bare_ground_words(found: Sequence[BareGround]) -> Iterator[str]:
    """One sentence on all of it, crop by crop; nothing where there is none."""
    if found:
        by_crop: dict[tuple[date, str], list[str]] = {}
        for one in found:
            where = f"bed {one.bed_code} {one.length_m:.1f} m from {_short_day(one.free_from)}"
            by_crop.setdefault((one.sown_by, one.crop), []).append(where)
        told = "; ".join(
            f"{crop} by {plain_day(day)}: {', '.join(beds)}" for (day, crop), beds in sorted(by_crop.items())
        )
        yield f"Nothing follows on some ground, and a cover crop could still be sown there: {told}."


def _short_day(day: date) -> str:
    return plain_day(day).rsplit(" ", maxsplit=1)[0]
