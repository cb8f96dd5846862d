"""Side dressing and leaf mulch by date."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bedwright.engine.soil import SOIL_SOURCES, mulch_needs, side_dressings
from bedwright.engine.soil.mulch import sacks_of_whole_leaves
from bedwright.engine.soil.side_dressing import FEEDS, NO_FEED, nitrogen_per_m_row_g, side_dressing_note
from tests.builders import tiny_crop
from tests.unit.engine.soil.gardens import AMMONIA, POTASH, planting

TOMATO = replace(
    tiny_crop("tomato", "Solanaceae"), row_spacing_m=0.9, support="cane", edible_parts=("fruit",)
)


def test_tomatoes_are_fed_three_times_round_their_first_ripe_fruit() -> None:
    found = side_dressings([planting(TOMATO)], AMMONIA)
    # First pick 20 July: 1 to 2 weeks before, 2 weeks after, a month later (K-State, June 2020).
    assert [each.opens for each in found] == [date(2027, 7, 6), date(2027, 8, 3), date(2027, 9, 2)]
    assert found[0].closes == date(2027, 7, 13)
    # Rows 0.9 m apart: 4.9 g/m2 x 0.9 is above 4.0 g a metre, so the row rate holds; 20 % N.
    assert found[0].n_g_per_m_row == (4.0, 4.4)
    assert found[0].material_g_per_m_row == 20
    assert found[0].row_m == pytest.approx(8)
    assert found[0].total_g == 160
    assert "off the stems" in found[0].text


def test_close_rows_share_the_ground() -> None:
    # 0.1 lb per 100 sq ft is 4.88 g/m2: 1.46 g a metre for rows 0.3 m apart.
    assert nitrogen_per_m_row_g(0.3)[0] == pytest.approx(1.465, abs=0.001)
    with pytest.raises(ValueError, match="apart"):
        nitrogen_per_m_row_g(0)


def test_feeds_after_the_last_pick_are_left_out() -> None:
    short = planting(TOMATO, last_pick=date(2027, 7, 25))
    assert len(side_dressings([short], AMMONIA)) == 1


def test_no_feed_opens_before_planting() -> None:
    quick = planting(TOMATO, in_ground=date(2027, 7, 15))
    assert side_dressings([quick], AMMONIA)[0].opens == date(2027, 7, 15)


def test_crops_without_a_published_feed_get_none_and_a_word_why() -> None:
    assert side_dressings([planting(tiny_crop("carrot"))], AMMONIA) == ()
    assert "UGA" in side_dressing_note("carrot")
    assert "No published time" in side_dressing_note("kale")
    assert side_dressing_note("tomato") == ""


def test_a_material_without_nitrogen_is_no_side_dressing() -> None:
    with pytest.raises(ValueError, match="no nitrogen"):
        side_dressings([planting(TOMATO)], POTASH)


def test_every_source_of_the_tables_is_listed() -> None:
    named = {source for feeds in FEEDS.values() for feed in feeds for source in feed.source_ids}
    named |= {source for sources in NO_FEED.values() for source in sources}
    assert named <= SOIL_SOURCES.keys()


def test_leaf_mulch_round_transplants() -> None:
    (need,) = mulch_needs([planting()], soil_warm_from=date(2027, 5, 1))
    # 4 m2 x 51 and 102 mm: 204 and 408 L shredded; six times that whole, in sacks of 114 L.
    assert need.volume_l == pytest.approx((200, 410))
    assert need.n_sacks_whole_leaves == (11, 22)
    assert need.not_before == date(2027, 5, 24)


def test_mulch_waits_for_warm_soil() -> None:
    (need,) = mulch_needs([planting()], soil_warm_from=date(2027, 6, 10))
    assert need.not_before == date(2027, 6, 10)
    (unknown,) = mulch_needs([planting()])
    assert "must be warm" in unknown.text


def test_mulch_never_lies_over_a_fresh_drill() -> None:
    (need,) = mulch_needs([planting(way="sow", emerges=date(2027, 5, 20))], soil_warm_from=date(2027, 5, 1))
    assert need.not_before == date(2027, 6, 17)
    assert "Not over the drill" in need.text


def test_quick_crops_and_cover_crops_are_not_mulched() -> None:
    radish = planting(way="sow", emerges=date(2027, 5, 20), first_pick=date(2027, 6, 10))
    rye = planting(replace(tiny_crop("winter rye", "Poaceae"), kind="cover crop"))
    assert mulch_needs([radish, rye]) == ()


def test_sacks_are_whole_and_hold_something() -> None:
    # 100 sacks whole make 17 chopped: 19 L shredded is one sack of 114 L.
    assert sacks_of_whole_leaves(19) == 1
    assert sacks_of_whole_leaves(20) == 2
    with pytest.raises(ValueError, match="sack"):
        mulch_needs([planting()], sack_l=0)
