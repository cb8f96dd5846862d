"""A water log read from a file or from text, with every problem at once."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from bedwright.model import bounds
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.water import ForecastDay, RainReading
from bedwright.store.book.fault import Faults
from bedwright.store.book.near import nearest_hint
from bedwright.store.book.nodes import quoted, read_nodes
from bedwright.store.book.read import Row, SchemaReader
from bedwright.store.gauge.schema import WATER_LOG


@dataclass(frozen=True, slots=True)
class BedWatering:
    """Water given to one planting, or to a whole bed where `planting_code` is empty."""

    day: date
    bed_code: str
    planting_code: str
    water_l: float


@dataclass(frozen=True, slots=True)
class WaterLog:
    """What is known of this season's water."""

    readings: tuple[RainReading, ...] = ()
    waterings: tuple[BedWatering, ...] = ()
    forecast: tuple[ForecastDay, ...] = ()
    tap_flow_l_min: float | None = None
    """None: as the garden book states."""
    can_l: float | None = None


@dataclass(frozen=True, slots=True)
class KnownCodes:
    """Codes a log may name."""

    beds: Collection[str]
    plantings: dict[str, str] = field(default_factory=dict)
    """Code of the planting by its own code and by those of its rows."""


def read_water_log(path: Path, known: KnownCodes, *, today: date) -> WaterLog:
    """Read a water log.

    Parameters
    ----------
    path
        The YAML file, UTF-8, at most `BOOK_BYTES` large.
    known
        Codes of the garden's beds and plantings.
    today
        Readings and waterings after it are problems. What was forecast for days before it is
        left out, since the gauge or nobody knows by now what fell.

    Raises
    ------
    BadDocumentError
        If there is any fault; it carries all of them, in the order of the text.
    """
    return read_water_log_text(_text_of(path), str(path), known, today=today)


def read_water_log_text(text: str, file_name: str, known: KnownCodes, *, today: date) -> WaterLog:
    """Read a water log from text; see `read_water_log`.

    Raises
    ------
    BadDocumentError
        If there is any fault; it carries all of them, in the order of the text.
    """
    if all(not line.strip() or line.lstrip().startswith("#") for line in text.splitlines()):
        return WaterLog()
    faults = Faults(file_name)
    row = SchemaReader(faults).row(read_nodes(text, faults), WATER_LOG, "")
    rain, waterings, forecast = (row.rows(key) for key in ("rain", "waterings", "forecast"))
    _once_a_day(rain, faults, "Read twice: keep one, or add both up.")
    _once_a_day(forecast, faults, "Keep the newer one.")
    _once(waterings, faults)
    for each in (*rain, *waterings):
        _not_after(each, today, faults)
    for each in waterings:
        _known(each, "bed", known.beds, faults)
        _known(each, "planting", known.plantings, faults)
    faults.raise_if_any()
    return WaterLog(
        readings=tuple(
            RainReading(each.one("date", date), each.one("rain_mm", float), each.line) for each in rain
        ),
        waterings=tuple(_watering(each, known) for each in waterings),
        forecast=tuple(
            ForecastDay(
                each.one("date", date), each.one("rain_mm", float), each.maybe("reference_et_mm", float)
            )
            for each in forecast
            if each.one("date", date) >= today
        ),
        tap_flow_l_min=row.maybe("flow_l_min", float),
        can_l=row.maybe("can_l", float),
    )


def _watering(row: Row, known: KnownCodes) -> BedWatering:
    planting = row.maybe("planting", str, "")
    return BedWatering(
        day=row.one("date", date),
        bed_code=row.maybe("bed", str, ""),
        planting_code=known.plantings[planting] if planting else "",
        water_l=row.one("water_l", float),
    )


def _once_a_day(rows: Sequence[Row], faults: Faults, hint: str) -> None:
    _unrepeated(rows, lambda row: row.one("date", date), "one entry a day", hint, faults)


def _once(rows: Sequence[Row], faults: Faults) -> None:
    def key(row: Row) -> Hashable:
        return row.one("date", date), row.maybe("bed", str), row.maybe("planting", str)

    _unrepeated(rows, key, "one entry a day for each bed or planting", "Add both up.", faults)


def _unrepeated(
    rows: Sequence[Row], key: Callable[[Row], Hashable], expected: str, hint: str, faults: Faults
) -> None:
    first: dict[Hashable, int] = {}
    for row in rows:
        if "date" not in row:
            continue
        place = row.values["date"]
        line = first.setdefault(key(row), place.line)
        if line != place.line:
            faults.at(place, place.where, str(place.value), f"{expected}; line {line} has it too", hint)


def _not_after(row: Row, today: date, faults: Faults) -> None:
    if "date" in row and row.one("date", date) > today:
        place = row.values["date"]
        hint = "A day to come belongs to the forecast."
        faults.at(place, place.where, str(place.value), f"a day up to {today}", hint)


def _known(row: Row, key: str, codes: Collection[str], faults: Faults) -> None:
    if key in row and row.one(key, str) not in codes:
        place = row.values[key]
        code = str(place.value)
        faults.at(place, place.where, quoted(code), f"the code of a {key}", nearest_hint(code, codes))


def _text_of(path: Path) -> str:
    file = str(path)

    def refused(got: str, expected: str, hint: str = "") -> BadDocumentError:
        return BadDocumentError((Problem(file, None, None, "the file", got, expected, hint),))

    try:
        if path.is_file() and path.stat().st_size > bounds.BOOK_BYTES.high:
            raise refused("a larger file", f"at most {bounds.BOOK_BYTES.high / 1e6:g} MB of text")
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        hint = "Save the file as plain text in UTF-8; word-processor files cannot be read."
        raise refused("bytes that are not UTF-8 text", "UTF-8 text", hint) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise refused(reason, "a water log", "Check the path.") from None
