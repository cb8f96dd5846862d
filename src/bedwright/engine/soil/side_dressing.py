"""Feeds along the row while a crop grows: how much nitrogen, and when."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from bedwright.engine.soil.acidity import G_M2_PER_LB_100FT2
from bedwright.engine.soil.blend import content
from bedwright.engine.soil.rounding import plain, quarter_cups, spoken_cups, spoken_mass, two_figures
from bedwright.engine.soil.sources import PRACTICE
from bedwright.model.season import DateChoice, Planting
from bedwright.model.soil import Material, SideDressing
from bedwright.model.source import Origin, Standing
from bedwright.model.units import KG_PER_POUND, M_PER_FOOT, metres_to_feet

N_G_M2 = 0.1 * G_M2_PER_LB_100FT2
"""0.1 lb of nitrogen per 100 square feet: 4.9 g/m² (CSU_711)."""
N_G_PER_M_ROW = (
    0.27 * 1000 * KG_PER_POUND / (100 * M_PER_FOOT),
    0.30 * 1000 * KG_PER_POUND / (100 * M_PER_FOOT),
)
"""1 lb of a 27 to 30 percent fertiliser per 100 ft of row (K-State): 4.0 to 4.5 g of nitrogen
a metre. Those rows stand about a yard apart; closer rows share the ground and get less."""

Anchor = Literal["in ground", "emerged", "first pick"]


@dataclass(frozen=True, slots=True)
class Feed:
    """One feed of one crop: days after an anchor date, and the sign to wait for."""

    anchor: Anchor
    days: tuple[int, int]
    when: str
    source_ids: tuple[str, ...]
    date_standing: Standing = "read"
    """`practice` where the source names a sign and the days are our estimate of it."""


_FRUIT_SET = Feed("first pick", (-35, -21), "when the first fruits have set", ("UGA_POLK_2021",), "practice")
_VINE = (
    Feed("first pick", (-14, -7), "one week after it begins to flower", ("PATTON_2015",), "practice"),
    Feed("first pick", (7, 14), "three weeks after the feed before", ("PATTON_2015",), "practice"),
)
_COLE = Feed("in ground", (21, 28), "three to four weeks after setting out", ("UT_JOHNSON_CITY",))

FEEDS: Mapping[str, tuple[Feed, ...]] = {
    "sweet corn": (
        Feed(
            "emerged",
            (21, 35),
            "when plants are 20 to 25 cm (8 to 10 in) tall",
            ("KSTATE_SIDEDRESS_2023",),
            "practice",
        ),
        Feed(
            "first pick",
            (-18, -11),
            "one week after the tassels show",
            ("KSTATE_SIDEDRESS_2023",),
            "practice",
        ),
    ),
    "tomato": (
        Feed(
            "first pick",
            (-14, -7),
            "one to two weeks before the first tomato ripens",
            ("KSTATE_TOMATO_2020",),
        ),
        Feed(
            "first pick", (14, 21), "two weeks after picking the first ripe tomato", ("KSTATE_TOMATO_2020",)
        ),
        Feed("first pick", (44, 51), "a month after the second feed", ("KSTATE_TOMATO_2020",)),
    ),
    "broccoli": (_COLE, Feed("first pick", (1, 7), "when the main head is cut", ("UT_JOHNSON_CITY",))),
    "brussels sprouts": (_COLE,),
    "cauliflower": (_COLE,),
    "sweet pepper": (_FRUIT_SET,),
    "cucumber": _VINE,
    "melon": _VINE,
}
"""Feeds by crop of the catalogue; a crop that is not here has no published feed that was read."""

NO_FEED: Mapping[str, tuple[str, ...]] = dict.fromkeys(
    ("sweet potato", "watermelon", "carrot", "beet", "parsnip", "lettuce"), ("PATTON_2015",)
)
"""Crops best left alone: nitrogen lowers their yield."""
DISPUTED: Mapping[str, str] = {
    "carrot": "Another extension office feeds carrots 4 to 6 weeks after sowing (UGA, 2021).",
    "beet": "Another extension office feeds beets 4 to 6 weeks after sowing (UGA, 2021).",
}
"""What another source says; shown beside the advice that is followed."""
SIDE_FROM_STEMS = "Keep it 10 to 15 cm (4 to 6 in) off the stems, scratch it in and water."


def nitrogen_per_m_row_g(row_spacing_m: float) -> tuple[float, float]:
    """Nitrogen of one feed for a metre of row, low and high [g].

    Parameters
    ----------
    row_spacing_m : float
        Between rows. [m], above 0.

    Source
    ------
    4.9 g/m² of ground (CSU_711), and never more than 4.0 to 4.5 g a metre of row
    (KSTATE_SIDEDRESS_2023).
    """
    if not 0 < row_spacing_m < 10:
        raise ValueError(f"rows are more than 0 and less than 10 m apart; got {row_spacing_m}")
    by_ground = N_G_M2 * row_spacing_m
    return min(by_ground, N_G_PER_M_ROW[0]), min(by_ground, N_G_PER_M_ROW[1])


def side_dressings(plantings: Sequence[Planting], material: Material) -> tuple[SideDressing, ...]:
    """Every feed of a season's plantings with one nitrogen fertiliser.

    Parameters
    ----------
    plantings : Sequence[Planting]
        Plantings with their dates.
    material : Material
        The fertiliser; the share of its nitrogen that is released this year counts.

    Returns
    -------
    tuple of SideDressing
        By opening day, then planting. Feeds that would fall after the last pick are left out.

    Raises
    ------
    ValueError
        If the material gives no nitrogen.

    Source
    ------
    `FEEDS`, by crop. Where a source names a sign, the days are an estimate of it: go by the sign.
    """
    if content(material, "N")[1] <= 0:
        raise ValueError(f"{material.name} gives no nitrogen")
    found = [
        _dressing(planting, ordinal, feed, material)
        for planting in plantings
        for ordinal, feed in enumerate(FEEDS.get(planting.crop.name, ()), 1)
        if _window(planting.dates, feed)[0] < planting.dates.last_pick
    ]
    return tuple(sorted(found, key=lambda each: (each.opens, each.planting_code, each.ordinal)))


def side_dressing_note(crop_name: str) -> str:
    """What the sources say of a crop that is not fed along the row; empty for one that is."""
    if crop_name in FEEDS:
        return ""
    if crop_name in NO_FEED:
        disputed = DISPUTED.get(crop_name, "")
        return f"Leave {crop_name} unfed: nitrogen now lowers the crop. {disputed}".rstrip()
    return f"No published time for feeding {crop_name} was read; feed only if the leaves turn pale."


def row_length_m(planting: Planting) -> float:
    """Row of a planting: plants times the ground each has along the row [m]."""
    return sum(row.n_plants * (row.spacing_m or planting.crop.in_row_spacing_m) for row in planting.rows)


def _window(dates: DateChoice, feed: Feed) -> tuple[date, date]:
    anchor = {
        "in ground": dates.in_ground,
        "emerged": dates.emerges or dates.in_ground,
        "first pick": dates.first_pick,
    }[feed.anchor]
    opens, closes = (anchor + timedelta(days=days) for days in feed.days)
    return max(opens, dates.in_ground), max(closes, dates.in_ground)


def _dressing(planting: Planting, ordinal: int, feed: Feed, material: Material) -> SideDressing:
    opens, closes = _window(planting.dates, feed)
    nitrogen = nitrogen_per_m_row_g(planting.crop.row_spacing_m)
    per_m_g = two_figures(nitrogen[0] / content(material, "N")[1])
    row_m = row_length_m(planting)
    total_g = two_figures(per_m_g * row_m)
    density = material.kg_per_l()
    cups = "" if density is None else f" (about {spoken_cups(quarter_cups(total_g, density))})"
    text = (
        f"{spoken_mass(total_g)} of {material.name}{cups} along "
        f"{plain(row_m)} m ({plain(metres_to_feet(row_m))} ft) of row, "
        f"{feed.when}. {SIDE_FROM_STEMS}"
    )
    origins = (
        Origin(
            "n_g_per_m_row",
            two_figures(nitrogen[0]),
            "0.1 lb N per 100 sq ft; at most 1 lb of 27 to 30 % per 100 ft of row",
            ("CSU_711", "KSTATE_SIDEDRESS_2023"),
            "derived",
        ),
        Origin(
            "opens",
            opens.isoformat(),
            f"{feed.when}; days from {feed.anchor}: {feed.days[0]} to {feed.days[1]}",
            feed.source_ids if feed.date_standing == "read" else (*feed.source_ids, PRACTICE),
            feed.date_standing,
        ),
    )
    return SideDressing(
        planting.code,
        planting.bed_code,
        planting.crop.name,
        ordinal,
        opens,
        closes,
        feed.when,
        (two_figures(nitrogen[0]), two_figures(nitrogen[1])),
        material.name,
        per_m_g,
        row_m,
        total_g,
        text,
        origins,
    )
