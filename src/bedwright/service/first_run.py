"""Compiles the search for places once, after installing: `python -m bedwright.service.first_run`.

The search, and what lays out a bed again round a moved block, is written in Python and
turned into machine code the first time it runs, which takes about a minute and is kept. Done
here, nobody waits for it later.
"""

from __future__ import annotations

from contextlib import suppress

from bedwright.engine.pipeline import plan_season
from bedwright.service.demo_garden import DEMO_TODAY, demo_book
from bedwright.service.drag import MoveRefusedError, move_planting, ready
from bedwright.service.load import load
from bedwright.service.make_season import DEFAULT_SEED


def main() -> None:
    """Plan the example garden and keep nothing but the machine code."""
    with demo_book() as book:
        loaded = load(book)
    plan = plan_season(loaded.book, loaded.record, loaded.catalogue, seed=DEFAULT_SEED, today=DEMO_TODAY)
    table = ready(plan, loaded, today=DEMO_TODAY)
    for planting in plan.plantings:
        # A block laid over another one is what sets the others of its bed moving.
        for other in plan.in_bed(planting.bed_code):
            if other is not planting:
                with suppress(MoveRefusedError):
                    move_planting(table, planting.code, planting.bed_code, other.along_m[0])
                break


if __name__ == "__main__":
    main()
