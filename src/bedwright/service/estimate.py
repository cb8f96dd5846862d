"""Whether ground, weeks and hours suffice for the wishes, quick enough to follow a form."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from dataclasses import dataclass, field, replace
from datetime import date
from threading import Lock

from bedwright.engine.climate import climate_of, fill_gaps, season_years
from bedwright.engine.pipeline import estimate_season
from bedwright.engine.timing import plan_dates
from bedwright.model.book import GardenBook
from bedwright.model.crop import Catalogue
from bedwright.model.estimate import SeasonEstimate
from bedwright.model.season import Climate, PlantingRequest
from bedwright.model.weather import SeasonYears, WeatherRecord

MOST_WISHES = 2000
"""Wishes whose dates are kept; the one untouched longest is given up first."""


@dataclass(slots=True)
class Estimator:
    """Estimates for the garden books of one site's weather; dates of wishes that stay are kept.

    Losing what it keeps costs time and nothing else. Safe for several threads.
    """

    record: WeatherRecord | None
    catalogue: Catalogue
    _dates: OrderedDict[Hashable, tuple[PlantingRequest, ...]] = field(default_factory=OrderedDict)
    _weather: dict[Hashable, tuple[Climate, SeasonYears]] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def estimate(self, book: GardenBook, *, today: date) -> SeasonEstimate:
        """Estimate a book.

        Parameters
        ----------
        book
            A book whose reader found no problem; it may differ from the last one in anything.
        today
            Nothing is begun before it.
        """
        climate, years = self._weather_of(book)
        requests = [
            request for number in range(len(book.wishes)) for request in self._of(book, number, years, today)
        ]
        return estimate_season(book, requests, self.catalogue, climate, today=today)

    def _weather_of(self, book: GardenBook) -> tuple[Climate | None, SeasonYears | None]:
        if self.record is None:
            return None, None
        key = (book.site.latitude_deg, book.site.longitude_deg, book.site.elevation_m, book.season_start)
        found = self._weather.get(key)
        if found is None:
            filled, _, _ = fill_gaps(self.record)
            found = (
                climate_of(self.record, book.site, book.season_start),
                season_years(filled, book.season_start),
            )
            self._weather = {key: found}
        return found

    def _of(
        self, book: GardenBook, number: int, years: SeasonYears | None, today: date
    ) -> tuple[PlantingRequest, ...]:
        wish = book.wishes[number]
        key = (
            wish, book.site.latitude_deg, book.season_start, book.frost_risk_pct, book.chance_wanted_pct,
            book.stated_frost, today,
        )  # fmt: skip
        with self._lock:
            found = self._dates.get(key)
            if found is not None:
                self._dates.move_to_end(key)
                return found
        found = plan_dates(replace(book, wishes=(wish,)), self.catalogue.crops, years, today=today)
        with self._lock:
            self._dates[key] = found
            while len(self._dates) > MOST_WISHES:
                self._dates.popitem(last=False)
        return found
