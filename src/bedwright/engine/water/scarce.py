"""When there is not enough water, and when someone has to come while nobody is there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np

from bedwright.engine.water.balance import WateringRule, field_capacity, run_days
from bedwright.engine.water.methods import cans, check_supply, tap_minutes
from bedwright.engine.water.patches import ground_of
from bedwright.engine.water.stages import established_from, stand_of
from bedwright.engine.water.today import given_mm
from bedwright.model.book import Period
from bedwright.model.water import (
    DailyConditions,
    DutyVisit,
    PatchDue,
    ShortShare,
    WateredPatch,
    Watering,
    WaterSupply,
    WaterToday,
)


def share_out(answer: WaterToday, available_l: float) -> tuple[ShortShare, ...]:
    """Which patches get water first when there is too little for all that are due.

    Parameters
    ----------
    answer : WaterToday
        Of the morning.
    available_l : float
        Water there is. [L], not negative

    Returns
    -------
    tuple of ShortShare
        Every patch that is due, in the order in which water is given out.

    Raises
    ------
    ValueError
        If the amount is negative or not a number.

    Source
    ------
    Own rule: by priority (`PRIORITY` of `water_today`), then most yield saved by a litre. Loss: FAO56
    Eq. 90; taken to fall in a straight line with what is given.
    """
    if not (np.isfinite(available_l) and available_l >= 0):
        raise ValueError(f"available_l: got {available_l}; expected 0 L or more")
    due = [patch for bed in answer.beds for patch in bed.patches if patch.due]
    due.sort(key=lambda patch: (patch.priority, -_saved_by_a_litre(patch), patch.patch_code))
    left, shares = available_l, []
    for patch in due:
        given = min(left, patch.water_l)
        left -= given
        missing_share = 1 - given / patch.water_l if patch.water_l > 0 else 0.0
        shares.append(
            ShortShare(
                patch_code=patch.patch_code,
                bed_code=patch.bed_code,
                wanted_l=patch.water_l,
                given_l=given,
                loss_pct=patch.loss_pct * missing_share,
                why=_why(patch, missing_share),
            )
        )
    return tuple(shares)


def duty_list(
    patches: Sequence[WateredPatch],
    conditions: DailyConditions,
    waterings: Sequence[Watering],
    supply: WaterSupply,
    today: date,
    span: Period,
) -> tuple[DutyVisit, ...]:
    """Waterings that fall into a span of days, such as a weekend or holidays.

    Parameters
    ----------
    patches : sequence of WateredPatch
        Plantings.
    conditions : DailyConditions
        One run of days that covers today and the span; days to come with the usual demand and the
        forecast's rain only, so the list holds if no other rain comes.
    waterings : sequence of Watering
        What was given so far.
    supply : WaterSupply
        Tap and can.
    today : date
        Waterings up to today are taken as logged; from tomorrow on everything due is watered.
    span : Period
        Days the list is for.

    Returns
    -------
    tuple of DutyVisit
        By day, then bed.

    Raises
    ------
    ValueError
        If the days are not covered, the tap gives nothing, or a watering is impossible.
    """
    check_supply(supply)
    if not patches:
        return ()
    first, last = conditions.dates[0].astype(date), conditions.dates[-1].astype(date)
    if not (first <= today and span.start <= span.end <= last):
        raise ValueError(f"conditions run from {first} to {last}; they must cover {today} to {span.end}")
    stand = stand_of(patches, conditions)
    permitted = (conditions.dates > np.datetime64(today))[:, None, None]
    run = run_days(
        ground_of(patches, stand),
        stand.canopy,
        field_capacity((len(patches), 1)),
        rain_mm=conditions.rain_mm[:, None, None],
        reference_et_mm=conditions.reference_et_mm[:, None, None],
        irrigation_mm=given_mm(patches, conditions, waterings),
        rule=WateringRule(stand.growing, stand.little_and_often, permitted),
    )
    visits = []
    for offset in range((span.start - first).days, (span.end - first).days + 1):
        day = conditions.dates[offset].astype(date)
        for code in sorted({patch.bed_code for patch in patches}):
            here = [
                (patch, float(run.irrigation_mm[offset, k, 0]))
                for k, patch in enumerate(patches)
                if patch.bed_code == code and run.irrigation_mm[offset, k, 0] > 0
            ]
            if not here:
                continue
            water_l = sum(depth * patch.area_m2 / patch.method.efficiency for patch, depth in here)
            visits.append(
                DutyVisit(
                    day=day,
                    bed_code=code,
                    water_l=water_l,
                    tap_min=tap_minutes(water_l, supply),
                    n_cans=cans(water_l, supply),
                    why=_visit_why([patch for patch, _ in here], day),
                )
            )
    return tuple(visits)


def _saved_by_a_litre(patch: PatchDue) -> float:
    return patch.loss_pct / patch.water_l if patch.water_l > 0 else 0.0


def _why(patch: PatchDue, missing_share: float) -> str:
    if patch.priority == 1:
        reason = "Young plants come first: they die where others wait."
    elif patch.priority == 2:
        reason = "Flowering and filling come before other crops."
    else:
        reason = "Established crops that are not in flower wait longest."
    if missing_share <= 0:
        return reason
    if patch.priority == 1:
        return f"{reason} Not enough for all of it: some of it may be lost."
    return (
        f"{reason} A week without the rest costs about {patch.loss_pct * missing_share:.0f} % of the yield."
    )


def _visit_why(patches: Sequence[WateredPatch], day: date) -> str:
    young = sorted({patch.crop.name for patch in patches if day < established_from(patch)})
    others = sorted({patch.crop.name for patch in patches} - set(young))
    parts = []
    if young:
        parts.append(f"{', '.join(young)}: still taking root, surface must stay moist")
    if others:
        parts.append(f"{', '.join(others)}: readily available water used up")
    return "; ".join(parts)
