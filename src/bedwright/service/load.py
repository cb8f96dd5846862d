"""Reading a garden book together with what it names."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bedwright.catalogue import crop_name, load_catalogue, nearest_crops
from bedwright.model.book import GardenBook
from bedwright.model.crop import Catalogue
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.weather import WeatherRecord
from bedwright.service.machine_code import forget_outdated_machine_code
from bedwright.service.material_names import material_names
from bedwright.store.book import read_book, read_book_text
from bedwright.store.weather import read_weather


@dataclass(frozen=True, slots=True)
class Loaded:
    """A book without problems, its weather record and the catalogue it was read against."""

    book: GardenBook
    record: WeatherRecord | None
    catalogue: Catalogue


def load(book_file: Path, weather_file: Path | None = None) -> Loaded:
    """Read a book and its weather.

    Parameters
    ----------
    book_file
        The garden book.
    weather_file
        Used in place of the record that the book names; may lie anywhere.

    Raises
    ------
    BadDocumentError
        With every problem of the book and of the weather record.
    """
    forget_outdated_machine_code()
    catalogue = load_catalogue()
    problems: list[Problem] = []
    book: GardenBook | None = None
    try:
        book = read_book(
            book_file,
            catalogue,
            crop_named=lambda name: crop_name(name, catalogue),
            nearest_crops=lambda name: nearest_crops(name, catalogue),
            materials=material_names(catalogue),
            weather_given=weather_file is not None,
        )
    except BadDocumentError as error:
        problems += error.problems
    path = weather_file
    if path is None and book is not None and book.weather_file is not None:
        path = book_file.parent / book.weather_file
    record: WeatherRecord | None = None
    if path is not None:
        try:
            record = read_weather(path)
        except BadDocumentError as error:
            problems += error.problems
    if problems or book is None:
        raise BadDocumentError(tuple(problems))
    return Loaded(book, record, catalogue)


def book_from_text(text: str, file_name: str, catalogue: Catalogue) -> GardenBook:
    """Read a book that is at hand as text; its weather record is not looked for.

    Raises
    ------
    BadDocumentError
        With every problem of the text.
    """
    return read_book_text(
        text,
        file_name,
        catalogue,
        crop_named=lambda name: crop_name(name, catalogue),
        nearest_crops=lambda name: nearest_crops(name, catalogue),
        materials=material_names(catalogue),
    )
