"""Faults of the ground: outlines, beds on each other, codes, features."""

from __future__ import annotations

import pytest

from tests.unit.store.book.case import POLYGON, Case

THIRD = (
    "  - {{code: {code}, rectangle: {{length_m: 1, width_m: 1, east_m: 9, north_m: 9, bearing_deg: 0}}, "
    "texture: loam}}\nhistory:\n"
)


def third_bed(code: str) -> str:
    return THIRD.format(code=code)


def third_and_fourth_bed(third: str, fourth: str) -> str:
    one = third_bed(third).removesuffix("history:\n")
    return one + third_bed(fourth).replace("east_m: 9", "east_m: 20")


def feature(*entries: str) -> str:
    """Features put at the end of the site."""
    return f"  features: [{', '.join('{' + entry + '}' for entry in entries)}]\nseason:\n"


CASES = (
    Case(
        "an outline that crosses itself",
        POLYGON,
        "polygon: {vertices_m: [[0, 0], [4, 1.2], [4, 0], [0, 1.2]], bearing_deg: 90}",
        "polygon: {vertices_m: [[0, 0], [4, 0], [4, 1.2], [0, 1.2]], bearing_deg: 90}",
        "beds[1].polygon",
        "crosses itself near [2, 0.6]",
    ),
    Case(
        "an outline with a corner twice",
        POLYGON,
        "polygon: {vertices_m: [[0, 0], [4, 0], [4, 0], [4, 1.2], [0, 1.2]], bearing_deg: 90}",
        "polygon: {vertices_m: [[0, 0], [4, 0], [4, 1.2], [0, 1.2], [0, 0]], bearing_deg: 90}",
        "beds[1].polygon",
        "each corner once",
    ),
    Case(
        "an outline without breadth",
        POLYGON,
        "polygon: {vertices_m: [[0, 0], [4, 0], [2, 0.1]], bearing_deg: 90}",
        "polygon: {vertices_m: [[0, 0], [4, 0], [2, 0.2]], bearing_deg: 90}",
        "beds[1].polygon",
        "0.10 m across",
    ),
    Case(
        "two corners only",
        POLYGON,
        "polygon: {vertices_m: [[0, 0], [4, 0]], bearing_deg: 90}",
        "polygon: {vertices_m: [[0, 0], [4, 0], [0, 1]], bearing_deg: 90}",
        "beds[1].polygon.vertices_m",
        "3 to 200 vertices",
    ),
    Case(
        "a corner with one number",
        POLYGON,
        "polygon: {vertices_m: [[0, 0], [4], [0, 1]], bearing_deg: 90}",
        "polygon: {vertices_ft: [[0, 0], [12, 0], [0, 3]], bearing_deg: 90}",
        "beds[1].polygon.vertices_m[2]",
        "[east, north]",
    ),
    Case(
        "overlapping beds",
        "north_m: 3,",
        "north_m: 0.72,",
        "north_m: 0.75,",
        "beds[2].rectangle",
        "0.09 m2 on bed A (line 12)",
    ),
    Case(
        "a bed far away",
        "north_m: 3,",
        "north_m: 1800,",
        "north_m: 900,",
        "beds[1].rectangle",
        "centimetres or feet",
        n_problems=2,
    ),
    Case(
        "a bed beyond the map",
        "north_m: 3,",
        "north_m: 2001,",
        "north_m: 30,",
        "beds[2].rectangle.north_m",
        "looks like cm",
    ),
    Case(
        "a bed code used twice", "history:\n", third_bed("a"), third_bed("C"), "beds[3].code", "line 12 has A"
    ),
    Case(
        "bed codes whose rows clash",
        "history:\n",
        third_bed("A1"),
        third_bed("AB"),
        "beds[3].code",
        "the same peg",
    ),
    Case(
        "a bed called as a row of another",
        "history:\n",
        third_and_fourth_bed("K1", "K1-2"),
        third_and_fourth_bed("K1", "K12"),
        "beds[4].code",
        "the same peg",
    ),
    Case(
        "a bed code that is a word",
        "history:\n",
        third_bed("Northern"),
        third_bed("North"),
        "beds[3].code",
        "a short code",
    ),
    Case(
        "a width for a tree",
        "season:\n",
        feature("code: T, kind: tree, at_m: [9, 9], width_m: 3"),
        feature("code: T, kind: tree, at_m: [9, 9], crown_radius_m: 3"),
        "site.features[1].width_m",
        "`crown_radius_m`",
    ),
    Case(
        "leaves above the tree",
        "season:\n",
        feature("code: T, kind: tree, at_m: [9, 9], height_m: 4, crown_base_m: 5"),
        feature("code: T, kind: tree, at_m: [9, 9], height_m: 4, crown_base_m: 4"),
        "site.features[1].crown_base_m",
        "the height of the tree",
    ),
    Case(
        "a feature code used twice",
        "season:\n",
        feature("code: T, kind: tap, at_m: [9, 9]", "code: T, kind: tap, at_m: [8, 9]"),
        feature("code: T, kind: tap, at_m: [9, 9]", "code: U, kind: tap, at_m: [8, 9]"),
        "site.features[2].code",
        "a code of its own",
    ),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.fault)
def test_a_fault_is_told_where_it_is_and_its_twin_is_accepted(case: Case) -> None:
    case.check()
