"""The garden book described once: every key, its meaning, its bounds.

The reader, the writer's layout, the JSON Schema and the printed reference derive from
`GARDEN_BOOK`. Bounds come from `bedwright.model.bounds`.
"""

from __future__ import annotations

from typing import get_args

from bedwright.model import bounds
from bedwright.model.book import Layout, PaperSize, UnitSystem, Way
from bedwright.store.book.ground import BED, CIRCLE, FEATURE, POLYGON, RECTANGLE, SOIL_TEST, SUPPORT
from bedwright.store.book.kinds import (
    Choice,
    Either,
    Field,
    Flag,
    Group,
    ListOf,
    MonthDay,
    Number,
    Record,
    Text,
)
from bedwright.store.book.pins import PIN
from bedwright.store.book.safety import LEAD_RULE, MANURE
from bedwright.store.book.supplies import PROPAGATION, SUPPLIER
from bedwright.store.book.texts import BED_CODE, CODE, CROP, DAY, NAME, NOTE
from bedwright.store.book.water import WATER_LIMIT
from bedwright.store.book.workdays import LABOUR_RATE, WORKDAY

__all__ = [
    "BED",
    "BED_CODES",
    "BOOK_VERSION",
    "CIRCLE",
    "FEATURE",
    "GARDEN_BOOK",
    "GERMINATION_TEST",
    "GOALS",
    "HANDS",
    "HARVEST",
    "HISTORY",
    "KEEP_PICKING",
    "LABOUR_RATE",
    "LEAD_RULE",
    "MANURE",
    "NEIGHBOUR",
    "PAIR",
    "PERIOD",
    "PIN",
    "POLYGON",
    "PROPAGATION",
    "RECTANGLE",
    "SEASON",
    "SEED_LOT",
    "SITE",
    "SLOPE",
    "SOIL_TEST",
    "STATED_FROST",
    "STOCK",
    "SUPPLIER",
    "SUPPORT",
    "SWAPPED",
    "VARIETY",
    "WATER",
    "WATER_LIMIT",
    "WEATHER",
    "WEEKDAYS",
    "WISH",
    "WISH_BEDS",
    "WORKDAY",
]

BOOK_VERSION = 1
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
KEEP_PICKING = "keep picking"
SWAPPED = "Latitude and longitude may be swapped."

SLOPE = Record(
    "slope",
    (
        Field(
            "slope_deg",
            Number(bounds.SLOPE_DEG),
            "Angle to the level: a fall of 1 m in 10 m is 6, of 1 m in 5 m is 11.",
            required=True,
        ),
        Field(
            "aspect_deg",
            Number(bounds.BEARING_DEG),
            "Aspect: the bearing the ground faces, straight downhill; 180 faces south.",
            required=True,
        ),
    ),
    one_line=True,
)
SITE = Record(
    "site",
    (
        Field("name", NAME, "Name of the garden.", required=True),
        Field(
            "latitude_deg",
            Number(bounds.LATITUDE_DEG),
            "Latitude, south negative.",
            required=True,
            slip=SWAPPED,
        ),
        Field(
            "longitude_deg",
            Number(bounds.LONGITUDE_DEG),
            "Longitude, west negative.",
            required=True,
            slip=SWAPPED,
        ),
        Field("elevation_m", Number(bounds.ELEVATION_M), "Height above sea level.", required=True),
        Field("time_zone", NAME, "Name in the IANA list, such as Europe/London.", required=True),
        Field("units", Choice(get_args(UnitSystem)), "Units on screen and papers.", left_out="metric"),
        Field("paper", Choice(get_args(PaperSize)), "Size of paper.", left_out="a4"),
        Field("coordinator", NAME, "Name in the title block of drawings.", left_out="a blank line"),
        Field("slope", SLOPE, "Slope of the whole site, for its sun.", left_out="level ground"),
        Field("features", ListOf(FEATURE, bounds.N_FEATURES), "What else is on the site.", left_out="none"),
    ),
)

SEASON = Record(
    "season",
    (
        Field("start", DAY, "First day planned.", required=True),
        Field(
            "frost_risk_pct",
            Number(bounds.FROST_RISK_PCT),
            "Chance of a later frost you accept when tender plants go out.",
            left_out="10",
        ),
        Field(
            "chance_wanted_pct",
            Number(bounds.CHANCE_WANTED_PCT),
            "Share of recorded years in which a date must have worked.",
            left_out="80",
        ),
    ),
)

STATED_FROST = Record(
    "stated frost",
    (
        Field("last_spring", MonthDay(), "Last frost of spring, as you know it.", required=True),
        Field("first_autumn", MonthDay(), "First frost of autumn, as you know it.", required=True),
    ),
    one_line=True,
)

WEATHER = Record(
    "weather",
    (
        Field(
            "file",
            Text(bounds.Bounds(1, 400, "characters")),
            "Daily record, a path inside the folder of the book.",
        ),
        Field(
            "stated_frost",
            STATED_FROST,
            "Frost dates by hand, used only where there is no record; no chance is worked out from them.",
        ),
    ),
    groups=(Group(("file", "stated_frost"), 1, 2),),
)

