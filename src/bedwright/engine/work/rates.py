"""The labour table: minutes of work by job, each bound with its origin.

Time studies find very large differences between farms for the same job, so every rate is a
range. Own records go before the table.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from bedwright.engine.work.sources import WORK_MEMORY, WORK_PRACTICE
from bedwright.model.book import StatedRate
from bedwright.model.source import Origin, Standing
from bedwright.model.units import cubic_yards_to_m3, pounds_to_kg, square_feet_to_m2
from bedwright.model.work import LabourRate, OwnRate, RatePer, WorkRecord

MULCH_DEPTH_M = 0.05
"""Depth a mulch is spread at: common practice, no source."""
WEEDING_EVERY_WEEKS = (6.0, 4.0, 1.5)
"""Weeks between weedings: mulched, usual, weedy. Chosen here so that a bed's whole work stays
near the published totals of gardens; no source of its own."""

Bound = tuple[float, str, str, Standing]
"""Minutes, rule in words, source id, standing."""


def _guess(minutes: float) -> Bound:
    return minutes, "from memory: a first guess", WORK_MEMORY, "memory"


def _rate(
    name: str,
    kind: str,
    per: RatePer,
    bounds: tuple[Bound, Bound, Bound],
    *,
    weekly: bool = False,
    practised: bool = True,
) -> LabourRate:
    unit = f"min_per_{per}_week" if weekly else f"min_per_{per}"
    low, likely, high = (round(bound[0], 2) for bound in bounds)
    origins = tuple(
        Origin(f"{word}_{unit}", round(minutes, 2), rule, (source_id,), standing)
        for word, (minutes, rule, source_id, standing) in zip(("low", "likely", "high"), bounds, strict=True)
    )
    return LabourRate(name, kind, per, weekly, low, likely, high, practised, origins)


def _guessed(
    name: str, per: RatePer, low: float, likely: float, high: float, *, kind: str = "", weekly: bool = False
) -> LabourRate:
    bounds = (_guess(low), _guess(likely), _guess(high))
    return _rate(name, kind or name, per, bounds, weekly=weekly)


def _prepare() -> LabourRate:
    dug = 75 / square_feet_to_m2(80)
    raked = 240 / 12
    double = 360 / square_feet_to_m2(100)
    return _rate(
        "prepare",
        "prepare",
        "m2",
        (
            (dug, "80 ft² dug one spit in 75 min", "CITYROOTS_DIG", "derived"),
            (raked, "12 m² cleared, dug, composted and raked in half a day", "GETGROWING_BED", "derived"),
            (double, "100 ft² dug two spits in 6 h", "NATURESPACE_DIG", "derived"),
        ),
    )


def _weeded_every(weeks: float) -> Bound:
    rule = f"5 min/m² a weeding (60 min for 12 m²); every {weeks:g} weeks is a choice of our own"
    return 60 / 12 / weeks, rule, "GETGROWING_BED", "practice"


def _weed() -> LabourRate:
    low, likely, high = (_weeded_every(weeks) for weeks in WEEDING_EVERY_WEEKS)
    return _rate("weed", "weed", "m2", (low, likely, high), weekly=True)


def _water() -> LabourRate:
    hose = 10 / square_feet_to_m2(54)
    return _rate(
        "water",
        "water",
        "m2",
        (
            (0.0, "a week with enough rain", WORK_PRACTICE, "practice"),
            (hose, "10 min of hose for 54 ft² in a week without rain", "ROBBINS_WATER", "derived"),
            (5.0, "5 min/m² in a hot dry week", "OURLAND_WATER", "weak"),
        ),
        weekly=True,
        # A hose runs no faster in practised hands.
        practised=False,
    )


def _mulch() -> LabourRate:
    yards_per_m2 = MULCH_DEPTH_M / cubic_yards_to_m3(1)
    deep = f"at {100 * MULCH_DEPTH_M:.0f} cm (2 in) deep"
    return _rate(
        "mulch",
        "mulch",
        "m2",
        (
            (45 * yards_per_m2, f"45 min a cubic yard, {deep}", "MULCH_RANGE", "derived"),
            (60 * yards_per_m2, f"1 h a cubic yard, {deep}", "MULCH_YARD", "derived"),
            (120 * yards_per_m2, f"2 h a cubic yard, {deep}", "MULCH_RANGE", "derived"),
        ),
    )


def _pick() -> LabourRate:
    farm = 5 * 7 * 60 / pounds_to_kg(5000)
    quick: Bound = (
        farm,
        "5000 lb by five people in seven hours, all crops mixed",
        "FOODBANK_FARM",
        "derived",
    )
    return _rate("pick", "pick", "kg", (quick, _guess(3.0), _guess(8.0)))


def _pick_by_ground() -> LabourRate:
    low, high = 0.28 * 1247 * 60 / 10000, 0.63 * 1964 * 60 / 10000
    return _rate(
        "pick by ground",
        "pick",
        "m2",
        (
            (low, "28 % of 1247 h/ha", "JAUPR_LABOUR", "derived"),
            ((low + high) / 2, "middle of low and high", "JAUPR_LABOUR", "derived"),
            (high, "63 % of 1964 h/ha", "JAUPR_LABOUR", "derived"),
        ),
    )


def _set_out() -> LabourRate:
    # The range runs from practised hands to novices, so it is not multiplied again.
    bounds = (_guess(0.3), _guess(1.0), _guess(1.5))
    return _rate("set out", "set out", "plant", bounds, practised=False)


RATES: Mapping[str, LabourRate] = {
    rate.name: rate
    for rate in (
        _prepare(),
        _guessed("sow under cover", "tray", 5, 10, 20),
        _guessed("raise", "tray", 3.5, 7, 14, weekly=True),
        _guessed("harden off", "tray", 5, 10, 20),
        _guessed("sow", "row_m", 1, 2, 4),
        _set_out(),
        _guessed("thin", "row_m", 0.75, 1.5, 3),
        _weed(),
        _water(),
        _mulch(),
        _guessed("cover", "m2", 0.5, 1, 2),
        _guessed("support with canes", "plant", 1, 2, 4, kind="support"),
        _guessed("support along rows", "row_m", 2, 4, 8, kind="support"),
        _guessed("earth up", "row_m", 1, 2, 4),
        _guessed("side dress", "row_m", 0.5, 1, 2),
        _pick(),
        _pick_by_ground(),
        _guessed("picking visit", "visit", 1, 3, 5, kind="pick"),
        _guessed("cut down", "m2", 1, 2, 4),
        _guessed("clear", "m2", 2.5, 5, 10),
        _guessed("order", "order", 5, 15, 30),
    )
}
"""Every rate by name."""

FEW_RECORDS = 3
"""Below this number of own records the table's spread is kept round the own figure."""


