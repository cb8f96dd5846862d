"""Publications behind hours, sessions and cautions, and stated lacks of one."""

from __future__ import annotations

from bedwright.engine.work.tasks import TASK_SOURCES
from bedwright.model.source import Source

WORK_PRACTICE = "WORK_PRACTICE"
WORK_MEMORY = "WORK_MEMORY"

SOURCES: dict[str, Source] = TASK_SOURCES | {
    source.id: source
    for source in (
        Source(
            WORK_PRACTICE,
            "Volunteers' pace, intervals of weeding and picking, team sizes: common practice, no source",
            "Not looked up; change the figures where your own experience differs.",
        ),
        Source(
            WORK_MEMORY,
            "Labour rate from memory, no copy seen: a first guess",
            "No citable rate for small gardens was found; write down how long the job takes you.",
        ),
        Source(
            "CITYROOTS_DIG",
            "cityrootsandfruits: 80 square feet dug one spit deep, stones out, in 75 minutes",
            "Read as an excerpt; one gardener's timed note.",
        ),
        Source(
            "NATURESPACE_DIG",
            "naturespaceorganics: double digging takes 4 to 6 hours for 100 square feet",
            "Read as an excerpt; one farm.",
        ),
        Source(
            "GETGROWING_BED",
            "getgrowing.online: half a day to clear, cultivate, amend and rake a bed of 12 square metres;"
            " one hour to weed it where it is kept up",
            "Read as an excerpt; one farm. Half a day is taken as four hours.",
        ),
        Source(
            "JAUPR_LABOUR",
            "J. Agric. Univ. Puerto Rico: hand work of whole field crops of vegetables, 1247 to 1964 "
            "hours a hectare, harvest 28 to 63 percent of it",
            "Read as an excerpt; year and volume not noted.",
        ),
        Source(
            "ROBBINS_WATER",
            "Robbins Farm Garden, How much water? (undated page): a hose of 3.3 US gallons a minute gives"
            " a bed of 54 square feet one inch in about 10 minutes a week",
            "Read; one garden.",
        ),
        Source(
            "OURLAND_WATER",
            "ourland3.tripod.com, Things to do around the garden (undated, Australia): 5 minutes a square"
            " metre in a hot dry week",
            "Read; unsigned page.",
        ),
        Source(
            "MULCH_YARD",
            "landscapearchitect.com, LCN, September 2009, on moving material to maximize profits: one "
            "person moves and spreads a cubic yard of mulch in one hour by wheelbarrow",
            "Read as an excerpt; trade magazine.",
        ),
        Source(
            "MULCH_RANGE",
            "biologyinsights.com, How long does it take to spread a yard of mulch? (undated): 45 minutes "
            "to 2 hours a cubic yard",
            "Read; unsigned page.",
        ),
        Source(
            "FOODBANK_FARM",
            "Grubinger, Sustainable Vegetable Production from Start-Up to Market, on Food Bank Farm, as "
            "quoted in Growing for Market, Strategies for efficient harvesting: 5000 lb by five people in"
            " seven hours",
            "Read as a quotation.",
        ),
        Source(
            "EATSOUTH_SESSION",
            "eatsouth.org, guide to garden workdays (undated): sessions of at most 2 hours, about 45 "
            "minutes of work and then a break",
            "Read as an excerpt.",
        ),
        Source(
            "NCCRAHS_2015",
            "Weichelt, Bendixsen, Salzwedel and Lee (eds) (2015) Community-Based Agriculture: Safety "
            "Guidelines for Youth Working in Gardens. Marshfield Clinic: jobs of at most 15 minutes at 7 "
            "to 9 years, 20 minutes at 10 and 11, watched all the time",
            "Read as excerpts.",
        ),
        Source(
            "SCHOOLGARDENS",
            "schoolgardens.org and Michigan State University Extension: groups of at most 8 children, 4 "
            "to 6 best, within sight (dates not noted)",
            "Read as excerpts.",
        ),
        Source(
            "OSHA_HEAT",
            "US Occupational Safety and Health Administration, Using the Heat Index, a guide for "
            "employers (date not noted): risk lower below 91 °F, moderate to 103, high to 115, very high "
            "above; about four cups of water an hour from moderate up",
            "Read.",
        ),
        Source(
            "HYGIENE",
            "University of Idaho Extension BUL 937; University of Arizona AZ1604 (dates not noted): hands"
            " washed before harvest, no work when ill, clean containers",
            "Read in part.",
        ),
        Source(
            "CANE_CAPS",
            "Thrive, gardening glossary (undated): cap the tops of canes, against injuries to the eye",
            "Read as an excerpt.",
        ),
        Source(
            "COMPOST_DUST",
            "Southern Health, New Zealand, on Legionella and compost (date not noted): mask and gloves, "
            "open bags away from the face, dampen, work in the open air, wash hands",
            "Read as an excerpt.",
        ),
        Source(
            "BENCH_HEIGHT",
            "makinglifeeasier and others (undated): beds 27 to 34 inches high are worked from a seat",
            "Read; weak pages.",
        ),
        Source(
            "NGA_AVERAGE",
            "National Gardening Association, as quoted: an average food garden of 600 square feet takes 5 "
            "hours a week",
            "Second hand; used to compare, not to compute.",
        ),
        Source(
            "HARMONIOUS_AUGUST",
            "harmonioushomestead: all work in a garden of 165 square feet in one week of August, 185 minutes",
            "Read as an excerpt; used to compare, not to compute.",
        ),
        Source(
            "HENDRICKSON_2005",
            "Hendrickson, J. (2005), University of Wisconsin, as quoted in Illinois Fruit and Vegetable "
            "News, May 2014: 933 to 2994 labour hours an acre on market gardens below three acres, about "
            "2000 on average",
            "Read as a quotation; used to compare, not to compute.",
        ),
    )
}
