"""The usual drawing scales, and the choice of the one that fits."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.model.book import UnitSystem
from bedwright.model.units import M_PER_FOOT


@dataclass(frozen=True, slots=True)
class Scale:
    """A ratio of ground to paper with the name it goes by."""

    ratio: int
    words: str

    def paper_mm(self, length_m: float) -> float:
        """A length of ground on paper [mm]."""
        return length_m * 1000 / self.ratio


METRIC_SCALES = tuple(
    Scale(ratio, f"1:{ratio}") for ratio in (20, 25, 50, 100, 200, 250, 500, 1000, 2000, 5000, 10000, 20000)
)
"""1:20, 1:50, 1:100 and on: ISO 5455; 1:25 and 1:250 stand between them (common practice)."""

US_SCALES = (
    Scale(24, "½ in = 1 ft (1:24)"),
    Scale(48, "¼ in = 1 ft (1:48)"),
    Scale(96, "⅛ in = 1 ft (1:96)"),
    Scale(192, "1/16 in = 1 ft (1:192)"),
    *(
        Scale(feet * 12, f"1 in = {feet} ft (1:{feet * 12})")
        for feet in (20, 30, 40, 50, 100, 200, 500, 1000, 2000)
    ),
)
"""Fractions of an inch to the foot, then the engineer's tens of feet to the inch (common practice)."""


def usual_scales(system: UnitSystem) -> tuple[Scale, ...]:
    """Scales of one system of units, largest drawing first."""
    return US_SCALES if system == "us" else METRIC_SCALES


def fitting_scale(extent_m: tuple[float, float], room_mm: tuple[float, float], system: UnitSystem) -> Scale:
    """The largest usual scale at which an extent of ground fits a room on paper.

    Parameters
    ----------
    extent_m
        Width and height of the ground. [m]
    room_mm
        Width and height of the paper it may take. [mm]

    Limits
    ------
    Beyond the smallest usual scale (40 km on a page) that smallest one is returned.
    """
    scales = usual_scales(system)
    for scale in scales:
        if scale.paper_mm(extent_m[0]) <= room_mm[0] and scale.paper_mm(extent_m[1]) <= room_mm[1]:
            return scale
    return scales[-1]


def scale_bar(scale: Scale, system: UnitSystem) -> tuple[float, tuple[str, ...]]:
    """Length of one division of a scale bar and the words at its marks.

    Four divisions between 24 and 60 mm long in all where the steps 1, 2, 5 allow.

    Returns
    -------
    tuple
        One division on paper [mm]; words at marks 0 to 4, the unit with the last.
    """
    unit_m, unit = (M_PER_FOOT, "ft") if system == "us" else (1.0, "m")
    steps = [base * 10**power for power in range(-2, 5) for base in (1, 2, 5)]
    if system == "us":
        steps = [step for step in steps if step >= 1]
    step = next((s for s in steps if scale.paper_mm(4 * s * unit_m) >= 24), steps[-1])
    words = [f"{k * step:g}" for k in range(5)]
    words[-1] += f" {unit}"
    return scale.paper_mm(step * unit_m), tuple(words)
