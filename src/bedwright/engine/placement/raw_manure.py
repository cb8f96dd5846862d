"""No picking within the days after raw manure that the rule asks for."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from bedwright.engine.placement.rules import ROOT_AND_LEAF_WORDS
from bedwright.engine.placement.words import plain_day
from bedwright.model.crop import Crop
from bedwright.model.safety import NOP_MANURE, ManureRule, ManureSpread
from bedwright.model.season import DateChoice
from bedwright.model.weather import BoolArray

HELD_UP_M = 1.0
"""Fruit of a crop this tall, or tied up, is taken to hang clear of the soil: chosen here."""


def eaten_root_or_leaf(crop: Crop) -> bool:
    """True for crops eaten for parts that carry soil to the table."""
    for part in crop.edible_parts:
        words = part.lower().replace(",", " ").split()
        if "flower" not in words and not ROOT_AND_LEAF_WORDS.isdisjoint(words):
            return True
    return False


def touches_soil(crop: Crop) -> bool:
    """True unless the part eaten hangs clear of the soil: fruit, pods or ears of tall or tied-up crops.

    Roots and leaves always count as touching: rain splashes. In doubt the longer interval.
    """
    held_up = crop.support != "none" or crop.climbs or crop.height_m >= HELD_UP_M
    return eaten_root_or_leaf(crop) or not held_up


def earliest_harvest(incorporated_on: date, *, touching: bool, rule: ManureRule = NOP_MANURE) -> date:
    """First day on which the rule lets a crop be picked after raw manure is dug in.

    Source
    ------
    7 CFR 205.203(c)(1)(ii) and (iii): not less than 120 days where the edible part touches the
    soil, else 90.
    """
    days = rule.touching_soil_days if touching else rule.off_the_soil_days
    return incorporated_on + timedelta(days=days)


def barred_dates(
    crop: Crop, choices: Sequence[DateChoice], spread: Sequence[ManureSpread], rule: ManureRule = NOP_MANURE
) -> BoolArray:
    """Dates on which a crop could be picked too soon after raw manure, (n_dates,).

    Parameters
    ----------
    spread
        Manure dug into the bed; what was composted is passed over.

    Source
    ------
    As `earliest_harvest`; the earliest likely pick counts (one year in five is earlier still).
    """
    barred = np.zeros(len(choices), dtype=np.bool_)
    if crop.kind in ("cover crop", "flower"):
        return barred
    for manure in spread:
        if not manure.composted:
            free_on = earliest_harvest(manure.incorporated_on, touching=touches_soil(crop), rule=rule)
            too_soon = [
                one.first_pick_early < free_on and one.last_pick >= manure.incorporated_on for one in choices
            ]
            barred |= np.array(too_soon, dtype=np.bool_)
    return barred


def manure_words(crop: Crop, spread: Sequence[ManureSpread], rule: ManureRule = NOP_MANURE) -> str:
    """Why a bed may not take a crop at all, in plain words."""
    latest = max(one.incorporated_on for one in spread if not one.composted)
    free_on = earliest_harvest(latest, touching=touches_soil(crop), rule=rule)
    return (
        f"raw manure is dug in on {plain_day(latest)}, and it may not be picked before {plain_day(free_on)} "
        f"({rule.id}, {(free_on - latest).days} days)"
    )
