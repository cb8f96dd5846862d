"""A line drawing as SVG, for pages: the same shapes and words as on paper.

Black, white and greys are given as classes, so that a page can turn them round in the dark.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from html import escape
from typing import Any

from bedwright.papers.drawing import Drawing

_DASHES = {"dashed": "1.8 1", "dotted": "0.25 0.8", "dash-dotted": "4 0.9 0.5 0.9"}
_MM_PER_PT = 25.4 / 72
_ANCHORS = {"left": "start", "centre": "middle", "right": "end"}


def drawing_svg(drawing: Drawing, title: str) -> str:
    """An SVG element, as wide as the page gives it room.

    Parameters
    ----------
    drawing
        The drawing.
    title
        What it shows, for those who do not see it.
    """
    size = f"0 0 {drawing.width_mm:g} {drawing.height_mm:g}"
    body = "".join(_items(drawing.items))
    return f'<svg class="drawn-sheet" viewBox="{size}" role="img" aria-label="{escape(title)}">{body}</svg>'


def _items(items: Iterable[Mapping[str, Any]]) -> Iterable[str]:
    for item in items:
        kind = item["k"]
        if kind == "path":
            yield _path(item)
        elif kind == "circles":
            for x, y in item["c"]:
                yield f'<circle cx="{x:g}" cy="{y:g}" r="{item["r"]:g}"{_ink(item)}/>'
        elif kind == "text":
            yield _text(item)
        else:
            inner = "".join(_items(item["items"]))
            yield f'<g transform="translate({item["x"]:g} {item["y"]:g})">{inner}</g>'


def _path(item: Mapping[str, Any]) -> str:
    end = "Z" if item["closed"] else ""
    d = "".join("M" + "L".join(f"{x:g} {y:g}" for x, y in points) + end for points in item["d"])
    return f'<path d="{d}"{_ink(item)}/>'


def _ink(item: Mapping[str, Any]) -> str:
    """Line and fill of a shape."""
    fill = item["fill"]
    classes = [f"fill-{fill.replace(' ', '-')}"]
    if item["w"]:
        classes.append("ink" if item.get("grey", 0) < 30 else "grey-ink")
    dash = _DASHES.get(item["dash"], "")
    width = f' stroke-width="{item["w"]:g}"' if item["w"] else ""
    return f' class="{" ".join(classes)}"{width}' + (f' stroke-dasharray="{dash}"' if dash else "")


def _text(item: Mapping[str, Any]) -> str:
    size = item["size"] * _MM_PER_PT
    classes = ["words", *(name for name in ("bold", "italic", "halo") if item[name])]
    turn = f' transform="rotate({item["angle"]:g} {item["x"]:g} {item["y"]:g})"' if item["angle"] else ""
    return (
        f'<text class="{" ".join(classes)}" x="{item["x"]:g}" y="{item["y"]:g}" dy="{size * 0.36:.2f}" '
        f'font-size="{size:.2f}" text-anchor="{_ANCHORS[item["align"]]}"{turn}>{escape(item["s"])}</text>'
    )
