"""Publications behind the light model."""

from bedwright.model.source import Source

MICHALSKY = "MICHALSKY88"
SOURCES = {
    source.id: source
    for source in (
        Source(
            MICHALSKY,
            "Michalsky, J.J. (1988) The Astronomical Almanac's algorithm for approximate solar position "
            "(1950-2050). Solar Energy 40:227-235",
            "Equations from memory; results agree with the worked instant of Reda & Andreas (2004), "
            "NREL/TP-560-34302, and with pvlib within 0.02°.",
        ),
        Source(
            "HEISLER86",
            "Heisler, G.M. (1986) Effects of individual trees on the solar radiation climate of small "
            "buildings. Urban Ecology 9:337-359.",
            "Abstract read on the page of the USDA Forest Service, Northern Research Station, "
            "publication 34772.",
        ),
        Source(
            "ERBS82",
            "Erbs, D.G., Klein, S.A. & Duffie, J.A. (1982) Estimation of the diffuse radiation fraction for "
            "hourly, daily and monthly-average global radiation. Solar Energy 28:293-302.",
            "Coefficients of the monthly correlation as coded alike in several public programs, with its "
            "range 0.3 to 0.8; the paper itself not seen.",
        ),
        Source(
            "FAUST_LOGAN18",
            "Faust, J.E. & Logan, J. (2018) Daily light integral: a research review and high-resolution "
            "maps of the United States. HortScience 53:1250-1257.",
            "Abstract read on the page of the University of Tennessee.",
        ),
    )
}
