"""Placing the example garden: time and value of the first plan and of the improved one, in one run."""

from __future__ import annotations

import time
from datetime import date

from bedwright.engine.climate import fill_gaps, season_years
from bedwright.engine.placement import Placement, check, place
from bedwright.engine.placement.terms import WORTH_BY_PRIORITY
from bedwright.engine.sunlight import bed_light
from bedwright.engine.timing import plan_dates
from bedwright.model.book import GardenBook
from bedwright.model.crop import Catalogue
from bedwright.model.light import BedLight
from bedwright.model.season import PlantingRequest
from bedwright.service.demo_garden import demo_book
from bedwright.service.load import load

TODAY = date(2026, 11, 25)
EFFORTS = (0, 100_000, 1_000_000, 4_000_000)


def example_garden() -> tuple[GardenBook, tuple[PlantingRequest, ...], tuple[BedLight, ...], Catalogue]:
    """The example garden up to the point where places are sought."""
    with demo_book() as file:
        loaded = load(file)
    book, catalogue = loaded.book, loaded.catalogue
    assert loaded.record is not None
    years = season_years(fill_gaps(loaded.record)[0], book.season_start)
    requests = plan_dates(book, catalogue.crops, years, today=TODAY)
    return book, tuple(requests), tuple(bed_light(book.site, book.beds)), catalogue


def most_points(requests: tuple[PlantingRequest, ...]) -> float:
    """Points if every planting with a date were placed whole on its surest date and nothing were amiss."""
    by_wish: dict[str, int] = {}
    for request in requests:
        by_wish[request.wish_code] = by_wish.get(request.wish_code, 0) + request.n_plants
    total = 0.0
    for request in requests:
        surest = max((1.0 if one.chance is None else one.chance for one in request.choices), default=0.0)
        share = request.n_plants / by_wish[request.wish_code]
        total += WORTH_BY_PRIORITY[request.priority] * share * surest
    return total


def main() -> None:
    book, requests, light, catalogue = example_garden()
    most = most_points(requests)
    n_dated = sum(1 for request in requests if request.choices)
    print(f"{len(book.beds)} beds, {n_dated} of {len(requests)} plantings with a date")
    first: tuple[float, Placement] | None = None
    for effort in EFFORTS:
        started = time.process_time()
        made = place(
            book, requests, light, catalogue.neighbours, dict(catalogue.crops), seed=1, effort=effort
        )
        spent_s = time.process_time() - started
        assert not check(book, made.plantings, requests)
        first = first or (spent_s, made)
        print(
            f"moves {effort:7d}: {spent_s:5.2f} s of a core ({spent_s / first[0]:.2f} times the first), "
            f"{made.value:7.1f} points ({made.value / first[1].value:.4f} times the first plan, "
            f"{made.value / most:.3f} of {most:.0f}, the most that could be), "
            f"{len(made.shortfalls)} plantings short"
        )


if __name__ == "__main__":
    main()
