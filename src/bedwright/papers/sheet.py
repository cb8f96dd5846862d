"""Paper sizes and the title block every paper carries."""

from __future__ import annotations

from typing import Any

from bedwright.model.book import PaperSize
from bedwright.model.season import SeasonPlan
from bedwright.papers.measures import day_words

PAGE_MM: dict[PaperSize, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Upright width and height: ISO 216 A4; ANSI/ASME Y14.1 size A."""
MARGIN_MM = 10.0
_TITLE_BLOCK_MM = {True: 18.0, False: 27.0}
"""Height kept free at the foot for the title block, wide and upright pages."""
INVENTED_MARK = "INVENTED WEATHER RECORD: NOT FOR A REAL GARDEN"


def season_words(plan: SeasonPlan) -> str:
    """The season in words."""
    return f"from {day_words(plan.book.season_start)}"


def author_words(plan: SeasonPlan) -> str:
    """Name for the title block."""
    return plan.book.site.coordinator or "not stated"


def mark_words(plan: SeasonPlan) -> str:
    """Words of warning in the title block; empty where none is due."""
    return INVENTED_MARK if plan.climate is not None and plan.climate.invented else ""


def page_mm(paper: PaperSize, *, wide: bool) -> tuple[float, float]:
    """Width and height of a page as it is held [mm]."""
    width_mm, height_mm = PAGE_MM[paper]
    return (height_mm, width_mm) if wide else (width_mm, height_mm)


def room_mm(paper: PaperSize, *, wide: bool) -> tuple[float, float]:
    """Width and height of a page inside its margins, above the title block [mm]."""
    width_mm, height_mm = page_mm(paper, wide=wide)
    return width_mm - 2 * MARGIN_MM, height_mm - 2 * MARGIN_MM - _TITLE_BLOCK_MM[wide]


def frame(
    plan: SeasonPlan,
    paper: PaperSize,
    title: str,
    number: str,
    *,
    wide: bool = False,
    scale: str = "not to scale",
) -> dict[str, Any]:
    """What the shared template `sheet.typ` needs."""
    return {
        "garden": plan.book.site.name,
        "title": title,
        "number": number,
        "revision": plan.revision,
        "made_on": day_words(plan.made_on),
        "scale": scale,
        "author": author_words(plan),
        "season": season_words(plan),
        "mark": mark_words(plan),
        "page_mm": page_mm(paper, wide=wide),
        "margin_mm": MARGIN_MM,
    }
