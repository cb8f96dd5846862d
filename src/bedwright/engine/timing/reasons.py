"""Why a date, and why none, in plain words with sources."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Literal

import numpy as np

from bedwright.engine.timing.amounts import used_facts
from bedwright.engine.timing.choices import (
    HARDEN_OFF_DAYS,
    OVERWINTERING_SOIL_C,
    TENDER_AIR_MEAN_C,
    DateTable,
    allowed_days,
)
from bedwright.engine.timing.growth import comes_up, days_in_words, growth_need
from bedwright.engine.timing.outcomes import CAUSES, FROST, SHORT, WEEK_DAYS, counts_plain_days
from bedwright.engine.timing.sources import (
    DEGREE_DAYS,
    FALL_FACTOR,
    FROST_OFFSETS,
    GARLIC_SOIL,
    HARDENING,
    PRACTICE,
    SUNLIGHT,
)
from bedwright.engine.timing.stated import weeks_from_last_frost
from bedwright.model.crop import Crop
from bedwright.model.season import DateChoice
from bedwright.model.source import Origin, Standing

LONG_BEFORE_DAYS = 60
"""A crop further from its first picking than this is not told in days: it would be next year's."""


def plain_date(day: date) -> str:
    """A date as written in a sentence: 5 May 2025."""
    return f"{day.day} {day:%B} {day.year}"


def no_frost_dates_reason() -> str:
    """Why nothing can be dated: neither weather nor frost dates are known."""
    return "The book names neither a weather record nor the usual frost dates, so nothing can be dated."


def past_reason(choices: Sequence[DateChoice], today: date) -> str:
    """Every date that would do has gone by."""
    last = max(choices, key=lambda choice: choice.in_ground)
    begun = last.sow_under_cover or last.in_ground
    word = "sown under cover" if last.sow_under_cover else "in the ground"
    return (
        f"Too late this season: the last useful date to have it {word} was {plain_date(begun)}, "
        f"today is {plain_date(today)}."
    )


def no_weeks_reason(choices: Sequence[DateChoice], harvest_from: date | None, harvest_to: date | None) -> str:
    """No date gives picking in the weeks wanted."""
    first = min(choice.first_pick for choice in choices)
    last = max(choice.last_pick for choice in choices)
    wanted = " ".join(
        f"{word} {plain_date(day)}" for word, day in (("from", harvest_from), ("to", harvest_to)) if day
    )
    return (
        f"Nothing can be picked in the weeks wanted ({wanted}): "
        f"picking here can run from {plain_date(first)} to {plain_date(last)}."
    )


def no_window_reason(table: DateTable, *, frost_risk_pct: float, chance_wanted_pct: float) -> str:
    """Why no date is allowed here, with the share of years behind it.

    Parameters
    ----------
    table
        Of one crop and way.
    frost_risk_pct, chance_wanted_pct
        As for `allowed_days`.
    """
    crop = table.crop
    if not table.season_ready.any():
        limits = f"{crop.soil_temp_min_c:g} °C"
        if crop.soil_temp_max_c is not None and table.way == "sow":
            limits += f" to {crop.soil_temp_max_c:g} °C"
        return f"The soil is in no week of the season usually within what {crop.name} needs ({limits})."
    days = np.flatnonzero(table.season_ready)
    best = int(days[np.argmax(table.chance[days])])
    verb = "sown" if table.way == "sow" else "set out"
    if table.chance[best] * 100 >= min(chance_wanted_pct, 50):
        risk_pct = float(100 * table.failures[FROST][days][table.chance[days] * 100 >= 50].min())
        return (
            f"Every date that would ripen {crop.name} risks a killing frost in more than "
            f"{frost_risk_pct:g} % of years; the least risk is {risk_pct:.0f} %."
        )
    n_failed = round((1 - float(table.chance[best])) * table.n_years)
    causes = "; ".join(_cause_sentences(table, best))
    return (
        f"Even {verb} on the best date, {plain_date(table.day(best))}, {crop.name} would have failed "
        f"in {n_failed} of {table.n_years} recorded years: {causes}."
    )


