"""Raw manure against the days of picking, and what makes it compost in the law's sense."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Literal

from bedwright.engine.placement.raw_manure import earliest_harvest, touches_soil
from bedwright.model.safety import ASK_LOCALLY, NOP_MANURE, Caution, ManureRule, ManureSpread
from bedwright.model.season import Planting


def harvest_allowed(
    incorporated_on: date,
    harvest_on: date,
    *,
    touching: bool,
    composted: bool = False,
    rule: ManureRule = NOP_MANURE,
) -> bool:
    """True if a crop may be picked on a day, manure having been dug in on another."""
    if composted or harvest_on < incorporated_on:
        return True
    return harvest_on >= earliest_harvest(incorporated_on, touching=touching, rule=rule)


def is_compost(
    system: Literal["windrow", "in vessel", "static aerated pile"],
    initial_c_to_n: float,
    lowest_temperature_f: float,
    highest_temperature_f: float,
    days: int,
    n_turns: int,
) -> bool:
    """True if a pile was composted as 7 CFR 205.203(c)(2) asks.

    Parameters
    ----------
    system : str
        How it was composted.
    initial_c_to_n : float
        Carbon to nitrogen at the start. 25 to 40.
    lowest_temperature_f, highest_temperature_f : float
        Held over the days counted. 131 to 170 [°F].
    days : int
        Days at those temperatures: 3, or 15 in a windrow.
    n_turns : int
        Turns of a windrow in that time: at least 5.

    Raises
    ------
    ValueError
        If the days or turns are negative or the temperatures upside down.
    """
    if days < 0 or n_turns < 0 or lowest_temperature_f > highest_temperature_f:
        raise ValueError("days and turns are 0 or more, and the lowest temperature not above the highest")
    hot = lowest_temperature_f >= 131 and highest_temperature_f <= 170
    long_enough = days >= 15 and n_turns >= 5 if system == "windrow" else days >= 3
    return 25 <= initial_c_to_n <= 40 and hot and long_enough


def manure_cautions(
    spread: Sequence[ManureSpread], plantings: Sequence[Planting], rule: ManureRule = NOP_MANURE
) -> tuple[Caution, ...]:
    """A caution for every planting that may be picked too soon after raw manure in its bed.

    The earliest likely pick counts (one year in five is earlier still).
    """
    found = []
    for manure in (each for each in spread if not each.composted):
        for planting in plantings:
            if planting.bed_code != manure.bed_code or planting.crop.kind in ("cover crop", "flower"):
                continue
            touching = touches_soil(planting.crop)
            free_on = earliest_harvest(manure.incorporated_on, touching=touching, rule=rule)
            dates = planting.dates
            if dates.last_pick < manure.incorporated_on or dates.first_pick_early >= free_on:
                continue
            days = rule.touching_soil_days if touching else rule.off_the_soil_days
            why = "touches the soil" if touching else "hangs clear of the soil"
            text = (
                f"Raw manure dug into bed {manure.bed_code} on {manure.incorporated_on.isoformat()}: "
                f"{planting.crop.name} "
                f"{planting.label_code} ({why}) is not to be picked before {free_on.isoformat()}, {days} "
                "days later; "
                f"its first pick may come on {dates.first_pick_early.isoformat()}. Use composted manure "
                "instead, or "
                f"dig raw manure in after the last pick. {ASK_LOCALLY}"
            )
            dated = (
                f"{rule.id}, text as of {rule.as_of.isoformat()}; a rule for organic growers, used as a guide"
            )
            found.append(
                Caution(
                    "raw manure",
                    "stop",
                    text,
                    dated,
                    (rule.source_id,),
                    manure.bed_code,
                    planting.code,
                    dates.first_pick_early,
                )
            )
    return tuple(found)
