"""Compiles the search for places once, after installing: `python -m bedwright.service.first_run`.

The search is written in Python and turned into machine code the first time it runs, which
takes about a minute and is kept. Done here, nobody waits for it later.
"""

from __future__ import annotations

from bedwright.engine.pipeline import plan_season
from bedwright.service.demo_garden import DEMO_TODAY, demo_book
from bedwright.service.load import load
from bedwright.service.make_season import DEFAULT_SEED


def main() -> None:
    """Plan the example garden and keep nothing but the machine code."""
    with demo_book() as book:
        loaded = load(book)
    plan_season(loaded.book, loaded.record, loaded.catalogue, seed=DEFAULT_SEED, today=DEMO_TODAY)


if __name__ == "__main__":
    main()
