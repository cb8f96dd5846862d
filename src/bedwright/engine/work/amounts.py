"""How much of each job a planting brings: ground, rows, plants, trays, harvest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.engine.supplies.materials import row_length_m
from bedwright.model.season import Planting, Task
from bedwright.model.work import Hours, LabourRate

PICK_EVERY_DAYS = 4
"""Days between pickings of one planting: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Portion:
    """So many units of one labour rate."""

    rate_name: str
    quantity: float


def ground_m2(planting: Planting) -> float:
    """Ground a planting takes. [m2]."""
    (start_m, end_m), (near_m, far_m) = planting.along_m, planting.across_m
    return (end_m - start_m) * (far_m - near_m)


def harvest_kg(planting: Planting) -> float | None:
    """Harvest expected of a planting; None where no yield of the crop is known. [kg]."""
    crop = planting.crop
    if crop.yield_kg_per_m_row is not None:
        return crop.yield_kg_per_m_row * row_length_m(planting)
    if crop.yield_kg_per_plant is not None:
        return crop.yield_kg_per_plant * planting.n_plants
    return None


def n_pickings(planting: Planting) -> int:
    """Visits from first to last pick. [visits]."""
    span_days = (planting.dates.last_pick - planting.dates.first_pick).days
    return 1 + max(0, span_days) // PICK_EVERY_DAYS


def portions_of(task: Task, planting: Planting | None, n_trays: int) -> tuple[Portion, ...]:
    """Units of work of one task; none for a kind of task the labour table does not know.

    Parameters
    ----------
    task
        A task of the plan.
    planting
        The planting it belongs to; None for tasks without one, such as an order.
    n_trays
        Trays the planting is raised in; 0 where it is not raised here.
    """
    if task.kind == "order":
        return (Portion("order", 1.0),)
    if planting is None:
        return ()
    if task.kind == "pick":
        return _picking(planting)
    if task.kind == "support":
        if planting.crop.support == "cane":
            return (Portion("support with canes", float(planting.n_plants)),)
        return (Portion("support along rows", row_length_m(planting)),)
    quantity = _quantity(task.kind, planting, n_trays)
    return () if quantity is None else (Portion(task.kind, quantity),)


def _quantity(kind: str, planting: Planting, n_trays: int) -> float | None:
    if kind in {"prepare", "mulch", "cover", "clear", "cut down"}:
        return ground_m2(planting)
    if kind in {"sow", "thin", "earth up", "side dress"}:
        return row_length_m(planting)
    if kind in {"sow under cover", "harden off"}:
        return float(n_trays)
    return float(planting.n_plants) if kind == "set out" else None


def _picking(planting: Planting) -> tuple[Portion, ...]:
    visits = Portion("picking visit", float(n_pickings(planting)))
    kg = harvest_kg(planting)
    if kg is None:
        return (Portion("pick by ground", ground_m2(planting)), visits)
    return (Portion("pick", kg), visits)


@dataclass(frozen=True, slots=True)
class Effort:
    """Person-hours of one job, apart by whether they grow for people who are not practised."""

    practised: Hours
    as_measured: Hours

    def part(self, share: float) -> Effort:
        """A share of it."""
        return Effort(times(self.practised, share), times(self.as_measured, share))

    def total(self, factor: tuple[float, float, float]) -> Hours:
        """All of it, the practised part multiplied low by low, likely by likely, high by high."""
        return self.as_measured + times(self.practised, factor)


def times(hours: Hours, factor: float | tuple[float, float, float]) -> Hours:
    """Hours multiplied by one factor, or each bound by its own."""
    low, likely, high = (factor,) * 3 if isinstance(factor, int | float) else factor
    return Hours(hours.low_h * low, hours.likely_h * likely, hours.high_h * high)


def effort_of(portions: tuple[Portion, ...], rates: Mapping[str, LabourRate]) -> Effort:
    """Person-hours of several portions by the rates of a table."""
    practised = measured = Hours(0.0, 0.0, 0.0)
    for portion in portions:
        rate = rates[portion.rate_name]
        hours = times(Hours(rate.low_min, rate.likely_min, rate.high_min), portion.quantity / 60)
        if rate.practised:
            practised += hours
        else:
            measured += hours
    return Effort(practised, measured)
