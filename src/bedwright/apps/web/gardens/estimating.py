"""Estimates of a garden's book, with what each process keeps to give them quickly."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from bedwright.apps.web.gardens.models import Garden, WeatherFile
from bedwright.apps.web.gardens.reading import catalogue
from bedwright.apps.web.gardens.weather import record_of
from bedwright.model.book import GardenBook
from bedwright.model.estimate import SeasonEstimate
from bedwright.service.estimate import Estimator


class NoRecordError(Exception):
    """The book names a weather record that is not here."""


def estimate_of(garden: Garden, book: GardenBook, *, today: date) -> SeasonEstimate:
    """Whether ground, weeks and hours suffice for a book of the garden.

    Raises
    ------
    NoRecordError
        If the record that it names is not here.
    BadDocumentError
        If the record cannot be read any more.
    """
    return _estimator(garden.pk, *_weather(garden, book)).estimate(book, today=today)


def _weather(garden: Garden, book: GardenBook) -> tuple[int | None, float]:
    """The record's number and when it came: a record put in anew is read anew."""
    if book.weather_file is None:
        return None, 0.0
    kept = WeatherFile.objects.filter(garden=garden, name=book.weather_file).defer("packed").first()
    if kept is None:
        raise NoRecordError(book.weather_file)
    return kept.pk, kept.uploaded_at.timestamp() + kept.n_bytes


@lru_cache(maxsize=16)
def _estimator(_garden_id: int, file_id: int | None, _came: float) -> Estimator:
    if file_id is None:
        return Estimator(None, catalogue())
    return Estimator(record_of(WeatherFile.objects.get(pk=file_id)), catalogue())