def other_ways_sentence(
    tables: Mapping[str, DateTable], *, frost_risk_pct: float, chance_wanted_pct: float
) -> str:
    """What would work instead, best first; empty if nothing tried would.

    Parameters
    ----------
    tables
        By what it is, in words that begin a sentence.
    frost_risk_pct, chance_wanted_pct
        As for `allowed_days`.
    """
    found: list[tuple[float, str]] = []
    for words, table in tables.items():
        allowed = allowed_days(table, frost_risk_pct=frost_risk_pct, chance_wanted_pct=chance_wanted_pct)
        days = np.flatnonzero(allowed)
        if not days.size:
            continue
        best = int(days[np.argmax(table.chance[days])])
        chance = float(table.chance[best])
        worked = f"{round(chance * table.n_years)} of {table.n_years} years"
        day = plain_date(table.day(best))
        found.append((chance, f"{words}, it would have worked in {worked}, in the ground on {day}."))
    return " ".join(sentence for _, sentence in sorted(found, key=lambda pair: -pair[0]))


def _cause_sentences(table: DateTable, day: int) -> Iterator[str]:
    outcomes = table.outcomes
    for index in sorted(range(len(CAUSES)), key=lambda each: -table.failures[each, day]):
        lost = outcomes.cause[day] == index
        n_lost = int(lost.sum())
        if not n_lost:
            continue
        if index == SHORT:
            yield f"in {n_lost} the season ended {_how_soon(table, day, lost)}"
        else:
            yield f"in {n_lost} by {CAUSES[index]}"


