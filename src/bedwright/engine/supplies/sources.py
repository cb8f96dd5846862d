"""Publications behind the figures of this stage, and stated lacks of one."""

from __future__ import annotations

from bedwright.model.source import Source

SUPPLIES_PRACTICE = "SUPPLIES_PRACTICE"
SUPPLIES_MEMORY = "SUPPLIES_MEMORY"

SOURCES: dict[str, Source] = {
    source.id: source
    for source in (
        Source(
            SUPPLIES_PRACTICE,
            "Counting of garden supplies: common practice, no source",
            "Not looked up; change the figures where your own experience differs.",
        ),
        Source(
            SUPPLIES_MEMORY,
            "Potting mix held by one cell of plug trays: from memory, no copy seen",
            "First guess: fill one of your trays with a measuring jug and enter what it takes.",
        ),
        Source(
            "USU_TRANSPLANTS",
            "Utah State University Extension, Utah Vegetable Production Guide: Transplant Production "
            "(tomato, pepper, eggplant; and the general page on trays): plug trays with 50 to 72 cells; "
            "larger cells (50s, 72s) give earlier yields; undated web page",
            "Read as excerpts.",
        ),
        Source(
            "TRAY_1020",
            "Dealers' pages on plug trays: 11 by 21.2 inches (0.28 by 0.54 m) outside, for 50 to 392 cells",
            "Read as excerpts on two commercial pages.",
        ),
        Source(
            "WILSON_1927",
            "Wilson, E.B. (1927) Probable inference, the law of succession, and statistical inference. "
            "J. American Statistical Association 22:209-212",
            "From memory, no copy seen; the formula is checked by its own arithmetic.",
        ),
    )
}
