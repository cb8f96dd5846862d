from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bedwright.engine.sunlight import survey_site
from bedwright.model.book import Bed, Feature, Site
from bedwright.model.ground import Rectangle
from bedwright.service.site_sun import MOST_CELLS, MOST_VIEWS, site_box_m, site_sun

TREE = Feature("T1", "tree", "tree", ((8.0, -1.0),), height_m=6.0, radius_m=2.0, crown_base_m=1.0)
SITE = Site("Ground", 52.0, 0.0, 30.0, "Europe/London", features=(TREE,))
BEDS = (
    Bed("A", "", Rectangle(4.0, 1.2, 0.0, 0.0, 0.0), "loam"),
    Bed("B", "", Rectangle(4.0, 1.2, 7.5, 2.5, 0.0), "loam"),
)


def moved(site: Site, east_m: float) -> Site:
    return replace(site, features=(replace(site.features[0], vertices_m=((east_m, -1.0),)),))


def test_moving_a_tree_gives_the_same_hours_with_and_without_what_was_known() -> None:
    before = site_sun(SITE, BEDS, 6)

    known = site_sun(moved(SITE, 6.0), BEDS, 6, before=before)
    afresh = site_sun(moved(SITE, 6.0), BEDS, 6)

    assert np.array_equal(known.sun_h, afresh.sun_h)
    assert known.bed_sun_h == afresh.bed_sun_h


def test_another_month_may_follow_on_what_was_known() -> None:
    before = site_sun(SITE, BEDS, 6)

    known = site_sun(SITE, BEDS, 12, before=before)

    assert np.array_equal(known.sun_h, site_sun(SITE, BEDS, 12).sun_h)


@pytest.mark.parametrize("month", [1, 6])
def test_a_hedge_that_loses_its_leaves_shades_as_in_the_survey_of_all_months(month: int) -> None:
    hedge = Feature(
        "H", "hedge", "", ((-1.0, 0.0), (-1.0, 6.0)), height_m=1.6, radius_m=0.4, leafless_months=(1, 12)
    )
    site = replace(SITE, features=(TREE, hedge))

    sun = site_sun(site, BEDS, month)

    whole = survey_site(site, BEDS, cell_m=sun.cell_m, box_m=site_box_m(site, BEDS))
    np.testing.assert_allclose(sun.sun_h, whole.sun_h()[month - 1], atol=1e-4)


def test_a_tree_takes_sun_from_the_bed_to_its_north() -> None:
    open_ground = replace(SITE, features=(replace(TREE, height_m=0.0),))

    lost_h = site_sun(open_ground, BEDS, 4).bed_sun_h["B"] - site_sun(SITE, BEDS, 4).bed_sun_h["B"]

    assert lost_h > 0.3


def test_cells_stay_where_they_are_while_a_tree_moves_within_the_site() -> None:
    one, other = site_box_m(SITE, BEDS), site_box_m(moved(SITE, 8.3), BEDS)

    assert one == other


def test_a_bed_between_the_middles_of_cells_has_the_hours_of_the_nearest() -> None:
    tiny = Bed("C", "", Rectangle(0.3, 0.2, 3.05, 1.05, 0.0), "loam")

    sun = site_sun(SITE, (*BEDS, tiny), 6)

    assert 0 < sun.bed_sun_h["C"] < 24


def test_a_large_site_is_looked_at_in_larger_cells() -> None:
    far = Bed("Z", "", Rectangle(4.0, 1.2, 300.0, 200.0, 0.0), "loam")

    sun = site_sun(SITE, (*BEDS, far), 6)

    assert sun.cell_m > 0.5
    assert sun.sun_h.size <= MOST_CELLS
    assert sun.n_views <= MOST_VIEWS


@pytest.mark.parametrize("month", [0, 13])
def test_a_month_that_is_none_is_refused(month: int) -> None:
    with pytest.raises(ValueError, match="expected 1 to 12"):
        site_sun(SITE, BEDS, month)


def test_a_site_with_nothing_on_it_is_refused() -> None:
    with pytest.raises(ValueError, match="nothing stands on the site"):
        site_sun(replace(SITE, features=()), (), 6)
