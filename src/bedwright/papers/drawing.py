"""A line drawing in millimetres on paper: what the template `drawing.typ` sets as vectors.

x runs to the right and y down, from the top left corner. Line weights follow drawing
practice: 0.5 mm for what matters most, then 0.35, 0.25, 0.18 and 0.13 mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from bedwright.papers.letters import SMALLEST_PT

PaperPoint = tuple[float, float]
"""(x_mm, y_mm)."""
Fill = Literal["none", "white", "black", "pale", "grey 30", "grey 50", "grey 68", "grey 84", "grey 96"]
"""Greys by how much of the paper's white is left, in percent."""
Dash = Literal["solid", "dashed", "dash-dotted", "dotted"]
Alignment = Literal["left", "centre", "right"]

HEAVY_MM, MEDIUM_MM, THIN_MM, FINE_MM, HAIR_MM = 0.5, 0.35, 0.25, 0.18, 0.13


def _round(value: float) -> float:
    """To a thousandth of a millimetre: finer than any printer, and the same everywhere."""
    return round(value, 3) + 0.0


@dataclass
class Drawing:
    """Shapes and words in the order they are drawn."""

    width_mm: float
    height_mm: float
    items: list[dict[str, Any]] = field(default_factory=list)

    def path(
        self,
        points: Sequence[PaperPoint],
        weight_mm: float,
        *,
        closed: bool = False,
        dash: Dash = "solid",
        fill: Fill = "none",
        grey: int = 0,
    ) -> None:
        """One line through points, or the edge of a closed shape."""
        self.paths((points,), weight_mm, closed=closed, dash=dash, fill=fill, grey=grey)

    def paths(
        self,
        many: Iterable[Sequence[PaperPoint]],
        weight_mm: float,
        *,
        closed: bool = False,
        dash: Dash = "solid",
        fill: Fill = "none",
        grey: int = 0,
    ) -> None:
        """Several lines of one kind; `grey` in percent of white."""
        d = [[[_round(x), _round(y)] for x, y in points] for points in many if len(points) > 1]
        if d:
            self.items.append(
                {
                    "k": "path",
                    "d": d,
                    "w": weight_mm,
                    "closed": closed,
                    "dash": dash,
                    "fill": fill,
                    "grey": grey,
                }
            )

    def circles(
        self,
        centres: Iterable[PaperPoint],
        radius_mm: float,
        weight_mm: float,
        *,
        fill: Fill = "none",
        dash: Dash = "solid",
        grey: int = 0,
    ) -> None:
        """Circles of one size."""
        c = [[_round(x), _round(y)] for x, y in centres]
        if c:
            self.items.append(
                {
                    "k": "circles", "c": c, "r": _round(radius_mm), "w": weight_mm, "fill": fill,
                    "dash": dash, "grey": grey,
                }
            )  # fmt: skip

    def text(
        self,
        x_mm: float,
        y_mm: float,
        words: str,
        *,
        size_pt: float = SMALLEST_PT,
        bold: bool = False,
        italic: bool = False,
        align: Alignment = "left",
        halo: bool = False,
        tag: bool = False,
        angle_deg: float = 0.0,
    ) -> None:
        """One line of words centred on y; `halo` clears the ground behind it, `tag` frames it too."""
        self.items.append(
            {
                "k": "text", "x": _round(x_mm), "y": _round(y_mm), "s": words,
                "size": max(size_pt, SMALLEST_PT), "bold": bold, "italic": italic, "align": align,
                "halo": halo or tag, "tag": tag, "angle": angle_deg,
            }
        )  # fmt: skip

    def add(self, other: Drawing, x_mm: float, y_mm: float) -> None:
        """Another drawing with its corner at a place of this one."""
        self.items.append({"k": "group", "x": _round(x_mm), "y": _round(y_mm), "items": other.items})

    def data(self) -> dict[str, Any]:
        """For the template."""
        return {"w": _round(self.width_mm), "h": _round(self.height_mm), "items": self.items}
