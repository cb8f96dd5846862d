"""The climate of a site as tables a person can read in a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from bedwright.model.season import Climate, FrostTable

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def climate_text(climate: Climate) -> str:
    """Frost dates, months and what they rest on, as plain text."""
    return "\n".join(_lines(climate)) + "\n"


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


def _day(day: date | None) -> str:
    return "none" if day is None else f"{day.day} {MONTHS[day.month - 1]}"
