"""What the page is told about ground, revisions and plants."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bedwright.apps.web.gardens.crop_words import crop_word
from bedwright.apps.web.gardens.models import BookRevision, Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.gardens.revisions import steps_of
from bedwright.model.season import SeasonPlan
from bedwright.store.book.document import to_document

SHOWN_SHARE_OF_SPREAD = 2 / 3
"""As on the printed plan: plants are drawn at two thirds of their mature spread."""


def ground_state(garden: Garden, head: BookRevision) -> dict[str, Any]:
    """Beds and features of the newest revision, and where undoing and redoing lead from it."""
    document = to_document(book_of(head.text))
    site = document["site"]
    steps = steps_of(garden)
    return {
        "revision": head.number,
        "note": head.note,
        "author": str(head.author or ""),
        "beds": document["beds"],
        "features": site.get("features", ()) if isinstance(site, dict) else (),
        "back": steps.back[-1] if steps.back else None,
        "forth": steps.forth[-1] if steps.forth else None,
    }


def plants_of(plan: SeasonPlan) -> list[dict[str, Any]]:
    """Every planting of a plan as the drawing needs it, offsets in the frame of its bed."""
    return [
        {
            "code": planting.code,
            "bed": planting.bed_code,
            "crop": crop_word(planting.crop.name),
            "plan_code": planting.crop.plan_code,
            "radius_m": round(planting.crop.spread_m * SHOWN_SHARE_OF_SPREAD / 2, 3),
            "from": planting.dates.in_ground,
            "to": planting.dates.clear_by,
            "rows": [_row(row.start_m, row.end_m, row.n_plants) for row in planting.rows],
        }
        for planting in plan.plantings
    ]


def _row(start_m: Sequence[float], end_m: Sequence[float], n_plants: int) -> list[float]:
    return [*(round(each, 3) for each in (*start_m, *end_m)), n_plants]
