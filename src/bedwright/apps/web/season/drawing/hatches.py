"""The hatches of the printed plan as patterns of a vector drawing on a page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.model.season import SeasonPlan
from bedwright.papers.hatching import Hatch
from bedwright.papers.planting_plan import plan_hatches

PX_PER_MM = 3.4
_PAIR_PX = 2.0
_DASH_PX = 8.0


@dataclass(frozen=True, slots=True)
class Pattern:
    """One tile, repeated."""

    key: str
    """Name in the page."""
    group: str
    """Rotation group."""
    width_px: float
    height_px: float
    turn_deg: float
    """Clockwise, as a page turns."""
    d: str
    """Lines of the tile; empty for dots."""
    dots_px: tuple[tuple[float, float], ...]


def patterns_of(plan: SeasonPlan) -> tuple[Pattern, ...]:
    """One pattern for each rotation group, the same as on the papers of the plan."""
    hatches: Mapping[str, Hatch] = plan_hatches(plan)
    return tuple(_pattern(f"hatch-{k}", group, hatch) for k, (group, hatch) in enumerate(hatches.items()))


def _pattern(key: str, group: str, hatch: Hatch) -> Pattern:
    gap = round(hatch.gap_mm * PX_PER_MM, 2)
    half = round(gap / 2, 2)
    if hatch.dots:
        return Pattern(key, group, gap, 2 * gap, 0.0, "", ((half, half), (0.0, 3 * half), (gap, 3 * half)))
    # A page turns clockwise, a drawing counter-clockwise.
    turn = -hatch.angles_deg[0]
    width = _DASH_PX if hatch.dashed else gap
    line = f"M0 {half}H{width - 3 if hatch.dashed else width}"
    if hatch.paired:
        line += f"M0 {half + _PAIR_PX}H{width}"
    if len(hatch.angles_deg) > 1:
        # Every crossed hatch crosses at a right angle, so that one tile holds both lines.
        line += f"M{half} 0V{gap}"
    return Pattern(key, group, width, gap, turn, line, ())
