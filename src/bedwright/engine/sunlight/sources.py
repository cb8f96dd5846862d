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
            "DUFFIE_BECKMAN",
            "Duffie, J.A. & Beckman, W.A. (2013) Solar Engineering of Thermal Processes, 4th ed., section "
            "1.6: angle of incidence of direct radiation on a tilted plane.",
            "The book itself not seen; Eq. 1.6.2 as coded in a public teaching script, and the same angle in "
            "pvlib, with which ours agrees.",
        ),
        Source(
            "LIU_JORDAN63",
            "Liu, B.Y.H. & Jordan, R.C. (1963) The long-term average performance of flat-plate solar-energy "
            "collectors. Solar Energy 7:53-74: a tilted plane sees (1 + cos tilt) / 2 of an even sky.",
            "Paper not seen; follows from geometry, and agrees with pvlib's isotropic sky.",
        ),
        Source(
            "FAUST_LOGAN18",
            "Faust, J.E. & Logan, J. (2018) Daily light integral: a research review and high-resolution "
            "maps of the United States. HortScience 53:1250-1257.",
            "Abstract read on the page of the University of Tennessee.",
        ),
    )
}
