"""A workday cut into blocks of work with breaks between."""

from __future__ import annotations

from bedwright.model.work import Helper, WorkBlock

WORK_MIN = 45
"""Minutes of work before a break (EATSOUTH_SESSION)."""
BREAK_MIN = 15
"""Length of a break: common practice, no source."""
WELCOME_MIN = 10
"""Signing in, showing the tools, washing hands: common practice, no source."""
TIDY_MIN = 10
"""Cleaning and counting tools, washing hands: common practice, no source."""
LEAST_BLOCK_MIN = 15
"""A shorter rest is not worth starting a job in: common practice, no source."""
LONGEST_SESSION_MIN = 120
"""A volunteer session (EATSOUTH_SESSION)."""


def blocks_of(start_min: int, end_min: int) -> tuple[WorkBlock, ...]:
    """Blocks of work between welcome and tidying, a break after every 45 minutes.

    Parameters
    ----------
    start_min, end_min
        Minutes after midnight; the end lies after the start.

    Source
    ------
    45 minutes of work, then a break: eatsouth.org (EATSOUTH_SESSION). Lengths of break,
    welcome and tidying: common practice, no source.

    Raises
    ------
    ValueError
        If the end does not lie after the start.
    """
    if end_min <= start_min:
        raise ValueError(f"a workday ends after it starts; got {clock(start_min)} to {clock(end_min)}")
    at, last = start_min + WELCOME_MIN, end_min - TIDY_MIN
    blocks: list[WorkBlock] = []
    while last - at >= LEAST_BLOCK_MIN:
        end = min(at + WORK_MIN, last)
        blocks.append(WorkBlock(len(blocks) + 1, at, end))
        at = end + BREAK_MIN
    return tuple(blocks)


def minutes_in(helper: Helper, block: WorkBlock) -> int:
    """Minutes a person is there in a block; 0 where it is too short a time to join in."""
    there = min(helper.leaves_min, block.end_min) - max(helper.arrives_min, block.start_min)
    return there if there >= LEAST_BLOCK_MIN else 0


def clock(minutes: int) -> str:
    """Minutes after midnight as hours and minutes."""
    return f"{minutes // 60}:{minutes % 60:02}"
