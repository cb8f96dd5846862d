"""The ground described: what is on the site, and the beds with their soil."""

from __future__ import annotations

from typing import get_args

from bedwright.model import bounds
from bedwright.model.book import FeatureKind, SupportKind, Texture, WateringReach, WateringWay
from bedwright.model.ground import Side
from bedwright.store.book.kinds import Choice, Field, Flag, Group, ListOf, Number, Position, Record
from bedwright.store.book.texts import BED_CODE, CODE, DAY, NAME

FEATURE = Record(
    "feature",
    (
        Field("code", CODE, "Short code shown on the plan.", required=True),
        Field("kind", Choice(get_args(FeatureKind)), "What it is.", required=True),
        Field("name", NAME, "Its name on papers.", left_out="the kind"),
        Field("at_m", Position(bounds.POSITION_M), "Where it stands, for a tree, tap or water butt."),
        Field(
            "vertices_m",
            ListOf(Position(bounds.POSITION_M), bounds.N_FEATURE_VERTICES),
            "Corner by corner: along a fence, wall, hedge, path or pipe, or round a building.",
        ),
        Field("height_m", Number(bounds.FEATURE_HEIGHT_M), "Height, for its shade.", left_out="0"),
        Field(
            "crown_radius_m", Number(bounds.CROWN_RADIUS_M), "From the trunk to the edge of a tree's crown."
        ),
        Field("width_m", Number(bounds.PATH_WIDTH_M), "Width of a path, hedge or wall; diameter of a butt."),
        Field("crown_base_m", Number(bounds.CROWN_BASE_M), "Height of a tree's lowest leaves.", left_out="0"),
        Field(
            "leafless_months",
            ListOf(Number(bounds.MONTH, whole=True), bounds.Bounds(0, 12, "months"), unique=True),
            "Months without leaves, 1 for January.",
            left_out="never leafless",
        ),
        Field(
            "flow_l_min",
            Number(bounds.TAP_FLOW_L_MIN),
            "What a tap gives: time how long a bucket takes to fill.",
            slip="A tap that gives nothing is no tap: leave it out.",
        ),
        Field("volume_l", Number(bounds.TANK_L), "What a water butt holds."),
        Field(
            "roof_m2", Number(bounds.ROOF_M2), "Roof that drains into a water butt, measured on the ground."
        ),
    ),
    groups=(Group(("at_m", "vertices_m"), 1, 1), Group(("crown_radius_m", "width_m"), 0, 1)),
    one_line=True,
)

RECTANGLE = Record(
    "rectangle",
    (
        Field("length_m", Number(bounds.BED_LENGTH_M), "Along the bearing.", required=True),
        Field("width_m", Number(bounds.BED_WIDTH_M), "To the right of the bearing.", required=True),
        Field("east_m", Number(bounds.POSITION_M), "Peg corner, east of the site datum.", required=True),
        Field("north_m", Number(bounds.POSITION_M), "Peg corner, north of the site datum.", required=True),
        Field(
            "bearing_deg",
            Number(bounds.BEARING_DEG),
            "Direction of the long string line from the peg: 0 north, 90 east.",
            required=True,
        ),
    ),
    one_line=True,
)
POLYGON = Record(
    "polygon",
    (
        Field(
            "vertices_m",
            ListOf(Position(bounds.POSITION_M), bounds.N_VERTICES),
            "Corners in order round the bed; the last joins the first.",
            required=True,
        ),
        Field(
            "bearing_deg", Number(bounds.BEARING_DEG), "Direction of the rows' string line.", required=True
        ),
    ),
    one_line=True,
)
CIRCLE = Record(
    "circle",
    (
        Field("radius_m", Number(bounds.BED_RADIUS_M), "From centre to edge.", required=True),
        Field("east_m", Number(bounds.POSITION_M), "Centre, east of the site datum.", required=True),
        Field("north_m", Number(bounds.POSITION_M), "Centre, north of the site datum.", required=True),
        Field("bearing_deg", Number(bounds.BEARING_DEG), "Direction of the rows' string line.", left_out="0"),
    ),
    one_line=True,
)

