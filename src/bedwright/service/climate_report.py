"""The climate of a site as tables a person can read in a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from bedwright.engine.climate import fill_gaps, season_years
from bedwright.engine.timing import calendar_for_site
from bedwright.model.book import GardenBook
from bedwright.model.season import Climate, FrostTable
from bedwright.service.load import Loaded

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def climate_text(climate: Climate) -> str:
    """Frost dates, months and what they rest on, as plain text."""
    return "\n".join(_lines(climate)) + "\n"


def crop_calendar_text(loaded: Loaded) -> str:
    """When each crop of the catalogue can go in at the site, a line a window, as plain text.

    Parameters
    ----------
    loaded
        A book with its record; without a record there is nothing to reckon with.

    Raises
    ------
    ValueError
        If there is no record.
    """
    if loaded.record is None:
        raise ValueError("without a weather record no chances are known")
    book = loaded.book
    filled, _, _ = fill_gaps(loaded.record)
    rows = calendar_for_site(
        loaded.catalogue.crops,
        season_years(filled, book.season_start),
        latitude_deg=book.site.latitude_deg,
        frost_risk_pct=book.frost_risk_pct,
        chance_wanted_pct=book.chance_wanted_pct,
    )
    risks = f"frost risk {book.frost_risk_pct:g} %, chance wanted {book.chance_wanted_pct:g} %"
    heads = ("crop", "way", "opens", "closes", "best", "pick from", "chance", "last useful")
    lines = [f"When each crop can go in ({risks})", _crop_line(heads)]
    for row in rows:
        if not row.windows:
            lines.append(f"{row.crop:<17}{row.way:<7}not here: {row.no_window_reason}")
        for window in row.windows:
            best = window.best
            days = (_day(window.opens), _day(window.closes), _day(best.in_ground))
            pick, last = _far_day(best.first_pick, book), _day(row.last_useful)
            chance = "" if best.chance is None else f"{best.chance:.0%}"
            lines.append(_crop_line((row.crop, row.way, *days, pick, chance, last)))
    return "\n".join(lines) + "\n"


def _lines(climate: Climate) -> Iterator[str]:
    yield f"Climate of {climate.station}"
    yield climate.provenance
    yield f"{climate.first_day} to {climate.last_day}: {climate.n_years} years. {climate.confidence}"
    if climate.invented:
        yield "INVENTED RECORD: an example, not advice for a real place."
    for season, title in (
        ("spring", "Last frost of spring is later than"),
        ("autumn", "First frost of autumn has come by"),
    ):
        tables = [table for table in climate.frost if table.season == season]
        if tables:
            yield ""
            yield from _frost_lines(title, tables)
    yield ""
    lengths = ", ".join(
        f"{days} days ({chance} %)" for chance, days in sorted(climate.frost_free_days.items())
    )
    yield f"Frost-free season at least: {lengths}"
    yield (
        f"Low plants: {climate.ground_frost_allowance_c:g} °C colder than the shelter. "
        f"{climate.ground_frost_basis}"
    )
    yield ""
    yield "month   tmin °C  tmax °C  rain mm  soil °C  ET0 mm  degree-days over 10 °C"
    for month in climate.months:
        yield (
            f"{MONTHS[month.month - 1]:<6}{month.tmin_c:>9.1f}{month.tmax_c:>9.1f}{month.rain_mm:>9.0f}"
            f"{month.soil_temp_c:>9.1f}{month.reference_et_mm:>8.0f}{month.degree_days_10c:>12.0f}"
        )
    yield ""
    yield f"Reference evapotranspiration: {climate.reference_et_method}"
    yield f"Values filled: {climate.n_filled}; dropped as flagged: {climate.n_flagged_dropped}."
    yield from climate.notes
    yield f"Sources: {', '.join(climate.source_ids)}"


def _frost_lines(title: str, tables: list[FrostTable]) -> Iterator[str]:
    chances = [quantile.chance_pct for quantile in tables[0].quantiles]
    yield title + "".join(f"{chance:>8} %" for chance in chances) + "   years without"
    for table in tables:
        height = "plant height" if table.at_plant_height else "shelter"
        name = f"  {table.threshold_c:g} °C, {height}"
        days = "".join(f"{_day(quantile.day):>10}" for quantile in table.quantiles)
        yield f"{name:<{len(title)}}{days}   {table.n_years_without} of {table.n_years}"


def _crop_line(cells: Sequence[str]) -> str:
    widths = (17, 7, -8, -8, -8, -13, -8, -13)
    return "".join(
        cell.ljust(width) if width > 0 else cell.rjust(-width)
        for cell, width in zip(cells, widths, strict=True)
    )


def _far_day(day: date, book: GardenBook) -> str:
    """A day that may lie in a later year than the season's start, which is then told."""
    return _day(day) if day.year == book.season_start.year else f"{_day(day)} {day.year}"


def _day(day: date | None) -> str:
    return "none" if day is None else f"{day.day} {MONTHS[day.month - 1]}"
