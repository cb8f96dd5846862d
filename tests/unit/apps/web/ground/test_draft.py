from __future__ import annotations

from typing import Any

import pytest

from bedwright.apps.web.ground.draft import UnsoundDraftError, drafted
from bedwright.model.book import Site
from bedwright.model.ground import Circle, Polygon, Rectangle

SITE = Site("Ground", 52.0, 0.0, 30.0, "Europe/London")
BED = {
    "code": "A",
    "rectangle": {"length_m": 4, "width_m": 1.2, "east_m": 0, "north_m": 0, "bearing_deg": 90},
}
TREE = {"code": "T1", "kind": "tree", "at_m": [3, 4], "height_m": 5, "crown_radius_m": 2, "crown_base_m": 1}


def test_every_outline_and_feature_is_read_as_the_book_has_it() -> None:
    circle = {"code": "B", "circle": {"radius_m": 1, "east_m": 5, "north_m": 5}, "raised_m": 0.3}
    polygon = {"code": "C", "polygon": {"vertices_m": [[0, 0], [2, 0], [2, 2]], "bearing_deg": 0}}
    hedge = {
        "code": "H",
        "kind": "hedge",
        "vertices_m": [[0, 0], [9, 0]],
        "width_m": 0.8,
        "leafless_months": [1, 12],
    }

    site, beds = drafted(SITE, [TREE, hedge], [BED, circle, polygon])

    assert [type(bed.outline) for bed in beds] == [Rectangle, Circle, Polygon]
    assert beds[1].raised_m == 0.3
    assert site.features[0].radius_m == 2.0
    assert site.features[1].radius_m == 0.4
    assert site.features[1].leafless_months == (1, 12)
    assert site.name == "Ground"


@pytest.mark.parametrize(
    ("features", "beds"),
    [
        (None, [BED]),
        ([], "A"),
        ([], [1]),
        ([{**TREE, "kind": "fountain"}], [BED]),
        ([{**TREE, "at_m": [1]}], [BED]),
        ([{**TREE, "at_m": [1, float("inf")]}], [BED]),
        ([{**TREE, "at_m": [1, 99999]}], [BED]),
        ([{**TREE, "height_m": "tall"}], [BED]),
        ([{**TREE, "leafless_months": [13]}], [BED]),
        ([{"code": "F", "kind": "fence"}], [BED]),
        ([], [{"code": "A"}]),
        ([], [{"code": "A", "circle": {"radius_m": True, "east_m": 0, "north_m": 0}}]),
        ([], [{"code": "A", "polygon": {"vertices_m": [[0, 0], [1, 1], [2, 2]], "bearing_deg": 0}}]),
        ([TREE] * 501, [BED]),
    ],
)
def test_what_cannot_be_drawn_is_refused(features: Any, beds: Any) -> None:
    with pytest.raises(UnsoundDraftError):
        drafted(SITE, features, beds)
