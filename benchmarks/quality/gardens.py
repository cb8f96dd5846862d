"""Gardens made up by a fixed recipe from the crops of the catalogue.

Beds of 0.75 to 1.2 m by 2.4 to 8 m stand side by side in rows of ten, one in eight with a trellis along
its northern side; some earlier crops are on record. Crops are drawn from all that have a date on the
example record. Two kinds: in a roomy garden a planting wants 4 to 35 % of a mean bed's ground and nearly
everything finds a place; in a tight one 8 to 50 %. On 20 June, at the dates preferred, 0.7 to 1.0 times the
ground there is is asked for in roomy gardens; in tight ones 1.0 to 1.2 times with 6 beds and 25 plantings,
1.3 to 1.5 with 12 and 60, 1.7 with 40 and 250. The same kind, size and seed give the same garden.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from datetime import date
from functools import cache

from bedwright.engine.climate import fill_gaps, season_years
from bedwright.engine.placement.problem import PlacementProblem, build_problem
from bedwright.engine.placement.rules import COMMON_RULES
from bedwright.engine.placement.weekly import hours_of
from bedwright.engine.sunlight import bed_light
from bedwright.engine.timing import plan_dates
from bedwright.model.book import Amount, Bed, GardenBook, History, Support, Wish
from bedwright.model.crop import Catalogue
from bedwright.model.ground import Rectangle
from bedwright.model.light import BedLight
from bedwright.model.season import PlantingRequest
from bedwright.model.weather import WeatherRecord
from bedwright.service.demo_garden import demo_book
from bedwright.service.load import load

TODAY = date(2026, 11, 25)
LENGTHS_M = (2.4, 3.6, 5.0, 6.0, 8.0)
WIDTHS_M = (0.75, 0.9, 1.2, 1.2, 1.2)
PRIORITIES = (1, 2, 3, 3, 3, 4, 4, 5)
GROUND = {"roomy": (0.04, 0.35), "tight": (0.08, 0.5)}
ROW_M, COLUMN_M = 10.0, 2.0


@dataclass(frozen=True, slots=True, eq=False)
class Garden:
    """One question with all that it is asked with."""

    name: str
    book: GardenBook
    requests: tuple[PlantingRequest, ...]
    light: tuple[BedLight, ...]
    catalogue: Catalogue

    def problem(self) -> PlacementProblem:
        """The question as the search sees it."""
        return build_problem(
            self.book, self.requests, self.light, self.catalogue.neighbours, self.catalogue.crops,
            COMMON_RULES, hours=hours_of(self.book),
        )  # fmt: skip


@cache
def _example() -> tuple[GardenBook, WeatherRecord, Catalogue]:
    with demo_book() as file:
        loaded = load(file)
    assert loaded.record is not None
    return loaded.book, loaded.record, loaded.catalogue


def example_record() -> WeatherRecord:
    """The weather record of the example garden."""
    return _example()[1]


@cache
def dated_crops() -> tuple[GardenBook, tuple[PlantingRequest, ...], Catalogue]:
    """The example book, one request for each crop of the catalogue that has a date there, the catalogue."""
    book, record, catalogue = _example()
    wishes = tuple(Wish(name, name, Amount(10, "plants")) for name in sorted(catalogue.crops))
    years = season_years(fill_gaps(record)[0], book.season_start)
    asked = plan_dates(replace(book, wishes=wishes), catalogue.crops, years, today=TODAY)
    return book, tuple(one for one in asked if one.choices and one.code == one.wish_code), catalogue


def made_garden(n_beds: int, n_plantings: int, seed: int, kind: str = "tight") -> Garden:
    """A garden of a kind and size from the recipe above."""
    rng = random.Random(seed * 1_000_003 + n_beds)
    book, dated, catalogue = dated_crops()
    beds = []
    for number in range(n_beds):
        length_m, width_m = rng.choice(LENGTHS_M), rng.choice(WIDTHS_M)
        supports = (Support("trellis", "west", 1.8),) if rng.random() < 1 / 8 else ()
        east_m, north_m = (number % 10) * COLUMN_M, (number // 10) * ROW_M
        beds.append(
            Bed(
                code=f"B{number + 1}",
                name=f"Bed {number + 1}",
                outline=Rectangle(length_m, width_m, east_m, north_m, 0.0),
                texture="loam",
                reach=("east", "west"),
                supports=supports,
            )
        )
    history = tuple(
        History(bed.code, year, (rng.choice(dated).crop.name,)) for bed in beds for year in (2024, 2025, 2026)
    )
    mean_m2 = sum(bed.frame.length_m * bed.frame.width_m for bed in beds) / n_beds
    requests = []
    for number in range(n_plantings):
        of = rng.choice(dated)
        ground_m2 = rng.uniform(*GROUND[kind]) * mean_m2
        n_plants = max(1, round(ground_m2 / (of.crop.in_row_spacing_m * of.crop.row_spacing_m)))
        code = f"{of.crop.name}-{number + 1}"
        requests.append(
            replace(of, code=code, wish_code=code, n_plants=n_plants, priority=rng.choice(PRIORITIES))
        )
    garden = replace(
        book,
        site=replace(book.site, features=()),
        beds=tuple(beds),
        history=history,
        wishes=(),
        people=(),
        neighbours=(),
    )
    light = tuple(bed_light(garden.site, garden.beds))
    return Garden(f"{kind} {n_beds}/{n_plantings} seed {seed}", garden, tuple(requests), light, catalogue)
