"""Heat and frost for the people who work, from the record round each planned workday."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

import numpy as np

from bedwright.engine.soil.rounding import spoken_temperature
from bedwright.model.safety import ASK_LOCALLY, Caution, HeatRisk, WorkdayWeather
from bedwright.model.units import celsius_to_fahrenheit, fahrenheit_to_celsius
from bedwright.model.weather import BoolArray, FloatArray, WeatherRecord

RISK_FROM_F: tuple[tuple[HeatRisk, float], ...] = (("moderate", 91.0), ("high", 103.0), ("very high", 115.0))
"""Heat index at which each level of risk begins [°F] (OSHA_HEAT)."""
DAYS_ROUND = 3
"""Days before and after a workday that are looked at in every recorded year: chosen here."""
WORTH_SAYING = 0.05
"""Share of recorded days from which a caution is written: chosen here."""


def heat_index_c(temperature_c: float, humidity_pct: float) -> float:
    """Heat index, the temperature it feels like in the shade [°C].

    Parameters
    ----------
    temperature_c : float
        Air temperature. [°C], -40 to 60.
    humidity_pct : float
        Relative humidity at the same time. [%], 0 to 100.

    Raises
    ------
    ValueError
        If a figure is out of range.

    Source
    ------
    Rothfusz 1990, National Weather Service SR 90-23, with both adjustments and the simple form
    below 80 °F, as the Weather Prediction Center prints them (ROTHFUSZ_90).

    Limits
    ------
    For shade and a light wind; full sun adds as much as one level of risk (OSHA_HEAT).
    """
    if not -40 <= temperature_c <= 60 or not 0 <= humidity_pct <= 100:
        raise ValueError(f"expected -40 to 60 °C and 0 to 100 %; got {temperature_c} °C and {humidity_pct} %")
    t, rh = celsius_to_fahrenheit(temperature_c), humidity_pct
    simple = 0.5 * (t + 61.0 + (t - 68.0) * 1.2 + rh * 0.094)
    if (simple + t) / 2 < 80:
        return fahrenheit_to_celsius((simple + t) / 2)
    index = (
        -42.379
        + 2.04901523 * t
        + 10.14333127 * rh
        - 0.22475541 * t * rh
        - 0.00683783 * t * t
        - 0.05481717 * rh * rh
        + 0.00122874 * t * t * rh
        + 0.00085282 * t * rh * rh
        - 0.00000199 * t * t * rh * rh
    )
    if rh < 13 and 80 <= t <= 112:
        index -= (13 - rh) / 4 * math.sqrt((17 - abs(t - 95)) / 17)
    elif rh > 85 and 80 <= t <= 87:
        index += (rh - 85) / 10 * (87 - t) / 5
    return fahrenheit_to_celsius(index)


def heat_risk(heat_index: float) -> HeatRisk:
    """Level of risk of a heat index in °C (OSHA_HEAT)."""
    index_f = celsius_to_fahrenheit(heat_index)
    reached: list[HeatRisk] = [risk for risk, from_f in RISK_FROM_F if index_f >= from_f]
    return reached[-1] if reached else "lower"


def workday_weather(record: WeatherRecord, workdays: Sequence[date]) -> tuple[WorkdayWeather, ...]:
    """What the record holds for the week round each planned workday.

    Parameters
    ----------
    record : WeatherRecord
        Daily record; humidity is used where it has any.
    workdays : Sequence[date]
        Days on which people are to work.

    Returns
    -------
    tuple of WorkdayWeather
        In the order of `workdays`; days the record knows nothing of are left out.
    """
    humidity, note = _humidity(record)
    ordinals = _day_of_year(record)
    return tuple(
        found for day in workdays if (found := _one_day(record, day, ordinals, humidity, note)) is not None
    )


def _humidity(record: WeatherRecord) -> tuple[FloatArray | None, str]:
    if record.rh_min_pct is not None:
        return record.rh_min_pct, "Heat index from the day's maximum temperature and least humidity."
    if record.rh_mean_pct is not None:
        return record.rh_mean_pct, (
            "Heat index from the day's maximum temperature and mean humidity: air is drier at the hottest "
            "hour, "
            "so this reads somewhat high."
        )
    return None, "The record has no humidity, so the heat index is not known; temperatures alone are given."


def _day_of_year(record: WeatherRecord) -> FloatArray:
    years = record.dates.astype("datetime64[Y]")
    ordinals: FloatArray = (record.dates - years.astype("datetime64[D]")).astype(np.float64)
    return ordinals


def _near(ordinals: FloatArray, day: date) -> BoolArray:
    apart = np.abs(ordinals - (day.timetuple().tm_yday - 1))
    # New Year lies inside the window of a January day.
    near: BoolArray = np.minimum(apart, 365 - apart) <= DAYS_ROUND
    return near


def _one_day(
    record: WeatherRecord, day: date, ordinals: FloatArray, humidity: FloatArray | None, note: str
) -> WorkdayWeather | None:
    near = _near(ordinals, day) & np.isfinite(record.tmax_c) & np.isfinite(record.tmin_c)
    if not near.any():
        return None
    tmax = record.tmax_c[near]
    hottest: float | None = None
    shares: tuple[tuple[HeatRisk, float], ...] = ()
    if humidity is not None:
        known = np.isfinite(humidity[near])
        pairs = zip(tmax[known], humidity[near][known], strict=True)
        indices = np.array([heat_index_c(float(t), min(100.0, max(0.0, float(rh)))) for t, rh in pairs])
        if indices.size:
            hottest = float(indices.max())
            shares = tuple(
                (risk, float((indices >= fahrenheit_to_celsius(from_f)).mean()))
                for risk, from_f in RISK_FROM_F
            )
    frost_share = float((record.tmin_c[near] <= 0).mean())
    return WorkdayWeather(day, int(near.sum()), hottest, shares, frost_share, float(tmax.max()), note)


def workday_cautions(found: Sequence[WorkdayWeather]) -> tuple[Caution, ...]:
    """Cautions for the workdays on which heat or frost is likely enough to plan for."""
    cautions = []
    for weather in found:
        heat = next((share for risk, share in weather.shares if risk == "moderate"), 0.0)
        day = weather.day.isoformat()
        if heat >= WORTH_SAYING and weather.hottest_heat_index_c is not None:
            worst = heat_risk(weather.hottest_heat_index_c)
            text = (
                f"{day}: on {_percent(heat)} of recorded days round this date the heat index reached 91 °F "
                "(33 °C) or "
                f"more, at most {spoken_temperature(weather.hottest_heat_index_c)}, {worst} risk. Start "
                "early, shade, about "
                "4 cups (1 L) of water an hour, breaks; newcomers first to rest; in full sun take the next "
                "level. "
                f"{weather.note} {ASK_LOCALLY}"
            )
            rule = "US OSHA, Using the Heat Index (undated): moderate 91, high 103, very high 115 °F"
            cautions.append(Caution("heat", "act", text, rule, ("OSHA_HEAT", "ROTHFUSZ_90"), day=weather.day))
        elif not weather.shares and weather.hottest_tmax_c >= 30:
            text = (
                f"{day}: up to {spoken_temperature(weather.hottest_tmax_c)} in the record round this date. "
                f"{weather.note} "
                f"Look at the forecast heat index before calling people in. {ASK_LOCALLY}"
            )
            cautions.append(
                Caution(
                    "heat",
                    "know",
                    text,
                    "US OSHA, Using the Heat Index (undated)",
                    ("OSHA_HEAT",),
                    day=weather.day,
                )
            )
        if weather.frost_share >= WORTH_SAYING:
            text = (
                f"{day}: frost on {_percent(weather.frost_share)} of recorded mornings round this date. "
                "Start after the "
                "thaw; paths may be slippery; dry gloves; do not walk on frozen beds or lawns."
            )
            cautions.append(
                Caution("frost", "know", text, "common practice, no source", ("PRACTICE",), day=weather.day)
            )
    return tuple(cautions)


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"
