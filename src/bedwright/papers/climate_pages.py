"""Frost table, monthly climate and the climate chart."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Literal

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import BedDaylight, BedSun, Climate, FrostTable, MonthClimate, SeasonPlan
from bedwright.model.units import celsius_to_fahrenheit, mm_to_inches
from bedwright.papers.drawing import FINE_MM, HAIR_MM, MEDIUM_MM, Dash, Drawing
from bedwright.papers.letters import SMALLEST_PT
from bedwright.papers.measures import Measures, day_words, month_words, number_words, short_day
from bedwright.papers.sheet import INVENTED_MARK, frame, room_mm
from bedwright.papers.sun_drawing import sun_drawing
from bedwright.papers.typesetting import typeset

CHART_MM = (186.0, 88.0)
_SUN_HEAD_MM = 20.0
"""Taken by heading and words above the plans of sun."""
_LEFT, _RIGHT, _TOP, _BOTTOM = 16.0, 170.0, 10.0, 78.0


def climate_chart(
    climate: Climate,
    format: Literal["svg", "png"] = "svg",  # noqa: A002 (the word everyone expects here)
    *,
    units: UnitSystem = "metric",
) -> bytes:
    """Monthly temperatures as lines and rain as columns, one picture.

    Parameters
    ----------
    climate
        Climate of a site with twelve months.
    format
        `"svg"` or `"png"` (144 pixels an inch).
    units
        System of units on the axes.
    """
    mark = INVENTED_MARK if climate.invented else ""
    data = {"chart": climate_drawing(climate, units).data(), "station": climate.station, "mark": mark}
    return typeset("climate-chart", data, climate.last_day, output=format)


class _Axis:
    """A scale of values up the chart, ticked at round numbers."""

    def __init__(self, values: Sequence[float], steps: Sequence[float], *, from_zero: bool) -> None:
        low, high = (0.0 if from_zero else min(values)), max(values)
        step = next((s for s in steps if (high - low) / s <= 7), steps[-1])
        self.first = int(low // step)
        self.last = max(self.first + 1, int(-(-high // step)))
        self.step = step

    def y_mm(self, value: float) -> float:
        share = (value / self.step - self.first) / (self.last - self.first)
        return _BOTTOM - share * (_BOTTOM - _TOP)

    @property
    def ticks(self) -> list[float]:
        return [k * self.step for k in range(self.first, self.last + 1)]


def climate_drawing(climate: Climate, units: UnitSystem) -> Drawing:
    """The chart: mean daily minimum and maximum, soil (dashed), rain (columns, right axis)."""
    drawing = Drawing(*CHART_MM)
    us = units == "us"
    heat: Callable[[float], float] = celsius_to_fahrenheit if us else float
    rain: Callable[[float], float] = mm_to_inches if us else float
    lows, highs, soil = (
        [heat(value) for value in values]
        for values in zip(*((m.tmin_c, m.tmax_c, m.soil_temp_c) for m in climate.months), strict=True)
    )
    rains = [rain(m.rain_mm) for m in climate.months]
    left = _Axis([*lows, *highs, *soil], (5, 10, 20), from_zero=False)
    right = _Axis([2 * value for value in rains], (1, 2, 4) if us else (20, 50, 100, 200), from_zero=True)
    step = (_RIGHT - _LEFT) / len(rains)
    middles = [_LEFT + (k + 0.5) * step for k in range(len(rains))]
    _rule(drawing, left, right, "°F" if us else "°C", "in" if us else "mm")
    for x, value, month in zip(middles, rains, climate.months, strict=True):
        top = right.y_mm(value)
        box = [
            (x - step * 0.3, _BOTTOM),
            (x - step * 0.3, top),
            (x + step * 0.3, top),
            (x + step * 0.3, _BOTTOM),
        ]
        drawing.path(box, HAIR_MM, closed=True, fill="pale", grey=40)
        drawing.text(x, _BOTTOM + 3.2, month_words(month.month), align="centre", size_pt=8)
    lines: tuple[tuple[list[float], Dash, str], ...] = (
        (highs, "solid", "highest of the day"),
        (lows, "solid", "lowest of the day"),
        (soil, "dashed", "soil"),
    )
    for values, dash, _ in lines:
        drawing.path([(x, left.y_mm(v)) for x, v in zip(middles, values, strict=True)], MEDIUM_MM, dash=dash)
    _name_lines(drawing, middles, left, (highs, lows))
    return drawing


def _rule(drawing: Drawing, left: _Axis, right: _Axis, heat_unit: str, rain_unit: str) -> None:
    for value in left.ticks:
        y = left.y_mm(value)
        drawing.path(
            [(_LEFT, y), (_RIGHT, y)], MEDIUM_MM / 2 if value == 0 else HAIR_MM, grey=0 if value == 0 else 70
        )
        drawing.text(_LEFT - 1.5, y, number_words(value, 0), align="right", size_pt=8)
    for value in right.ticks:
        y = right.y_mm(value)
        drawing.path([(_RIGHT, y), (_RIGHT + 1.2, y)], FINE_MM)
        drawing.text(_RIGHT + 2.2, y, number_words(value, 1), size_pt=8)
    drawing.text(_LEFT - 1.5, 4.0, heat_unit, align="right", size_pt=8, bold=True)
    drawing.text(_RIGHT + 2.2, 4.0, f"{rain_unit} rain", size_pt=8, bold=True)
    drawing.path([(_LEFT, _BOTTOM), (_RIGHT, _BOTTOM)], FINE_MM)


def _name_lines(
    drawing: Drawing, middles: Sequence[float], axis: _Axis, lines: tuple[list[float], list[float]]
) -> None:
    """Words on the lines themselves, with a key for the dashed one."""
    highs, lows = lines
    k = max(range(len(highs)), key=lambda i: highs[i])
    drawing.text(middles[k], axis.y_mm(highs[k]) - 2.4, "mean daily maximum", align="centre", halo=True)
    j = max(range(len(lows)), key=lambda i: lows[i])
    drawing.text(middles[j], axis.y_mm(lows[j]) + 3.4, "mean daily minimum", align="centre", halo=True)
    drawing.path([(_LEFT + 2, 4.0), (_LEFT + 12, 4.0)], MEDIUM_MM, dash="dashed")
    drawing.text(_LEFT + 13.5, 4.0, "mean soil temperature")
    drawing.path(
        [(_LEFT + 52, 2.7), (_LEFT + 56, 2.7), (_LEFT + 56, 5.3), (_LEFT + 52, 5.3)],
        HAIR_MM,
        closed=True,
        fill="pale",
    )
    drawing.text(_LEFT + 57.5, 4.0, "rain of the month", size_pt=SMALLEST_PT)


def climate_data(plan: SeasonPlan, climate: Climate, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """Everything the template `climate.typ` sets."""
    measures = Measures(units)
    return {
        "frame": frame(plan, paper, "Climate of the site", "K"),
        "station": climate.station,
        "provenance": climate.provenance,
        "record": f"{day_words(climate.first_day)} to {day_words(climate.last_day)}, {climate.n_years} years",
        "confidence": climate.confidence,
        "chart": climate_drawing(climate, units).data(),
        "frost": _frost(climate, measures),
        "frost_free": [[f"{pct} %", str(days)] for pct, days in sorted(climate.frost_free_days.items())],
        "months_head": [
            "Month", f"Min {_degree(measures)}", f"Max {_degree(measures)}", f"Soil {_degree(measures)}",
            f"Rain {_depth(measures)}", f"Reference ET {_depth(measures)}", "Degree-days over 10 °C",
        ],
        "months": [_month(month, measures) for month in climate.months],
        "sun": [_sun(sun) for sun in plan.sun],
        "daylight": [_daylight(light) for light in plan.daylight],
        "sun_drawings": [
            sun_drawing(plan, months, _sun_room_mm(paper)).data()
            for months in ((range(1, 7), range(7, 13)) if plan.sun else ())
        ],
        "notes": [
            _plant_height_words(climate, measures),
            f"Reference evapotranspiration: {climate.reference_et_method}",
            f"Values filled: {climate.n_filled}; dropped as flagged: {climate.n_flagged_dropped}.",
            *climate.notes,
        ],
        "sources": [
            plan.sources[key].citation if key in plan.sources else key for key in climate.source_ids
        ],
    }  # fmt: skip


def _sun_room_mm(paper: PaperSize) -> tuple[float, float]:
    width, height = room_mm(paper, wide=False)
    return width, height - _SUN_HEAD_MM


def _plant_height_words(climate: Climate, measures: Measures) -> str:
    colder = _difference(climate.ground_frost_allowance_c, measures)
    return f"Plant height is taken {colder} colder than the shelter: {climate.ground_frost_basis}"


def _degree(measures: Measures) -> str:
    return "°F" if measures.us else "°C"


def _depth(measures: Measures) -> str:
    return "in" if measures.us else "mm"


def _difference(difference_c: float, measures: Measures) -> str:
    """A difference of temperatures: no offset between the scales."""
    if measures.us:
        return f"{number_words(difference_c * 1.8, 1)} °F"
    return f"{number_words(difference_c, 1)} °C"


def _frost(climate: Climate, measures: Measures) -> list[dict[str, Any]]:
    """A table for spring and one for autumn, a row for each threshold."""
    tables = []
    for season, heading in (
        ("spring", "Last frost in spring comes later than this day"),
        ("autumn", "First autumn frost has come by this day"),
    ):
        rows = [table for table in climate.frost if table.season == season]
        if rows:
            chances = [f"{quantile.chance_pct} %" for quantile in rows[0].quantiles]
            tables.append(
                {
                    "heading": heading,
                    "head": ["Minimum at or below", *chances, "Years without"],
                    "rows": [_frost_row(table, measures) for table in rows],
                }
            )
    return tables


def _frost_row(table: FrostTable, measures: Measures) -> list[str]:
    height = "at plant height" if table.at_plant_height else "in the shelter"
    days = [short_day(q.day) if q.day is not None else "not reached" for q in table.quantiles]
    years = f"{table.n_years_without} of {table.n_years}"
    return [f"{measures.temperature(table.threshold_c)} {height}", *days, years]


def _month(month: MonthClimate, measures: Measures) -> list[str]:
    return [
        month_words(month.month),
        measures.temperature_number(month.tmin_c),
        measures.temperature_number(month.tmax_c),
        measures.temperature_number(month.soil_temp_c),
        measures.rain(month.rain_mm),
        measures.rain(month.reference_et_mm),
        f"{month.degree_days_10c:.0f}",
    ]


def _sun(sun: BedSun) -> list[str]:
    return [
        sun.bed_code,
        *(f"{hours:.1f}" for hours in sun.month_h),
        "observed" if sun.observed else "computed",
    ]


def _daylight(light: BedDaylight) -> list[str]:
    """Average sky, and the clear one in brackets; the clear one alone where there is no record."""
    clear = [f"{mol:.0f}" for mol in light.clear_mol_m2]
    if not light.average_mol_m2:
        return [light.bed_code, *(f"({words})" for words in clear)]
    return [
        light.bed_code,
        *(f"{mol:.0f} ({words})" for mol, words in zip(light.average_mol_m2, clear, strict=True)),
    ]
