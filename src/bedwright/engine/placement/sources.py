"""Publications behind the rules of placement, and the practices that have none."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.model.source import Source

LEAD = "EPA_LEAD_2024"
ROTATION = "ROTATION_GUIDES"
REACH = "BED_WIDTH_PAGES"
PRACTICE = "PRACTICE"

PLACEMENT_SOURCES: Mapping[str, Source] = {
    source.id: source
    for source in (
        Source(
            LEAD,
            "US Environmental Protection Agency, Updated Residential Soil Lead Guidance, 17 January 2024: "
            "residential soil lead screening level 200 ppm, 100 ppm with several sources of lead.",
            "Read in copies of a law firm (26 January 2024) and of the agency's questions and answers; a "
            "directive of October 2025 is reported to keep one level for all properties. A screening level "
            "asks for a closer look; it is no clean-up level and no promise. Local rules prevail.",
        ),
        Source(
            ROTATION,
            "Organic Gardening; revogarden; Thrive: a family returns to a place after at least two, better "
            "three or more, years.",
            "Garden guides, read; not research.",
        ),
        Source(
            REACH,
            "makinglifeeasier; biologyinsights; phoenixschoolgarden: beds at most 4 ft (1.2 m) wide reached "
            "from two sides, 2 to 2.5 ft (0.6 to 0.75 m) from one.",
            "Unsigned pages, read; weak.",
        ),
        Source(PRACTICE, "Common practice, no source.", "nothing to see"),
    )
}