SUPPORT = Record(
    "support",
    (
        Field("kind", Choice(get_args(SupportKind)), "What climbs or is tied to it.", required=True),
        Field("side", Choice(get_args(Side)), "Side of the bed it stands on.", required=True),
        Field(
            "height_m", Number(bounds.SUPPORT_HEIGHT_M), "Height above the soil of the bed.", required=True
        ),
    ),
    one_line=True,
)

SOIL_NUTRIENT = Number(bounds.SOIL_NUTRIENT_MG_KG, quantity="soil nutrient")
SOIL_TEST = Record(
    "soil test",
    (
        Field("sampled_on", DAY, "Day the sample was taken.", required=True),
        Field("laboratory", NAME, "Who measured it.", required=True),
        Field("ph", Number(bounds.SOIL_PH), "Acidity."),
        Field("p_mg_kg", SOIL_NUTRIENT, "Phosphorus, printed as P.", left_out="not known"),
        Field("p2o5_mg_kg", SOIL_NUTRIENT, "Phosphorus, printed as P2O5.", left_out="not known"),
        Field("k_mg_kg", SOIL_NUTRIENT, "Potassium, printed as K.", left_out="not known"),
        Field("k2o_mg_kg", SOIL_NUTRIENT, "Potassium, printed as K2O.", left_out="not known"),
        Field("organic_matter_pct", Number(bounds.ORGANIC_MATTER_PCT), "Organic matter."),
        Field("lead_mg_kg", Number(bounds.LEAD_MG_KG), "Lead."),
        Field(
            "extraction",
            NAME,
            "Extraction method named on the report, such as Olsen P, Mehlich-3 or Morgan.",
            left_out="not stated",
        ),
        Field(
            "lime_g_m2",
            Number(bounds.LIME_G_M2),
            "Lime the laboratory recommends; 0 if it advises none.",
            left_out="not stated",
        ),
    ),
    groups=(Group(("p_mg_kg", "p2o5_mg_kg"), 0, 1), Group(("k_mg_kg", "k2o_mg_kg"), 0, 1)),
    one_line=True,
)

SIDES = ListOf(Choice(get_args(Side)), bounds.Bounds(1, 4, "sides"), unique=True)
BED = Record(
    "bed",
    (
        Field(
            "code",
            BED_CODE,
            "Code on plan, sheets and pegs; rows are numbered after it: C4, B12-4.",
            required=True,
        ),
        Field("name", NAME, "Name of the bed.", left_out="no name"),
        Field("rectangle", RECTANGLE, "A bed with four corners."),
        Field("polygon", POLYGON, "A bed of any other shape with straight edges."),
        Field("circle", CIRCLE, "A round bed."),
        Field("texture", Choice(get_args(Texture)), "Soil type (FAO-56 Table 19).", required=True),
        Field("raised_m", Number(bounds.BED_HEIGHT_M), "Height of a raised bed's sides.", left_out="0"),
        Field(
            "soil_depth_m", Number(bounds.SOIL_DEPTH_M), "Depth roots can reach.", left_out="no known limit"
        ),
        Field("supports", ListOf(SUPPORT, bounds.N_ENTRIES), "Lasting supports.", left_out="none"),
        Field("reach", SIDES, "Sides it can be worked from.", left_out="all four sides"),
        Field(
            "stepping_boards",
            Flag(),
            "Whether one can stand inside it, on boards or stepping stones, and reach all of it.",
            left_out="false",
        ),
        Field("watering", Choice(get_args(WateringReach)), "What reaches it with water.", left_out="hose"),
        Field(
            "irrigation",
            Choice(get_args(WateringWay)),
            "How water is put on; tells how much of the ground is wetted (FAO-56 Table 20).",
            left_out="by what reaches it",
        ),
        Field("mulch", Flag(), "Whether it is to be mulched this season.", left_out="not known"),
        Field(
            "sun_h",
            Number(bounds.SUN_H),
            "Hours of direct sun seen there in June (December in the south); overrules the computed hours.",
            left_out="computed",
        ),
        Field("soil_test", SOIL_TEST, "A laboratory's report.", left_out="none"),
        Field("use", NAME, "Purpose, such as school bed.", left_out="none"),
        Field("children", Flag(), "Whether children work there.", left_out="false"),
    ),
    groups=(Group(("rectangle", "polygon", "circle"), 1, 1),),
)
