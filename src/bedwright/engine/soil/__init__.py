"""Soil tests, compost and feeding, and what is safe."""

from bedwright.engine.placement.raw_manure import earliest_harvest, touches_soil
from bedwright.engine.soil.acidity import acidity_need, lime_applications, lime_for_product
from bedwright.engine.soil.area import outline_area_m2
from bedwright.engine.soil.arithmetic import mass_for_nutrient, mass_of_other_grade, nutrients_in
from bedwright.engine.soil.check import FeedingFault, check_feeding
from bedwright.engine.soil.compost import (
    compost_for_holes_l,
    compost_need,
    layer_volume_m3,
    planting_holes,
    released,
)
from bedwright.engine.soil.feeding import feed_beds
from bedwright.engine.soil.heat import heat_index_c, heat_risk, workday_weather
from bedwright.engine.soil.lead import lead_band, lead_cautions
from bedwright.engine.soil.manure import harvest_allowed, is_compost, manure_cautions
from bedwright.engine.soil.mulch import mulch_needs
from bedwright.engine.soil.needs import nutrient_needs, read_soil_test
from bedwright.engine.soil.report import read_figures, soil_test_of
from bedwright.engine.soil.safety import bioassay_steps, safety_sheet
from bedwright.engine.soil.side_dressing import side_dressings
from bedwright.engine.soil.sources import SOIL_SOURCES
from bedwright.engine.soil.tables import TABLES, InterpretationTable, interpret, manganese_index, table_for

SOURCES = SOIL_SOURCES

__all__ = [
    "SOIL_SOURCES",
    "SOURCES",
    "TABLES",
    "FeedingFault",
    "InterpretationTable",
    "acidity_need",
    "bioassay_steps",
    "check_feeding",
    "compost_for_holes_l",
    "compost_need",
    "earliest_harvest",
    "feed_beds",
    "harvest_allowed",
    "heat_index_c",
    "heat_risk",
    "interpret",
    "is_compost",
    "layer_volume_m3",
    "lead_band",
    "lead_cautions",
    "lime_applications",
    "lime_for_product",
    "manganese_index",
    "manure_cautions",
    "mass_for_nutrient",
    "mass_of_other_grade",
    "mulch_needs",
    "nutrient_needs",
    "nutrients_in",
    "outline_area_m2",
    "planting_holes",
    "read_figures",
    "read_soil_test",
    "released",
    "safety_sheet",
    "side_dressings",
    "soil_test_of",
    "table_for",
    "touches_soil",
    "workday_weather",
]
