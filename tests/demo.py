"""The example garden, planned once for all tests that look at a whole season."""

from __future__ import annotations

from functools import cache

from bedwright.engine.pipeline import plan_season
from bedwright.model.season import SeasonPlan
from bedwright.service.demo_garden import DEMO_TODAY, demo_book
from bedwright.service.load import Loaded, load
from bedwright.service.make_season import DEFAULT_SEED


@cache
def demo_loaded() -> Loaded:
    """Book, record and catalogue of the example."""
    with demo_book() as book:
        return load(book)


@cache
def demo_plan() -> SeasonPlan:
    """The season plan of the example."""
    loaded = demo_loaded()
    return plan_season(loaded.book, loaded.record, loaded.catalogue, seed=DEFAULT_SEED, today=DEMO_TODAY)
