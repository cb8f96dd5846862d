"""Sun and light that reach beds and site."""

from bedwright.engine.sunlight.bed_light import CELL_M, bed_light, bed_weeks
from bedwright.engine.sunlight.crops import crop_height_m, crop_obstacles
from bedwright.engine.sunlight.daylight import bed_daylight, planting_daylight_mol_m2, sun_among_crops_h
from bedwright.engine.sunlight.obstacles import BARE_CROWN_SHADE, Obstacle, bed_obstacles, obstacles_of
from bedwright.engine.sunlight.open_sky import (
    PLANT_LIGHT_MOL_MJ,
    average_light,
    clear_light,
    daily_light_mj_m2,
)
from bedwright.engine.sunlight.own_weeks import planting_own_sun_h, planting_sun_h
from bedwright.engine.sunlight.places import LEVEL, Places, Slope
from bedwright.engine.sunlight.sources import SOURCES
from bedwright.engine.sunlight.sun_position import (
    RISE_SET_ELEVATION_DEG,
    SunDay,
    days_since_j2000,
    rise_and_set,
    sun_day,
    sun_position,
)
from bedwright.engine.sunlight.survey import SiteSurvey, day_sun_h, site_light, survey_site

__all__ = [
    "BARE_CROWN_SHADE",
    "CELL_M",
    "LEVEL",
    "PLANT_LIGHT_MOL_MJ",
    "RISE_SET_ELEVATION_DEG",
    "SOURCES",
    "Obstacle",
    "Places",
    "SiteSurvey",
    "Slope",
    "SunDay",
    "average_light",
    "bed_daylight",
    "bed_light",
    "bed_obstacles",
    "bed_weeks",
    "clear_light",
    "crop_height_m",
    "crop_obstacles",
    "daily_light_mj_m2",
    "day_sun_h",
    "days_since_j2000",
    "obstacles_of",
    "planting_daylight_mol_m2",
    "planting_own_sun_h",
    "planting_sun_h",
    "rise_and_set",
    "site_light",
    "sun_among_crops_h",
    "sun_day",
    "sun_position",
    "survey_site",
]
