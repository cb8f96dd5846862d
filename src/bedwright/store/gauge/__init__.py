"""The water log: rain gauge, waterings and forecast, read with every problem at once."""

from bedwright.store.gauge.reader import (
    BedWatering,
    KnownCodes,
    WaterLog,
    read_water_log,
    read_water_log_text,
)
from bedwright.store.gauge.schema import WATER_LOG

__all__ = ["WATER_LOG", "BedWatering", "KnownCodes", "WaterLog", "read_water_log", "read_water_log_text"]