HISTORY = Record(
    "history",
    (
        Field("bed", BED_CODE, "Code of the bed.", required=True),
        Field("year", Number(bounds.YEAR, whole=True), "Year the crop was there.", required=True),
        Field("crops", ListOf(CROP, bounds.N_ENTRIES, unique=True), "Crops that stood there."),
        Field(
            "families", ListOf(NAME, bounds.N_ENTRIES, unique=True), "Families, where only these are known."
        ),
    ),
    groups=(Group(("crops", "families"), 1, 2),),
    one_line=True,
)

VARIETY = Record(
    "variety",
    (
        Field("name", NAME, "Name on the packet.", required=True),
        Field(
            "days_to_maturity_days",
            Number(bounds.DAYS_TO_MATURITY_DAYS),
            "As printed.",
            left_out="as the crop",
        ),
        Field("in_row_spacing_cm", Number(bounds.SPACING_CM), "As printed.", left_out="as the crop"),
        Field("row_spacing_cm", Number(bounds.SPACING_CM), "As printed.", left_out="as the crop"),
        Field("sow_depth_mm", Number(bounds.SOW_DEPTH_MM), "As printed.", left_out="as the crop"),
        Field("height_cm", Number(bounds.HEIGHT_CM), "As printed.", left_out="as the crop"),
        Field(
            "packet_seeds",
            Number(bounds.PACKET_SEEDS, whole=True),
            "Seeds in one packet, so that packets can be counted.",
            left_out="not known",
        ),
    ),
    one_line=True,
)
BED_CODES = ListOf(BED_CODE, bounds.N_BEDS, unique=True)
WISH_BEDS = Record(
    "beds of a wish",
    (
        Field("only", BED_CODES, "Only in these beds."),
        Field("not", BED_CODES, "In none of these beds."),
    ),
    groups=(Group(("only", "not"), 1, 2),),
    one_line=True,
)
HARVEST = Record(
    "harvest",
    (
        Field("from", DAY, "First day the harvest is wanted.", left_out="any day"),
        Field("to", DAY, "Last day the harvest is wanted.", left_out="any day"),
    ),
    groups=(Group(("from", "to"), 1, 2),),
    one_line=True,
)
WISH = Record(
    "wish",
    (
        Field("crop", CROP, "Name of the crop.", required=True),
        Field("plants", Number(bounds.AMOUNT_PLANTS, whole=True), "Plants wanted."),
        Field("row_m", Number(bounds.AMOUNT_ROW_M), "Row wanted."),
        Field("harvest_kg", Number(bounds.AMOUNT_HARVEST_KG), "Harvest wanted."),
        Field("variety", Either(NAME, VARIETY), "Variety, with its packet's values.", left_out="any"),
        Field("priority", Number(bounds.PRIORITY, whole=True), "5 is most wanted.", left_out="3"),
        Field("way", Choice(get_args(Way)), "Sown in place, raised here, or bought.", left_out="usual way"),
        Field("beds", WISH_BEDS, "Where it may stand.", left_out="anywhere"),
        Field("harvest", HARVEST, "When it is wanted.", left_out="any time"),
        Field(
            "successions",
            Either(Number(bounds.SUCCESSIONS, whole=True), Choice((KEEP_PICKING,))),
            "Number of sowings that share the amount above; or as many as keep the harvest going.",
            left_out="1",
        ),
        Field(
            "layout",
            Choice(get_args(Layout)),
            "Staggered: plants stand between those of the next row, and rows a little closer.",
            left_out="rows",
        ),
        Field("code", CODE, "Code of the wish.", left_out="crop and number, such as carrot-2"),
        Field("note", NOTE, "Anything to remember.", left_out="none"),
    ),
    groups=(Group(("plants", "row_m", "harvest_kg"), 1, 1),),
)

PAIR = ListOf(CROP, bounds.Bounds(2, 2, "crops"), unique=True)
NEIGHBOUR = Record(
    "neighbours",
    (
        Field("together", PAIR, "Two crops you want beside each other."),
        Field("apart", PAIR, "Two crops you want apart."),
        Field("reason", NAME, "Why.", left_out="none"),
    ),
    groups=(Group(("together", "apart"), 1, 1),),
    one_line=True,
)