def with_own_rates(
    own_rates: Iterable[OwnRate], rates: Mapping[str, LabourRate] = RATES
) -> dict[str, LabourRate]:
    """The table with own rates in place of its own.

    Raises
    ------
    ValueError
        If an own rate names no rate of the table, or its figures are not in order.
    """
    found = dict(rates)
    for own in own_rates:
        if own.rate_name not in found:
            raise ValueError(f"there is no labour rate {own.rate_name!r}; known are {', '.join(rates)}")
        if not 0 <= own.low_min <= own.likely_min <= own.high_min:
            raise ValueError(f"own rate {own.rate_name}: low, likely, high must rise; got {own}")
        found[own.rate_name] = _overwritten(found[own.rate_name], own)
    return found


def rates_in_use(
    stated: Iterable[StatedRate], own_rates: Iterable[OwnRate], rates: Mapping[str, LabourRate] = RATES
) -> dict[str, LabourRate]:
    """The table with what the garden book states in its place, and own records before both.

    Raises
    ------
    ValueError
        As `with_own_rates`.
    """
    return with_own_rates((*(_stated(each, rates) for each in stated), *own_rates), rates)


def _stated(stated: StatedRate, rates: Mapping[str, LabourRate]) -> OwnRate:
    """A stated rate; without a stated range the table's spread is kept round it."""
    if stated.low_min is not None and stated.high_min is not None:
        return OwnRate(stated.job, stated.low_min, stated.likely_min, stated.high_min, 0)
    low, high = _table_spread(rates[stated.job], stated.likely_min)
    return OwnRate(stated.job, low, stated.likely_min, high, 0)


def _table_spread(rate: LabourRate, likely: float) -> tuple[float, float]:
    return likely * rate.low_min / rate.likely_min, likely * rate.high_min / rate.likely_min


def _overwritten(rate: LabourRate, own: OwnRate) -> LabourRate:
    times = "record" if own.n_records == 1 else "records"
    rule = f"own log, {own.n_records} {times}" if own.n_records else "stated in the garden book"
    unit = f"min_per_{rate.per}_week" if rate.weekly else f"min_per_{rate.per}"
    figures = {"low": own.low_min, "likely": own.likely_min, "high": own.high_min}
    return replace(
        rate,
        low_min=own.low_min,
        likely_min=own.likely_min,
        high_min=own.high_min,
        # Own people were timed, so nothing is multiplied for volunteers.
        practised=False,
        origins=tuple(Origin(f"{word}_{unit}", value, rule, (), "own") for word, value in figures.items()),
    )


def own_rates_of(
    records: Sequence[WorkRecord], rates: Mapping[str, LabourRate] = RATES
) -> tuple[OwnRate, ...]:
    """Rates learnt from the log, one for each job that has records.

    Likely is all minutes over all units. With three records or more, low and high are the
    quickest and the slowest of them; with fewer, the table's spread is kept round the
    likely figure, since one or two timings say nothing of the range.

    Raises
    ------
    ValueError
        If a record names no rate, or its quantity or minutes are not above 0.
    """
    grouped: dict[str, list[WorkRecord]] = {}
    for record in records:
        if record.rate_name not in rates:
            raise ValueError(f"there is no labour rate {record.rate_name!r}; known are {', '.join(rates)}")
        if not (record.quantity > 0 and record.person_min > 0):
            raise ValueError(f"a record needs a quantity and minutes above 0; got {record}")
        grouped.setdefault(record.rate_name, []).append(record)
    return tuple(_own_rate(rates[name], group) for name, group in sorted(grouped.items()))


def _own_rate(rate: LabourRate, records: Sequence[WorkRecord]) -> OwnRate:
    likely = sum(record.person_min for record in records) / sum(record.quantity for record in records)
    if len(records) >= FEW_RECORDS:
        single = [record.person_min / record.quantity for record in records]
        return OwnRate(rate.name, min(single), likely, max(single), len(records))
    low, high = _table_spread(rate, likely)
    return OwnRate(rate.name, low, likely, high, len(records))
