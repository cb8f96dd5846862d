"""Weather records of a garden: uploaded, checked, kept as they came."""

from __future__ import annotations

import gzip
import re
import tempfile
from dataclasses import replace
from pathlib import Path, PurePosixPath

import numpy as np
from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden, WeatherFile
from bedwright.apps.web.people.models import User
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.weather import WeatherRecord
from bedwright.store.weather import read_weather

MOST_BYTES = 50_000_000
"""As much as the reader takes."""


def file_name(name: str) -> str:
    """A name that a garden book can call the file by, made from the name it came with."""
    base = PurePosixPath(name.replace("\\", "/")).name
    plain = re.sub(r"[^A-Za-z0-9._-]+", "-", base).strip("-.")
    return plain[-100:] or "weather.csv"


def keep_weather(garden: Garden, name: str, content: bytes, person: User | None) -> WeatherFile:
    """Keep a record under a name; an earlier one of that name is replaced.

    Raises
    ------
    BadDocumentError
        If it is too large or not a weather record; told from its content, not its name.
    """
    if len(content) > MOST_BYTES:
        got = f"{len(content) / 1e6:.0f} MB"
        problem = Problem(name, None, None, "the file", got, f"at most {MOST_BYTES / 1e6:g} MB")
        raise BadDocumentError((problem,))
    record = _read(name, content)
    days = record.dates.astype("datetime64[D]")
    kept, _ = WeatherFile.objects.update_or_create(
        garden=garden,
        name=name,
        defaults={
            "packed": gzip.compress(content, mtime=0),
            "n_bytes": len(content),
            "station": record.station[:200],
            "provenance": record.provenance,
            "invented": record.invented,
            "first_day": np.datetime_as_string(days[0]),
            "last_day": np.datetime_as_string(days[-1]),
            "uploaded_by": person,
            "uploaded_at": timezone.now(),
        },
    )
    return kept


def _read(name: str, content: bytes) -> WeatherRecord:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "record"
        path.write_bytes(content)
        try:
            return read_weather(path)
        except BadDocumentError as error:
            raise BadDocumentError(tuple(replace(each, file=name) for each in error.problems)) from error


def record_of(kept: WeatherFile) -> WeatherRecord:
    """The record in a file that is kept.

    Raises
    ------
    BadDocumentError
        If an older release accepted what this one does not.
    """
    return _read(kept.name, kept.content)


def put_beside_book(garden: Garden, weather_file: str | None, folder: Path) -> bool:
    """Write the record that a book names into the folder of the book; False if there is none."""
    if weather_file is None:
        return False
    kept = WeatherFile.objects.filter(garden=garden, name=weather_file).first()
    if kept is None:
        return False
    target = folder / weather_file
    if not target.resolve().is_relative_to(folder.resolve()):
        # The reader refuses such names already; this holds even if a book slipped past it.
        return False
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(kept.content)
    return True