PERIOD = Record(
    "period",
    (
        Field("name", NAME, "What it is.", required=True),
        Field("start", DAY, "First day.", required=True),
        Field("end", DAY, "Last day.", required=True),
    ),
    one_line=True,
)
GOALS = Record(
    "goals",
    (
        Field("teaching", NOTE, "What people should learn.", left_out="none"),
        Field("donation_kg", Number(bounds.DONATION_KG), "Food to give away this season.", left_out="0"),
        Field(
            "donation_weekdays",
            ListOf(Choice(WEEKDAYS), bounds.Bounds(0, 7, "weekdays"), unique=True),
            "Days food is given away.",
            left_out="none",
        ),
        Field(
            "quiet_weeks",
            ListOf(PERIOD, bounds.N_ENTRIES),
            "Weeks in which little can be done.",
            left_out="none",
        ),
    ),
)
HANDS = Record(
    "people",
    (
        Field("name", NAME, "Person or group.", required=True),
        Field(
            "hours_per_week", Number(bounds.HOURS_PER_WEEK), "Hours promised, all together.", required=True
        ),
        Field("start", DAY, "First day.", required=True),
        Field("end", DAY, "Last day.", required=True),
        Field("paid", Flag(), "Whether the hours are paid.", left_out="false"),
    ),
    one_line=True,
)
GERMINATION_TEST = Record(
    "germination test",
    (
        Field("sown", Number(bounds.GERMINATION_TEST_SEEDS, whole=True), "Seeds tested.", required=True),
        Field("sprouted", Number(bounds.SEED_COUNT, whole=True), "Seeds that sprouted.", required=True),
    ),
    one_line=True,
)
SEED_LOT = Record(
    "seed lot",
    (
        Field("code", CODE, "Code on the packet or tin.", required=True),
        Field("crop", CROP, "Name of the crop.", required=True),
        Field("variety", NAME, "Name on the packet.", left_out="none"),
        Field("packed_year", Number(bounds.YEAR, whole=True), "Year it was packed for.", required=True),
        Field("mass_g", Number(bounds.SEED_MASS_G), "Mass left.", left_out="not known"),
        Field("count", Number(bounds.SEED_COUNT, whole=True), "Seeds left.", left_out="not known"),
        Field("germination_test", GERMINATION_TEST, "Your own test.", left_out="none"),
    ),
    one_line=True,
)
STOCK = Record(
    "stock",
    (
        Field("material", NAME, "What it is.", required=True),
        Field("quantity_l", Number(bounds.STOCK_L), "By volume."),
        Field("quantity_kg", Number(bounds.STOCK_KG), "By mass."),
        Field("quantity_m", Number(bounds.STOCK_M), "By length."),
        Field("pieces", Number(bounds.STOCK_PIECES), "By number."),
    ),
    groups=(Group(("quantity_l", "quantity_kg", "quantity_m", "pieces"), 1, 1),),
    one_line=True,
)
WATER = Record(
    "water",
    (Field("can_l", Number(bounds.CAN_L), "What a watering can holds.", required=True),),
    one_line=True,
)

GARDEN_BOOK = Record(
    "garden book",
    (
        Field(
            "garden_book",
            Number(bounds.Bounds(BOOK_VERSION, BOOK_VERSION, ""), whole=True),
            "Version of this form.",
            left_out=str(BOOK_VERSION),
        ),
        Field("site", SITE, "Where the garden is.", required=True),
        Field("season", SEASON, "What is planned, and at which risk.", required=True),
        Field("weather", WEATHER, "The record of its weather.", required=True),
        Field("beds", ListOf(BED, bounds.N_BEDS), "The ground to plant.", required=True),
        Field("history", ListOf(HISTORY, bounds.N_HISTORY), "What stood where.", left_out="not known"),
        Field(
            "wishes", ListOf(WISH, bounds.N_WISHES), "What is wanted; may be an empty list.", required=True
        ),
        Field("neighbours", ListOf(NEIGHBOUR, bounds.N_ENTRIES), "Your own rules.", left_out="none"),
        Field("goals", GOALS, "What the season is for.", left_out="none"),
        Field("people", ListOf(HANDS, bounds.N_ENTRIES), "Hours promised.", left_out="not known"),
        Field("seed_drawer", ListOf(SEED_LOT, bounds.N_ENTRIES), "Seed on hand.", left_out="empty"),
        Field("stock", ListOf(STOCK, bounds.N_ENTRIES), "Materials on hand.", left_out="none"),
        Field("water", WATER, "What water is carried in.", left_out="not known"),
        Field(
            "water_limits",
            ListOf(WATER_LIMIT, bounds.N_ENTRIES),
            "The most water to be had in a week; the plan keeps to it.",
            left_out="no limit",
        ),
        Field("manure", ListOf(MANURE, bounds.N_ENTRIES), "Manure spread, or to be spread.", left_out="none"),
        Field(
            "lead_rule",
            LEAD_RULE,
            "A rule on lead in soil that you enter; it holds where it is the latest, or stricter than the "
            "latest.",
            left_out="the rules known here",
        ),
        Field(
            "workdays", ListOf(WORKDAY, bounds.N_ENTRIES), "Days people are asked to come.", left_out="none"
        ),
        Field(
            "labour_rates",
            ListOf(LABOUR_RATE, bounds.N_ENTRIES),
            "What jobs take in your garden; they go before the labour table.",
            left_out="the labour table",
        ),
        Field("propagation", PROPAGATION, "Room for raising plants.", left_out="not known"),
        Field(
            "suppliers",
            ListOf(SUPPLIER, bounds.N_ENTRIES),
            "Who sells what, at which price.",
            left_out="none",
        ),
        Field("pins", ListOf(PIN, bounds.N_ENTRIES), "What you have settled yourself.", left_out="none"),
        Field("leave_alone", BED_CODES, "Beds in which nothing is to be changed.", left_out="none"),
        Field("note", NOTE, "Anything to remember.", left_out="none"),
    ),
)
