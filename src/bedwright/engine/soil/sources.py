"""Publications behind the soil stage, by the keys its results carry."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.model.source import Source

PRACTICE = "PRACTICE"

SOIL_SOURCES: Mapping[str, Source] = {
    source.id: source
    for source in (
        Source(
            "RUTGERS_M3",
            "Rutgers NJAES Soil Testing Laboratory, Mehlich-3 Values for Relative Level Categories (undated "
            "page), "
            "njaes.rutgers.edu/soil-testing-lab/relative-levels-of-nutrients.php",
            "whole page read",
        ),
        Source(
            "UMASS_REPORT_2015",
            "University of Massachusetts Soil and Plant Tissue Testing Laboratory, soil test report of 3 "
            "March 2015 "
            "with its optimum ranges (Modified Morgan extract)",
            "a published sample report (scribd.com 258603620); the same ranges in a gardener's report of the "
            "laboratory (plantersplace.com)",
        ),
        Source(
            "UK_OLSEN_2019",
            "United Kingdom, Nutrient Action Programme Regulations (Northern Ireland) 2019, SR 2019/81, "
            "Schedule 5, paragraph 10: soil phosphorus index by Olsen",
            "table read at legislation.gov.uk; title of the regulations from memory",
        ),
        Source(
            "UK_TARGETS_2015",
            "Cawood Scientific laboratories, Soil Nutrient Status, Soil Summary 2014-2015, by the categories "
            "of the "
            "Fertiliser Manual RB209, 8th edition",
            "read: target index 3 of phosphorus for vegetable and bulb soils; the manual itself seen only in "
            "its "
            "opening pages",
        ),
        Source(
            "UMASS_FERTILIZING",
            "UMass Extension, Fertilizing the Vegetable Garden (undated page), "
            "ag.umass.edu/home-lawn-garden/fact-sheets/fertilizing-vegetable-garden",
            "opening read: nitrogen 2.5 lb per 1000 sq ft; 50 lb of 5-10-10 where P and K are low, 25 lb of "
            "10-10-10 where they are sufficient; the page itself warns of one rate for all",
        ),
        Source(
            "NEVEG_NUTRIENTS",
            "New England Vegetable Management Guide, Nutrient Recommendations (undated page), "
            "nevegetable.org",
            "opening read: a nutrient above optimum is left out of every amendment, compost and manure "
            "included",
        ),
        Source(
            "UMN_COMPOST_2023",
            "University of Minnesota Extension, Yard and Garden News, How much compost should you apply to "
            "your "
            "garden this spring? (survey of October 2022)",
            "read: about an inch or less a year; no more phosphorus from 25 ppm (Bray) up",
        ),
        Source(
            "PSU_HOME_GARDEN",
            "Penn State Agricultural Analytical Services Laboratory, Home Garden report notes (undated "
            "page), "
            "agsci.psu.edu/aasl/online-report/home-garden",
            "notes 1 to 4 read",
        ),
        Source(
            "CSU_RELEASE",
            "Colorado State University Extension, release rates of compost and manure, vegetable garden "
            "notes",
            "read in a republication (trustgreenguys.com, vegetable-garden-soil-amendment-precautions); the "
            "extension's own page not seen",
        ),
        Source(
            "CSU_711",
            "Colorado State University Extension, CMG GardenNotes 711, Table 3, Nitrogen side dressing",
            "opening of the table read in a republication (trustgreenguys.com); the extension's own page not "
            "seen",
        ),
        Source(
            "KSTATE_SIDEDRESS_2023",
            "Honig, R., Sidedressing Garden Vegetables, K-State Research and Extension Wild West District, 5 "
            "June 2023",
            "opening read (sweet corn, tomato)",
        ),
        Source(
            "KSTATE_TOMATO_2020",
            "K-State Research and Extension News, Plant expert cautions against over-fertilizing tomatoes, "
            "12 June 2020 (W. Upham)",
            "read",
        ),
        Source(
            "PATTON_2015",
            "Patton, D. (K-State Research and Extension, Johnson County), How and when to fertilize "
            "vegetables this "
            "rainy year, Kansas City Star, 2015",
            "read down to peas and beans",
        ),
        Source(
            "UGA_POLK_2021",
            "Priest, G. (UGA Extension, Polk County), Vegetables could need a little more than just "
            "fertilizer, "
            "Polk County Standard Journal, May 2021",
            "read; the month is that of its web address",
        ),
        Source(
            "UT_JOHNSON_CITY",
            "Ask a Master Gardener: How to fertilize your vegetable garden, Johnson City Press (Tennessee; "
            "undated copy)",
            "summary read (Brussels sprouts, cauliflower, broccoli)",
        ),
        Source(
            "RHS_SULPHUR",
            "Royal Horticultural Society, Acidifying soil (undated page), "
            "rhs.org.uk/soil-composts-mulches/acidifying-soil",
            "section on quantities read",
        ),
        Source(
            "CLEMSON_SULPHUR",
            "Clemson University, Soil Acidification Calculator (Kirk, Plumblee & McAlhany 2019), note after "
            "McCarty "
            "(ed.) Southern Lawns, EC 707, 2003",
            "note read: at most 5 to 10 lb of sulphur per 1000 sq ft at a time, not more often than every 2 "
            "to 3 months",
        ),
        Source(
            "LIME_TABLES",
            "Two unsigned tables of limestone to reach pH 6.5 by texture: agroconection.com, Raising pH with "
            "Limestone, "
            "and vcalc.com, Pounds of Lime to raise pH of 1000 sq ft",
            "read; no laboratory named in either, they differ by up to half",
        ),
        Source(
            "ISU_MULCH_2012",
            "Jauron, R. & Klein, W., Yard and Garden: Mulch, Iowa State University Extension and Outreach, 7 "
            "June 2012",
            "read: leaves shredded or composted first, 2 to 4 inches",
        ),
        Source(
            "MSU_MULCH",
            "Krans, R. (Michigan State University Extension), Mulching the Vegetable Garden, agriculture.com "
            "(undated)",
            "read: 3 inches round transplants watered in, off the stem; with seed wait until the seedlings "
            "are through",
        ),
        Source(
            "LINN_MULCH_2011",
            "Schildroth, J. (Iowa State University, Linn County Extension), Mulching, The Gazette, 25 May "
            "2011",
            "read: wait until the soil is warm",
        ),
        Source(
            "LEAF_SHREDDING",
            "gardening.yardener.com, Using Just Leaves, and engineerfix.com, on bagging leaves (unsigned)",
            "read: 100 bags whole make 17 chopped; reduction 5 to 20 times",
        ),
        Source(
            "CFR_205_203",
            "United States, 7 CFR 205.203(c), Soil fertility and crop nutrient management practice standard",
            "whole text read (law.lawstack.com, checked there against eCFR on 20 June 2026; govinfo edition "
            "of 2011)",
        ),
        Source(
            "EPA_LEAD_2024",
            "US Environmental Protection Agency, Updated Residential Soil Lead Guidance for CERCLA Sites and "
            "RCRA "
            "Corrective Action Facilities, 17 January 2024",
            "read in a law firm's note (Morgan Lewis, 26 January 2024) and in a copy of the agency's "
            "questions and "
            "answers",
        ),
        Source(
            "EPA_LEAD_2025",
            "US Environmental Protection Agency, Residential Lead Directive for CERCLA Sites and RCRA "
            "Hazardous Waste "
            "Cleanup Program Facilities, 16 October 2025",
            "read in reports (Harvard EELP tracker, 20 October 2025; on-edgenews.com; E&E News, 21 October "
            "2025): "
            "one screening level of 200 ppm, removal management level 600 ppm; the directive itself not seen",
        ),
        Source(
            "MCBRIDE_14",
            "McBride, M.B. et al. (2014), vegetables and soils of gardens in New York City and Buffalo, "
            "PMC4175907 "
            "(author's name from memory)",
            "abstract read: virtually all fruits below guidance for lead, 47 % of root crops and 9 % of "
            "leafy greens "
            "above it; soil on the crop matters more than uptake",
        ),
        Source(
            "WSU_BIOASSAY_2011",
            "Washington State University Whatcom County Extension, Bioassay Test for Auxinic Herbicide "
            "Residues in "
            "Compost: Protocol for Gardeners, 8 March 2011",
            "opening read",
        ),
        Source(
            "OSU_CARRYOVER_2009",
            "Oregon State University Small Farms, Herbicide Carryover in Hay, Manure, Compost, and Grass "
            "Clippings, "
            "autumn 2009",
            "opening read; its pot test in a republication (tendingmygarden.com)",
        ),
        Source(
            "NCSU_CARRYOVER",
            "NC State Extension, Herbicide Carryover in Hay, Manure, Compost, and Grass Clippings (undated "
            "page)",
            "opening read",
        ),
        Source(
            "RUTGERS_FS1218",
            "Rutgers NJAES Cooperative Extension, FS1218, Rain Barrels Part IV (date not noted)",
            "read in part; the same advice by the University of Illinois",
        ),
        Source(
            "ROTHFUSZ_90",
            "Rothfusz, L.P. (1990) The Heat Index Equation, National Weather Service Technical Attachment SR "
            "90-23",
            "equation, both adjustments and the simple form read on the page of the Weather Prediction "
            "Center, "
            "wpc.ncep.noaa.gov/html/heatindex_equation.shtml; the attachment itself not seen",
        ),
        Source(
            "OSHA_HEAT",
            "US Occupational Safety and Health Administration, Using the Heat Index: A Guide for Employers, "
            "and "
            "Protective Measures to Take at Each Risk Level (undated pages)",
            "table of risk levels read",
        ),
        Source(
            "ALBERTA_POISON",
            "Alberta Agriculture and Rural Development, Poisonous Outdoor Plants: Garden Plants, Vegetables "
            "(Agdex page 13349, undated)",
            "page excerpt read",
        ),
        Source(
            "NIST_SP811",
            "NIST Special Publication 811 (2008), Guide for the Use of the International System of Units, "
            "Appendix B.8",
            "factors from memory, as in bedwright.model.units",
        ),
        Source(
            "MOLAR_MASSES",
            "Standard atomic weights: P 30.974, K 39.098, O 15.999",
            "from memory; they give P = 0.436 P2O5 and K = 0.830 K2O",
        ),
        Source(
            "BARROWS",
            "ask.com and reference.com, How many wheelbarrows in a cubic yard (unsigned)",
            "read: 2 to 3 cubic feet a load, 9 to 14 loads to the cubic yard",
        ),
        Source(
            "ORGANIC_GARDENING_COMPOST",
            "Organic Gardening, How Much Compost Do You Really Need?, reprinted by Green Mountain Compost, "
            "March 2011",
            "read: half an inch a year of compost with 1 % nitrogen is plenty in most regions",
        ),
        Source(PRACTICE, "Common practice, no source.", "nothing to see"),
    )
}
"""Every source a result of this stage may name."""