def _how_soon(table: DateTable, day: int, lost: np.ndarray[tuple[int, ...], np.dtype[np.bool_]]) -> str:
    ripe = table.outcomes.ripe[day][lost]
    short_days = ripe - table.outcomes.ended[day][lost]
    middle = int(np.sort(short_days)[(short_days.size - 1) // 2])
    if middle > LONG_BEFORE_DAYS:
        return "long before it could ripen"
    return f"{middle} days before first picking" if middle > 0 else "within a week of first picking"


def _standing(crop: Crop, quantity: str) -> Standing:
    facts = used_facts(crop, quantity)
    return facts[0].standing if facts else "practice"


def date_origins(table: DateTable, *, frost_risk_pct: float, chance_wanted_pct: float) -> tuple[Origin, ...]:
    """Where dates from the site's own weather come from."""
    return tuple(_date_origins(table, frost_risk_pct, chance_wanted_pct))


def _date_origins(table: DateTable, frost_risk_pct: float, chance_wanted_pct: float) -> Iterator[Origin]:
    crop, way = table.crop, table.way
    soil = used_facts(crop, "germination_soil_temp_min_c")
    frost = used_facts(crop, "frost_kill_c")
    kill = f"{crop.frost_kill_c:g} °C in the shelter"
    ids = tuple(dict.fromkeys(fact.source_id for fact in (*soil, *frost))) or (PRACTICE,)
    limit = f"soil at {crop.soil_temp_min_c:g} °C or more as a mean of {WEEK_DAYS} days in half of the years"
    if crop.life_cycle == "overwintering":
        limit += ", in autumn"
        if crop.set_underground:
            limit += f", cooled to {OVERWINTERING_SOIL_C[1]:g} °C"
            ids = (*ids, GARLIC_SOIL)
    if crop.frost_class in ("tender", "very tender"):
        limit += f", air at {TENDER_AIR_MEAN_C:g} °C likewise"
    yield Origin(
        "in_ground",
        None,
        f"{limit}; a killing frost ({kill}) still to come in at most {frost_risk_pct:g} % of {table.n_years} "
        f"recorded years; works in at least {chance_wanted_pct:g} % of them, or in half where no date does",
        ids,
        _standing(crop, "frost_kill_c"),
    )
    yield Origin(
        "chance",
        None,
        f"share of {table.n_years} recorded years in which it would have come up, lived and been picked "
        "for at least a week",
        (PRACTICE,),
        "practice",
    )
    if comes_up(crop, way):
        points = tuple(
            fact.source_id
            for fact in crop.facts
            if fact.used and fact.quantity.startswith("days_to_emergence")
        )
        rule = "days to emergence at each day's soil temperature, added up day by day"
        ids = tuple(dict.fromkeys(points)) or (PRACTICE,)
        yield Origin("emerges", None, rule, ids, "derived" if points else "practice")
    if counts_plain_days(crop):
        rule = f"middle of {days_in_words(crop)} from planting, as plain days through winter"
        ids = tuple(fact.source_id for fact in used_facts(crop, "days_to_maturity")) or (PRACTICE,)
    else:
        need = growth_need(crop, way)
        rule = f"{need.rule}; slower in autumn and winter light"
        ids = tuple(dict.fromkeys((*need.source_ids, DEGREE_DAYS, SUNLIGHT, FALL_FACTOR)))
    yield Origin("first_pick", None, rule, ids, _standing(crop, "days_to_maturity"))
    span = used_facts(crop, "harvest_span_days")
    yield Origin(
        "last_pick",
        None,
        f"{crop.harvest_span_days:g} days of picking, or until a killing frost or lasting heat ends it",
        tuple(fact.source_id for fact in span) or (PRACTICE,),
        _standing(crop, "harvest_span_days"),
    )
    if way == "raise" and crop.weeks_raised is not None:
        yield from _raising_origins(crop)


def _raising_origins(crop: Crop) -> Iterator[Origin]:
    ids = tuple(fact.source_id for fact in used_facts(crop, "transplant_age_weeks")) or (PRACTICE,)
    yield Origin(
        "sow_under_cover",
        crop.weeks_raised,
        f"{crop.weeks_raised:g} weeks before setting out",
        ids,
        _standing(crop, "transplant_age_weeks"),
    )
    rule = f"{HARDEN_OFF_DAYS} days before setting out, within the 1 to 2 weeks advised"
    yield Origin("harden_off_from", HARDEN_OFF_DAYS, rule, (HARDENING,), "read")


def stated_origins(crop: Crop) -> tuple[Origin, ...]:
    """Where dates from stated frost dates come from."""
    early, late = weeks_from_last_frost(crop)
    days_ids = tuple(fact.source_id for fact in used_facts(crop, "days_to_maturity")) or (PRACTICE,)
    raising = _raising_origins(crop) if crop.weeks_raised is not None else ()
    return (
        Origin(
            "in_ground",
            None,
            f"from {early:g} to {late:g} weeks after the stated last spring frost (before it where negative) "
            "until the count back from the stated first autumn frost: days to maturity, up to 14 days of "
            "picking, 14 days for slow autumn growth and 14 for a frost-tender crop",
            (FROST_OFFSETS, FALL_FACTOR),
            "weak",
        ),
        Origin("chance", None, "not known: no weather record", (), "own"),
        Origin(
            "first_pick",
            None,
            f"{days_in_words(crop)} from {crop.maturity_basis}, not corrected for this site's weather",
            days_ids,
            _standing(crop, "days_to_maturity"),
        ),
        *raising,
    )


def succession_origin(
    wanted: int | Literal["keep picking"], n_found: int, harvest_span_days: float
) -> Origin:
    """How successions are spaced."""
    asked = "to keep picking" if wanted == "keep picking" else f"{wanted} sowings asked for"
    rule = (
        f"{asked}: {n_found} sowings whose first pickings, not their sowing days, are evenly spaced, "
        f"{harvest_span_days:g} days apart where the season allows"
    )
    return Origin("successions", n_found, rule, (PRACTICE,), "practice")
