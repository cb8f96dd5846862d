"""Records that compiled code works on."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from bedwright.engine.placement.layout import IntArray
from bedwright.model.weather import FloatArray

Records = NDArray[np.void]

LEAST_PATCH = 0.2
LEAST_PATCH_M = 1.0
"""A patch smaller than this share of its request and than this length of row is not worth the walk."""

BARRED_POINTS = 1_000_000.0
"""Points taken, in the search only, for a date that a bed is barred on: more than any pin gives."""

PIN_POINTS = 10_000.0
"""Points given, in the search only, for keeping a pin: more than any plan could lose by it."""

SIDES = ("", "left", "right", "start", "end")
DIRECTIONS = ("along", "across")
STAND_INSIDE = 16
NEVER = -10_000
MOST_LEVELS = 12

MOST_IN_BED = 96
N_SCRATCH = 28
"""Slots at the front that hold spots looked at or taken out for the moment."""

HEAD = np.dtype(
    [("rng", "u8")]
    + [
        (name, "i8")
        for name in (
            "n_free", "n_beds", "n_rotations", "n_forms", "n_names", "n_rays", "n_weeks", "first_day",
            "rotation_years", "free", "bed_slots", "allowed", "last_grown", "lane_at", "block_at",
            "short_at", "month_of", "months", "rays", "neighbour", "load_at", "load", "most", "fewer",
            "barred", "steady", "least_picked", "curve_worth", "near_low", "near_tall",
            "near", "pairs", "pair_size", "low_slots", "tall_slots", "counts", "used", "picked", "gaps",
            "ranked",
        )
    ]
    + [("reach_two", "f8"), ("reach_one", "f8")]
)  # fmt: skip
"""Sizes, the state of the generator, and where each table begins in the two pools."""

ASKED = np.dtype(
    [
        ("plant_worth", "f8"), ("worth", "f8"), ("in_row", "f8"),
        ("pitch", "f8"), ("edge", "f8"), ("height", "f8"),
        ("need_h", "f8"), ("bonus", "f8"), ("n", "i8"), ("least", "i8"), ("most", "i8"), ("rotation", "i8"),
        ("name", "i8"), ("support", "i8"), ("wind", "i8"),
        ("date0", "i8"), ("date1", "i8"), ("geometry", "i8"), ("bed0", "i8"), ("bed1", "i8"),
        ("cells", "f8"), ("per_tray", "f8"), ("near", "i8"),
        ("curve", "i8"), ("fixed", "i8"), ("kept0", "i8"), ("kept1", "i8"), ("pin0", "i8"), ("pin1", "i8"),
        ("n_patches", "i8"), ("placed", "i8"), ("patch0", "i8"), ("patch1", "i8"), ("patch2", "i8"),
    ]
)  # fmt: skip
"""One request, and where it stands now (`n_patches` on).

`least` plants in one place and `most` places;
`support` 0 none, 1 of its own, 2 climbs, 3 climbs and wants a trellis; `rotation` -1 for perennials;
`cells` for each plant raised here, 0 for others; `near` class of height, for beds it may shade.
"""

DATES = np.dtype(
    [
        ("days", "f8"), ("cost", "f8"), ("taken_from", "i8"), ("clear_by", "i8"), ("year", "i8"),
        ("light", "i8"), ("in_ground", "i8"), ("load0", "i8"), ("load1", "i8"), ("load2", "i8"),
        ("pick_from", "i8"), ("pick_to", "i8"), ("near", "i8"),
    ]
)  # fmt: skip
"""One date; `cost` is the share of worth lost to chance, preference and quiet weeks.

What it asks of limited weeks is listed from `load0` by m² of ground, from `load1` to `load2` by tray;
`near` is its class of sun needed, for beds that may shade it.
"""

BEDS = np.dtype(
    [
        ("length", "f8"), ("width", "f8"), ("area", "f8"), ("watering", "f8"), ("cell", "f8"),
        ("use", "f8"), ("rectangular", "i8"), ("supports", "i8"), ("reach", "i8"), ("cells", "i8"),
        ("months", "i8"), ("n_along", "i8"), ("n_across", "i8"), ("form", "i8"), ("n_spots", "i8"),
    ]
)  # fmt: skip
"""One bed, with the spots in it and their use of it now.

Sides are bits 1 left, 2 right, 4 start, 8 end, and 16 in `reach` where one can stand inside; `cells` is
-1 where light is not known.
"""

LANES = np.dtype(
    [
        ("low", "f8"), ("high", "f8"), ("margin", "f8"), ("pitch", "f8"), ("direction", "i8"),
        ("side", "i8"), ("n_across", "i8"), ("far0", "f8"), ("far1", "f8"),
    ]
)  # fmt: skip
"""One lane of a bed; no block takes ground from `far0` to `far1`, where plants were out of reach."""

BLOCKS = np.dtype(
    [("start", "f8"), ("end", "f8"), ("lane", "i8"), ("n", "i8"), ("rows", "f8"), ("reach", "f8")]
)
"""One block of an outline that is not a rectangle."""

MARKS = np.dtype([("start", "f8"), ("low", "f8"), ("bed", "i8"), ("in_ground", "i8")])
"""A place of an earlier plan, or the start that a pin names."""

SLOTS = np.dtype(
    [
        ("start", "f8"), ("end", "f8"), ("low", "f8"), ("high", "f8"), ("worth", "f8"), ("own", "f8"),
        ("rows", "f8"), ("reach", "f8"), ("height", "f8"), ("days", "f8"), ("need_h", "f8"), ("use", "f8"),
        ("share", "f8"), ("spare", "f8"),
        ("request", "i8"), ("bed", "i8"), ("date", "i8"), ("n", "i8"), ("direction", "i8"), ("side", "i8"),
        ("taken_from", "i8"), ("clear_by", "i8"), ("rotation", "i8"), ("name", "i8"), ("live", "i8"),
        ("near", "i8"),
    ]
)  # fmt: skip
"""One spot.

`near` is 1 where crops of other beds may shade it, plus 2 where it may shade those; `spare` is sun over its
need, below 0 as long as it is not worked out, inf where not known.
"""

PAIR_HEAD = 7
"""Numbers of a pair of beds before its most hours by level and month: the frame of the low bed in the tall
one's, and the rise."""


class World(NamedTuple):
    """A problem and a plan of it, as compiled code sees them; the plan changes in place."""

    head: Records
    asked: Records
    dates: Records
    beds: Records
    lanes: Records
    blocks: Records
    marks: Records
    slots: Records
    ints: IntArray
    """Tables of whole numbers, one after the other."""
    floats: FloatArray
    """Tables of numbers: running sums of cells and light, rays, weeks."""
