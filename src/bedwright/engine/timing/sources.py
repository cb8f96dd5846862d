"""Publications behind the rules of timing, and the practices that have none."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.engine.climate.sources import CLIMATE_SOURCES
from bedwright.model.source import Source

GROWTH_TEMPERATURES = "KNOTT97_GROWTH"
BASE_TEMPERATURES = "PEET_APP2"
FALL_FACTOR = "VCE_FALL"
FROST_OFFSETS = "PURDUE_HO203"
HARDENING = "UMD_HARDENING"
GARLIC_SOIL = "GFM_GARLIC"
SUNLIGHT = "FAO56"
DEGREE_DAYS = "MW97"
PRACTICE = "PRACTICE"

TIMING_SOURCES: Mapping[str, Source] = {
    source.id: source
    for source in (
        Source(
            GROWTH_TEMPERATURES,
            "Maynard, D.N. & Hochmuth, G.J. (1997) Knott's Handbook for Vegetable Growers, 4th ed., Wiley: "
            "approximate monthly temperatures for best growth and quality of vegetable crops.",
            "The table as reproduced in UC Santa Cruz, Teaching Organic Farming & Gardening, Unit 1.3, "
            "Appendix 5; the handbook itself not seen.",
        ),
        Source(
            BASE_TEMPERATURES,
            "Peet, M., Sustainable Practices for Vegetable Production in the South, North Carolina State "
            "University, Appendix 2: base temperatures of heat units.",
            "Base temperatures of pea, cabbage and turnip (40 °F) and of bean and sweet corn (50 °F) read.",
        ),
        Source(
            FALL_FACTOR,
            "Virginia Cooperative Extension, Fall Vegetable Gardening: days to count back from the first "
            "frost, with a fall factor and a frost-tender factor of about two weeks each.",
            "Formula read as reprinted by Fluvanna Master Gardeners (2004); A. McDaniel's explanation "
            "(a 65-day crop needs about 80 days in autumn) read at gardening.mwcog.org, 29 August 2011.",
        ),
        Source(
            FROST_OFFSETS,
            "Purdue University, HO-203, frost resistance of vegetables after University of Illinois VC-14: "
            "planting times as weeks from the average frost-free date.",
            "Read in a reproduction with collapsed columns.",
        ),
        Source(
            HARDENING,
            "University of Maryland Extension, Hardening Vegetable Seedlings for the Home Garden "
            "(updated 20 February 2023): begin 1 to 2 weeks before setting out.",
            "Read at extension.umd.edu; Ramsey County Master Gardeners give the same span.",
        ),
        Source(
            GARLIC_SOIL,
            "Growing for Market, How and When to Plant Garlic (September 2016): soil at 4 inches at 50 °F.",
            "Read at growingformarket.com; a trade magazine.",
        ),
        CLIMATE_SOURCES["FAO56"],
        CLIMATE_SOURCES["MW97"],
        Source(PRACTICE, "Common practice, no source.", "Nothing to see."),
    )
}
"""By id; ids are those of the catalogue where both name one publication."""
