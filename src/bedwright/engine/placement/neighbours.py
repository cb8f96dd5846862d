"""What crops gain or lose side by side, by evidence and by the coordinator's own wish."""

from __future__ import annotations

from collections.abc import Mapping

from bedwright.engine.placement.terms import NEIGHBOUR_BY_GRADE, share
from bedwright.model.book import NeighbourWish
from bedwright.model.crop import NeighbourFinding


def neighbour_gains(
    findings: Mapping[tuple[str, str], tuple[NeighbourFinding, ...]],
    wished: Mapping[frozenset[str], NeighbourWish],
) -> dict[tuple[str, str], float]:
    """Share of its worth that the first crop of a pair gains (loses) beside the second."""
    gains: dict[tuple[str, str], float] = {}
    signs = {"beneficial": 1.0, "harmful": -1.0, "none-found": 0.0}
    for pair, found in findings.items():
        if frozenset(pair) in wished:
            continue
        # The best-graded finding of each sign speaks; several of one sign are not added up.
        scores = [signs[one.effect] * NEIGHBOUR_BY_GRADE[one.grade] for one in found]
        gain = max([0.0, *scores]) + min([0.0, *scores])
        if gain:
            gains[pair] = gain * share("neighbour")
    for wish in wished.values():
        # Each of the two crops carries half, so that the pair counts once.
        gain = (share("neighbour wish") if wish.wanted else -share("neighbour wish")) / 2
        for pair in ((wish.crop_a, wish.crop_b), (wish.crop_b, wish.crop_a)):
            gains[pair] = gain
    return gains
