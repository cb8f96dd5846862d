"""Line drawings of the papers as SVG for a page."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from html import escape
from typing import Any

from bedwright.papers.drawing import Drawing
from bedwright.papers.letters import MM_PER_POINT

SMALLEST_WEIGHT_MM = 0.22
"""Hair lines of a print are lost on a screen in the sun."""
_ANCHORS = {"left": "start", "centre": "middle", "right": "end"}
_DASHES = {"dashed": "1.2 0.9", "dash-dotted": "2 0.8 0.4 0.8", "dotted": "0.3 0.7"}
_FILLS = {"none": "none", "white": "var(--paper)", "black": "currentColor", "pale": "var(--paper-2)"}


def svg(drawing: Drawing, title: str, *, words: Callable[[str], str] = str) -> str:
    """A drawing as one SVG element in the colours of the page.

    Parameters
    ----------
    drawing
        Shapes and words in millimetres.
    title
        What it shows, for those who cannot see it.
    words
        Turns every text of the drawing into the reader's language.

    Limits
    ------
    Groups inside a drawing and turned text are left out: no drawing of these pages has any.
    """
    parts = [_part(item, words) for item in drawing.items]
    return (
        f'<svg viewBox="0 0 {drawing.width_mm:g} {drawing.height_mm:g}" role="img" '
        f'aria-label="{escape(title)}">{"".join(parts)}</svg>'
    )


def _part(item: Mapping[str, Any], words: Callable[[str], str]) -> str:
    if item["k"] == "path":
        d = "".join(line(points, closed=item["closed"]) for points in item["d"])
        return f'<path d="{d}"{_pen(item)}/>'
    if item["k"] == "circles":
        pen = _pen(item)
        return "".join(f'<circle cx="{x:g}" cy="{y:g}" r="{item["r"]:g}"{pen}/>' for x, y in item["c"])
    if item["k"] == "text":
        return _text(item, words)
    return ""


def line(points: Sequence[Sequence[float]], *, closed: bool = False) -> str:
    """Path data through points."""
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in points) + ("Z" if closed else "")


def _pen(item: Mapping[str, Any]) -> str:
    fill = f' fill="{_FILLS[item["fill"]]}"'
    if not item["w"]:
        return fill
    dash = f' stroke-dasharray="{_DASHES[item["dash"]]}"' if item["dash"] in _DASHES else ""
    weight = max(item["w"], SMALLEST_WEIGHT_MM)
    return f'{fill} stroke="currentColor" stroke-width="{weight:g}"{dash}'


def _text(item: Mapping[str, Any], words: Callable[[str], str]) -> str:
    size_mm = item["size"] * MM_PER_POINT
    weight = ' font-weight="600"' if item["bold"] else ""
    slant = ' font-style="italic"' if item["italic"] else ""
    halo = (
        f' paint-order="stroke" stroke="var(--paper)" stroke-width="{size_mm * 0.45:.2f}"'
        if item["halo"]
        else ""
    )
    return (
        f'<text x="{item["x"]:g}" y="{item["y"] + 0.35 * size_mm:.2f}" font-size="{size_mm:.2f}" '
        f'text-anchor="{_ANCHORS[item["align"]]}" fill="currentColor"{weight}{slant}{halo}>'
        f"{escape(words(item['s']))}</text>"
    )
