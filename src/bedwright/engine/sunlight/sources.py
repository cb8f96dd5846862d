"""Publications behind the light model."""

from bedwright.model.source import Source

MICHALSKY = "MICHALSKY88"
SOURCES = {
    MICHALSKY: Source(
        MICHALSKY,
        "Michalsky, J.J. (1988) The Astronomical Almanac's algorithm for approximate solar position "
        "(1950-2050). Solar Energy 40:227-235",
        "Equations from memory; results agree with the worked instant of Reda & Andreas (2004), "
        "NREL/TP-560-34302, and with pvlib within 0.02°.",
    ),
}
