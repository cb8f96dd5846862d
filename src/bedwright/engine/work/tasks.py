"""Every job a season's plantings bring, with its days, in the order it is done."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from bedwright.engine.climate import CLIMATE_SOURCES
from bedwright.model.crop import Crop
from bedwright.model.season import OrderLine, Planting, Task
from bedwright.model.source import Source
from bedwright.model.units import cm_to_inches, g_to_ounces, metres_to_feet, mm_to_inches

PREPARE_DAYS = 14
"""Days before planting in which a bed is cleared, composted and raked: common practice, no source."""
THIN_AFTER_DAYS = 14
"""Days from emergence to the first true leaves, when rows are thinned: common practice, no source."""
MULCH_SET_OUT_DAYS = 14
"""Days from setting out to mulching, soil warm by then: common practice, no source."""
MULCH_EMERGED_DAYS = 28
"""Days from emergence to mulching, seedlings well through: common practice, no source."""
EARTH_UP_AFTER_DAYS = 28
"""Days from emergence of potatoes to earthing up, plants about 23 cm high: common practice, no source."""

TASKS_PRACTICE = "TASKS_PRACTICE"
GROUND_FROST = "KNMI_260"
TASK_SOURCES: dict[str, Source] = {
    TASKS_PRACTICE: Source(
        TASKS_PRACTICE,
        "Timing of garden jobs: common practice, no source",
        "Not looked up; change the days where your own experience differs.",
    ),
    "GARDENINGDATA_HARDENING": Source(
        "GARDENINGDATA_HARDENING",
        "gardeningdata.co.uk, glossary, and Ramsey County Master Gardeners, on hardening off: "
        "1 to 2 weeks, shade first, 1 to 2 hours, more each day, indoors below 7 °C (45 °F)",
        "Read as excerpts.",
    ),
    GROUND_FROST: CLIMATE_SOURCES[GROUND_FROST],
    "THRIVE_EARTHING": Source(
        "THRIVE_EARTHING",
        "Thrive, gardening glossary: earth up potatoes 10 to 13 cm when plants are about 23 cm",
        "Read as an excerpt.",
    ),
}
_PRACTICE = (TASKS_PRACTICE,)


def tasks_of(plantings: Sequence[Planting], orders: Sequence[OrderLine]) -> tuple[Task, ...]:
    """Tasks of a season, earliest first.

    Parameters
    ----------
    plantings
        Placed plantings with rows numbered.
    orders
        Order lines; each gives one task due by its day.

    Returns
    -------
    tuple of Task
        Sorted by start, then bed, then code. Codes are planting code + kind (+ ordinal),
        so the same job keeps its code when the plan is made again.
    """
    tasks: list[Task] = []
    for planting in plantings:
        tasks += _before(planting)
        tasks += _planting_day(planting)
        tasks += _covering(planting)
        tasks += _growing(planting)
        tasks += _picking(planting)
    tasks += [_order_task(order) for order in orders if order.n_seeds_to_buy or order.n_plants_to_buy]
    return tuple(sorted(tasks, key=lambda task: (task.start, task.bed_code or "", task.code)))


def _task(
    planting: Planting,
    kind: str,
    start: date,
    end: date,
    details: str,
    *,
    in_bed: bool = True,
    source_ids: tuple[str, ...] = _PRACTICE,
) -> Task:
    return Task(
        code=f"{planting.code}:{kind.replace(' ', '-')}",
        kind=kind,
        start=start,
        end=max(start, end),
        bed_code=planting.bed_code if in_bed else None,
        planting_code=planting.code,
        title=f"{planting.label_code} {planting.crop.name}: {kind}",
        details=details,
        source_ids=source_ids,
    )


def _before(planting: Planting) -> list[Task]:
    dates, crop = planting.dates, planting.crop
    tasks = [
        _task(
            planting,
            "prepare",
            dates.in_ground - timedelta(days=PREPARE_DAYS),
            dates.in_ground - timedelta(days=1),
            f"Clear what is left, spread compost, rake level: {_ground(planting)}.",
        )
    ]
    if dates.sow_under_cover is not None:
        tasks.append(
            _task(
                planting,
                "sow under cover",
                dates.sow_under_cover,
                dates.sow_under_cover + timedelta(days=6),
                f"{_depth(crop.sow_depth_mm)} deep, for {planting.n_plants} plants; label the tray at once.",
                in_bed=False,
            )
        )
    if dates.harden_off_from is not None:
        tasks.append(
            _task(
                planting,
                "harden off",
                dates.harden_off_from,
                dates.in_ground - timedelta(days=1),
                "Shade and 1 to 2 hours outside at first, longer each day; indoors below 7 °C (45 °F).",
                in_bed=False,
                source_ids=("GARDENINGDATA_HARDENING",),
            )
        )
    return tasks


def _planting_day(planting: Planting) -> list[Task]:
    crop, day = planting.crop, planting.dates.in_ground
    where = f"{_rows(planting)}; peg {planting.label_code} in as soon as the row is done; water in."
    if planting.way == "sow":
        details = f"{_depth(crop.sow_depth_mm)} deep, {where}"
        return [_task(planting, "sow", day, day + timedelta(days=6), details)]
    what = "plants" if crop.planting_stock in ("seed", "young plant") else f"{crop.planting_stock}s"
    details = f"{handling(crop)} {planting.n_plants} {what}, {where}"
    return [_task(planting, "set out", day, day + timedelta(days=6), details)]


def handling(crop: Crop) -> str:
    """What to do with a young plant, tuber or clove on planting day, in whole sentences."""
    if crop.set_underground:
        return f"Set {_depth(crop.sow_depth_mm)} deep, shoots or tips up."
    parts = []
    if crop.soak_cell:
        parts.append("Soak the cell before knocking out.")
    if crop.roots == "tease":
        parts.append("Tease the roots apart a little.")
    else:
        parts.append("Leave the roots undisturbed.")
    depth = {
        "bury to first leaves": "Set deep, up to the first leaves.",
        "level with the cell": "Set level with the top of the cell.",
        "crown level with the soil": "Keep the crown level with the soil.",
    }
    parts.append(depth[crop.stem_depth])
    return " ".join(parts)


def _covering(planting: Planting) -> list[Task]:
    dates = planting.dates
    if dates.cover_until is None or dates.ground_frost_share is None:
        return []
    start = dates.emerges or dates.in_ground
    details = (
        "Have fleece or another cover at hand: on clear nights low plants may freeze "
        f"(in {dates.ground_frost_share:.0%} of the recorded years one still came)."
    )
    return [_task(planting, "cover", start, dates.cover_until, details, source_ids=(GROUND_FROST,))]


def _growing(planting: Planting) -> list[Task]:
    dates, crop = planting.dates, planting.crop
    tasks: list[Task] = []
    sown = planting.way == "sow"
    if sown and dates.emerges is not None:
        if crop.kind != "cover crop":
            start = dates.emerges + timedelta(days=THIN_AFTER_DAYS)
            spacing = _spacing(crop.in_row_spacing_m)
            details = f"Thin to {spacing}: {planting.n_plants} plants stay."
            tasks.append(_task(planting, "thin", start, start + timedelta(days=6), details))
        mulch_from = dates.emerges + timedelta(days=MULCH_EMERGED_DAYS)
    else:
        mulch_from = dates.in_ground + timedelta(days=MULCH_SET_OUT_DAYS)
    if mulch_from < dates.first_pick and crop.kind != "cover crop":
        details = "Mulch once the soil is warm and moist and plants stand clear; keep it off the stems."
        tasks.append(_task(planting, "mulch", mulch_from, mulch_from + timedelta(days=13), details))
    if crop.support != "none":
        start = dates.in_ground if not sown else (dates.emerges or dates.in_ground)
        details = f"Put up {crop.support} for {planting.n_plants} plants; cap the tops of canes."
        tasks.append(_task(planting, "support", start, start + timedelta(days=13), details))
    if crop.name == "potato":
        start = (dates.emerges or dates.in_ground) + timedelta(days=EARTH_UP_AFTER_DAYS)
        details = (
            "Draw 10 to 13 cm (4 to 5 in) of soil round the stems when plants are about 23 cm (9 in) high."
        )
        tasks.append(
            _task(
                planting,
                "earth up",
                start,
                start + timedelta(days=13),
                details,
                source_ids=("THRIVE_EARTHING",),
            )
        )
    return tasks


def _picking(planting: Planting) -> list[Task]:
    dates, crop = planting.dates, planting.crop
    tasks = []
    if crop.kind == "cover crop":
        details = "Cut down before it sets seed; leave on the ground or dig in."
        tasks.append(_task(planting, "cut down", dates.first_pick, dates.last_pick, details))
    else:
        eaten = ", ".join(crop.edible_parts) or "see the card"
        details = f"Eaten: {eaten}. Weigh and write down each picking."
        tasks.append(_task(planting, "pick", dates.first_pick, dates.last_pick, details))
    if crop.life_cycle != "perennial":
        details = f"Ground free after this: {_ground(planting)}."
        tasks.append(_task(planting, "clear", dates.last_pick, dates.clear_by, details))
    return tasks


def _order_task(order: OrderLine) -> Task:
    name = f"{order.crop} {order.variety}".strip()
    if order.n_plants_to_buy:
        what = f"{order.n_plants_to_buy} {order.bought_as}"
    else:
        what = f"{order.n_seeds_to_buy} seeds"
        if order.mass_to_buy_g is not None:
            what += f" (about {order.mass_to_buy_g:g} g, {g_to_ounces(order.mass_to_buy_g):.2g} oz)"
    return Task(
        code=f"order:{order.crop}:{order.variety}:{order.way}".replace(" ", "-"),
        kind="order",
        start=order.order_by,
        end=order.order_by,
        bed_code=None,
        planting_code=None,
        title=f"order {name}",
        details=f"{what}, for {', '.join(order.planting_codes)}.",
        source_ids=_PRACTICE,
    )


def _rows(planting: Planting) -> str:
    first, last = planting.rows[0].code, planting.rows[-1].code
    return f"row {first}" if first == last else f"rows {first} to {last}"


def _ground(planting: Planting) -> str:
    start_m, end_m = planting.along_m
    start_ft, end_ft = metres_to_feet(start_m), metres_to_feet(end_m)
    metric, us = f"{start_m:.2f} to {end_m:.2f} m", f"{start_ft:.1f} to {end_ft:.1f} ft"
    return f"bed {planting.bed_code}, {metric} ({us}) from the peg"


def _depth(depth_mm: float) -> str:
    """Both units, since a task is read from a calendar that knows neither setting."""
    if depth_mm == 0:
        return "on the surface, not covered: 0"
    return f"{depth_mm:.0f} mm ({mm_to_inches(depth_mm):.2g} in)"


def _spacing(spacing_m: float) -> str:
    return f"{100 * spacing_m:.0f} cm ({cm_to_inches(100 * spacing_m):.2g} in)"
