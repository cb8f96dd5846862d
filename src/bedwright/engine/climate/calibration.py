"""Stated chances of frost held against years they were not reckoned from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bedwright.engine.climate.frost import CHANCES_PCT, THRESHOLDS_C, FrostDays, FrostSeason, frost_days
from bedwright.model.weather import WeatherRecord

Years = tuple[int, int]
"""First and last year, both included."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """One stated chance and how often frost then came."""

    station: str
    season: FrostSeason
    threshold_c: float
    chance_pct: int
    happened: int
    """Judged years with frost later than the stated day (spring), or on or before it (autumn)."""
    judged: int
    """Judged years."""


def frost_verdicts(
    record: WeatherRecord,
    station: str,
    *,
    southern: bool,
    fitted: Years,
    judged: Years,
) -> tuple[Verdict, ...]:
    """Frost dates reckoned from some years, judged on others.

    Parameters
    ----------
    record : WeatherRecord
        Without gaps in the minimum.
    station : str
        Name for the verdicts.
    southern : bool
        True south of the equator.
    fitted, judged : Years
        Years in which the half-years start; they must not overlap.

    Returns
    -------
    tuple of Verdict
        For each season, threshold and chance whose date can be stated.

    Raises
    ------
    ValueError
        If the spans overlap.

    Limits
    ------
    Ten judged years tell a chance of 20 % from one of 10 % only when pooled over thresholds, and
    the thresholds of one year are not independent.
    """
    if fitted[0] <= judged[1] and judged[0] <= fitted[1]:
        raise ValueError(f"fitted years {fitted} and judged years {judged} overlap")
    verdicts: list[Verdict] = []
    for days in _all_frost_days(record, southern=southern):
        known, new = _only(days, fitted), _only(days, judged)
        for chance in CHANCES_PCT:
            day = known.day_at_chance(chance)
            if day is not None:
                happened = round(new.chance_pct(day) / 100 * new.n_years)
                verdicts.append(_verdict(station, days, chance, happened, new.n_years))
    return tuple(verdicts)


def leave_one_out_verdicts(record: WeatherRecord, station: str, *, southern: bool) -> tuple[Verdict, ...]:
    """Each year judged by the frost dates of all the others: shows the method without a trend in time.

    Parameters
    ----------
    record : WeatherRecord
        Without gaps in the minimum.
    station : str
        Name for the verdicts.
    southern : bool
        True south of the equator.

    Returns
    -------
    tuple of Verdict
        For each season, threshold and chance whose date can be stated in every year.
    """
    verdicts: list[Verdict] = []
    for days in _all_frost_days(record, southern=southern):
        for chance in CHANCES_PCT:
            hits = [_hit_when_left_out(days, chance, index) for index in range(days.n_years)]
            counted = [hit for hit in hits if hit is not None]
            if len(counted) == days.n_years:
                verdicts.append(_verdict(station, days, chance, sum(counted), days.n_years))
    return tuple(verdicts)


def markdown_table(verdicts: Sequence[Verdict]) -> str:
    """Verdicts as a table: a line for each station, season and threshold, then all pooled.

    A cell says in how many of the judged years frost came.
    """
    heads = " | ".join(f"stated {chance} %" for chance in CHANCES_PCT)
    lines = [
        f"| station | season | threshold | {heads} |",
        "| --- | --- | ---: |" + " ---: |" * len(CHANCES_PCT),
    ]
    groups = dict.fromkeys((v.station, v.season, v.threshold_c) for v in verdicts)
    for station, season, threshold_c in groups:
        of_group = [
            v for v in verdicts if (v.station, v.season, v.threshold_c) == (station, season, threshold_c)
        ]
        lines.append(f"| {station} | {season} | {threshold_c:.1f} °C | {_cells(of_group)} |")
    lines.extend(
        f"| {station} | both | all | {_cells([v for v in verdicts if v.station == station])} |"
        for station in dict.fromkeys(v.station for v in verdicts)
    )
    lines.append(f"| all | both | all | {_cells(verdicts, as_share=True)} |")
    return "\n".join(lines)


def _cells(verdicts: Sequence[Verdict], *, as_share: bool = False) -> str:
    cells = []
    for chance in CHANCES_PCT:
        of_chance = [v for v in verdicts if v.chance_pct == chance]
        happened, judged = sum(v.happened for v in of_chance), sum(v.judged for v in of_chance)
        share = f" ({happened / judged:.0%})" if as_share and judged else ""
        cells.append(f"{happened} of {judged}{share}" if judged else "–")
    return " | ".join(cells)


def _all_frost_days(record: WeatherRecord, *, southern: bool) -> list[FrostDays]:
    seasons: tuple[FrostSeason, FrostSeason] = ("spring", "autumn")
    return [
        frost_days(record.dates, record.tmin_c, threshold_c, season, southern=southern)
        for season in seasons
        for threshold_c in THRESHOLDS_C
    ]


def _only(days: FrostDays, years: Years) -> FrostDays:
    keep = [index for index, year in enumerate(days.years) if years[0] <= year <= years[1]]
    return _at(days, keep)


def _at(days: FrostDays, indices: list[int]) -> FrostDays:
    return replace(
        days,
        years=tuple(days.years[index] for index in indices),
        day=days.day[indices],
        dates=tuple(days.dates[index] for index in indices),
    )


def _hit_when_left_out(days: FrostDays, chance_pct: int, left_out: int) -> bool | None:
    day = _at(days, [i for i in range(days.n_years) if i != left_out]).day_at_chance(chance_pct)
    if day is None:
        return None
    return _at(days, [left_out]).chance_pct(day) > 0


def _verdict(station: str, days: FrostDays, chance_pct: int, happened: int, judged: int) -> Verdict:
    return Verdict(station, days.half.season, days.threshold_c, chance_pct, happened, judged)
