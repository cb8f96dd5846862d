"""Direct sun that reaches each bed."""

from bedwright.engine.sunlight.bed_light import bed_light
from bedwright.engine.sunlight.obstacles import Obstacle, obstacles_of
from bedwright.engine.sunlight.shade import Skyline, skyline, sun_hours
from bedwright.engine.sunlight.sources import SOURCES
from bedwright.engine.sunlight.sun_position import (
    RISE_SET_ELEVATION_DEG,
    SunDay,
    days_since_j2000,
    rise_and_set,
    sun_day,
    sun_position,
)

__all__ = [
    "RISE_SET_ELEVATION_DEG",
    "SOURCES",
    "Obstacle",
    "Skyline",
    "SunDay",
    "bed_light",
    "days_since_j2000",
    "obstacles_of",
    "rise_and_set",
    "skyline",
    "sun_day",
    "sun_hours",
    "sun_position",
]
