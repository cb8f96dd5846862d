"""Everything a season takes, from stock and to buy."""

from dataclasses import replace
from datetime import date

import pytest

from bedwright.engine.supplies import SOURCES, order_lines, season_supplies
from bedwright.engine.supplies.materials import Use, most_at_once
from bedwright.model.book import SeedLot, Stock, Support
from bedwright.model.crop import Crop
from bedwright.model.season import Planting
from bedwright.model.soil import BedFeeding, MaterialUse, MulchNeed, SideDressing
from bedwright.model.supplies import RaisingSpace, SupplierOffer, Supplies, SupplyLine
from tests.builders import tiny_bed, tiny_crop
from tests.plantings import DATES, planting

TODAY = date(2026, 12, 1)


def supplies(
    *plantings: Planting, stock: tuple[Stock, ...] = (), drawer: tuple[SeedLot, ...] = (), **more: object
) -> Supplies:
    orders = order_lines(plantings, drawer, {}, season_year=2027, today=TODAY)
    beds = more.pop("beds", (tiny_bed(),))
    return season_supplies(plantings, orders, beds, stock, today=TODAY, **more)  # type: ignore[arg-type]


def named(found: Supplies, name: str) -> SupplyLine:
    return next(line for line in found.lines if line.name == name)


def climber(support: str) -> Crop:
    return replace(tiny_crop("pole bean"), support=support)  # type: ignore[arg-type]


def test_one_label_a_row_and_one_a_tray() -> None:
    assert named(supplies(planting(), planting("b", way="raise", row_code="A2")), "peg labels").needed == 3


def test_one_cane_a_plant_with_its_length_in_both_unit_systems() -> None:
    line = named(supplies(planting(crop=climber("cane"), n_plants=8)), "canes")
    assert (line.needed, line.unit) == (8, "pieces")
    # 0.40 m high and 0.30 m in the soil: 0.7 m are 2.3 ft (0.3048 m to the foot).
    assert "0.7 m (2.3 ft)" in line.origins[0].rule


def test_canes_are_used_again_by_a_later_crop() -> None:
    late = replace(DATES, in_ground=date(2027, 8, 6), clear_by=date(2027, 10, 30))
    both = (
        planting("a", crop=climber("cane"), n_plants=8),
        planting("b", crop=climber("cane"), n_plants=6, row_code="A2", dates=late),
    )
    line = named(supplies(*both), "canes")
    assert line.needed == 8
    assert line.reused


def test_what_stands_on_one_day_is_needed_on_one_day() -> None:
    uses = [Use(2, date(2027, 5, 1), date(2027, 5, 10), ""), Use(3, date(2027, 5, 10), date(2027, 5, 20), "")]
    assert most_at_once(uses) == 5
    assert most_at_once([uses[0], replace(uses[1], first=date(2027, 5, 11))]) == 3
    assert most_at_once([]) == 0


@pytest.mark.parametrize(
    ("need", "kind"), [("trellis", "trellis"), ("netting", "wall wires"), ("cane", "canes")]
)
def test_a_lasting_support_of_the_bed_saves_the_material(need: str, kind: str) -> None:
    bed = replace(tiny_bed(), supports=(Support(kind, "north", 1.8),))  # type: ignore[arg-type]
    crop = climber(need)
    names = {line.name for line in supplies(planting(crop=crop), beds=(bed,)).lines}
    bare = {line.name for line in supplies(planting(crop=crop)).lines}
    assert len(bare - names) == 1


def test_netting_is_as_long_as_the_rows() -> None:
    line = named(supplies(planting(crop=climber("netting"))), "netting")
    assert line.unit == "m"
    assert line.needed == pytest.approx(4.0)


def test_stock_is_used_first_under_any_of_its_names_and_only_once() -> None:
    stock = (Stock("Bamboo canes", 5, "pieces"), Stock("seed  compost", 100, "L"))
    found = supplies(
        planting(crop=climber("cane"), n_plants=8), planting("b", way="raise", row_code="A2"), stock=stock
    )
    canes, mix = named(found, "canes"), named(found, "potting mix")
    assert (canes.from_stock, canes.to_buy) == (5, 3)
    assert mix.to_buy == 0
    assert mix.from_stock == pytest.approx(mix.needed)


def test_stock_in_another_unit_is_not_counted_and_told() -> None:
    found = supplies(planting("b", way="raise"), stock=(Stock("potting mix", 20, "kg"),))
    line = named(found, "potting mix")
    assert line.from_stock == 0
    assert line.notes == ("Stock stated in kg is not counted: the need is in L.",)


def test_potting_mix_is_a_first_guess_with_a_range() -> None:
    line = named(supplies(planting(way="raise")), "potting mix")
    # 84 cells of 22 ml and a tenth lost.
    assert line.needed == pytest.approx(84 * 0.022 * 1.1)
    assert line.needed_low < line.needed < line.needed_high
    assert line.origins[0].standing == "memory"
    assert "first guess" in line.origins[0].rule


def test_a_germination_test_of_ten_seeds_shows_how_little_it_says() -> None:
    lot = SeedLot("L1", "carrot", "", 2026, count=1000, tested_sown=10, tested_sprouted=4)
    line = named(supplies(planting(), drawer=(lot,)), "carrot")
    # 165 seeds at 40 %. Wilson 1927: 16.8 to 68.7 %, so 165 x 40/68.7 to 165 x 40/16.8.
    assert line.needed == 165
    assert line.needed_low == pytest.approx(96, abs=1)
    assert line.needed_high == pytest.approx(393, abs=2)
    assert "96 to 392" in line.origins[-1].rule


def test_plants_bought_are_a_line_of_their_own() -> None:
    line = named(supplies(planting(way="buy")), "carrot")
    assert (line.kind, line.unit, line.to_buy) == ("plants", "plants", 46)
    assert line.first_needed == DATES.in_ground
    assert line.notes == ("Bought as young plants.",)


def test_seed_offered_by_mass_is_counted_in_seeds() -> None:
    offers = (SupplierOffer("carrot", "", "Fenwick Seeds", 0.1, "g", 1.5, "GBP"),)
    found = supplies(planting(), offers=offers)
    (order,) = found.orders
    # 120 seeds to buy, 80 in a tenth of a gram.
    assert order.total == 3.0
    assert named(found, "peg labels") in found.no_offer


def test_room_that_is_too_small_is_told_week_by_week() -> None:
    found = supplies(planting(way="raise"), space=RaisingSpace(trays=0))
    assert [each.week for each in found.over_limit] == [each.week for each in found.raising]
    assert supplies(planting(way="raise")).over_limit == ()


def test_what_the_soil_stage_worked_out_is_listed_with_its_stock() -> None:
    uses = (
        MaterialUse("garden compost", 12000.0, 24.0, None, True, ""),
        MaterialUse("pelleted feed", 450.0, None, 2.0, False, ""),
    )
    feeding = BedFeeding("A", 4.8, True, (), None, uses, (), None, (), ())
    dressing = SideDressing("carrot-1", "A", "carrot", 1, date(2027, 6, 1), date(2027, 6, 10), "", (1.0, 2.0),
                            "pelleted feed", 20.0, 4.0, 80.0, "", ())  # fmt: skip
    mulch = MulchNeed(
        "carrot-1", "A", 1.2, (50.0, 80.0), (60.0, 96.0), (2, 3), 60.0, date(2027, 6, 10), "", ()
    )
    shed = (Stock("garden compost", 30.0, "L"), Stock("pelleted feed", 0.1, "kg"))
    found = supplies(planting(), stock=shed, feedings=(feeding,), dressings=(dressing,), mulches=(mulch,))
    feed, leaves = named(found, "pelleted feed"), named(found, "leaf mulch")
    # 450 g and 80 g.
    assert feed.needed == pytest.approx(0.53)
    assert feed.unit == "kg"
    assert (feed.from_stock, feed.to_buy) == pytest.approx((0.1, 0.43))
    assert feed.first_needed == date(2027, 4, 19)
    assert (leaves.needed_low, leaves.needed, leaves.needed_high) == pytest.approx((60.0, 78.0, 96.0))
    compost = named(found, "garden compost")
    assert (compost.needed, compost.unit, compost.from_stock, compost.to_buy) == (24.0, "L", 24.0, 0.0)
    assert found.notes == ()


def test_compost_is_bought_by_volume_whatever_it_is_held_and_sold_by() -> None:
    # 12 kg are 24 L, so half a kilogram is a litre; 3 kg in the shed are 6 L.
    use = MaterialUse("garden compost", 12000.0, 24.0, None, False, "")
    feeding = BedFeeding("A", 4.8, True, (), None, (use,), (), None, (), ())
    shed = (Stock("garden compost", 3.0, "kg"),)
    packs = (
        SupplierOffer("garden compost", "", "Fenwick Seeds", 5.0, "kg", 4.0, "GBP"),
        SupplierOffer("garden compost", "", "Fenwick Seeds", 10.0, "L", 4.0, "GBP"),
    )
    for offer in packs:
        found = supplies(planting(), stock=shed, feedings=(feeding,), offers=(offer,))
        compost = named(found, "garden compost")
        assert (compost.from_stock, compost.to_buy) == pytest.approx((6.0, 18.0))
        (order,) = found.orders
        # Two packs of 10 L for 18 L.
        assert order.total == 8.0


def test_without_the_soil_stage_the_gap_is_told() -> None:
    assert "not in this list" in supplies(planting()).notes[0]


def test_lines_come_in_the_order_they_are_ordered_and_never_in_the_past() -> None:
    found = supplies(planting(), planting("b", way="raise", row_code="A2"))
    days = [line.order_by for line in found.lines]
    assert days == sorted(days)
    assert min(days) >= TODAY


def test_every_source_of_a_material_is_listed() -> None:
    found = supplies(planting(crop=climber("cane")), planting("b", way="raise", row_code="A2"))
    for line in found.lines:
        if line.kind == "material":
            for origin in line.origins:
                assert set(origin.source_ids) <= SOURCES.keys()


def test_packs_turned_from_other_units_can_be_weighed_against_each_other() -> None:
    use = MaterialUse("garden compost", 100000.0, 170.0, None, False, "")
    feeding = BedFeeding("A", 4.8, True, (), None, (use,), (), None, (), ())
    # 7 and 15 US gallons (3.785411784 L each) and a bag by mass.
    packs = (
        SupplierOffer("garden compost", "", "Fenwick Seeds", 26.497882488, "L", 6.0, "USD"),
        SupplierOffer("garden compost", "", "Fenwick Seeds", 56.78117676, "L", 11.0, "USD"),
        SupplierOffer("garden compost", "", "Fenwick Seeds", 11.33980925, "kg", 5.0, "USD"),
    )
    (order,) = supplies(planting(), feedings=(feeding,), offers=packs).orders
    # Three of 56.8 L for 170 L.
    assert order.total == 33.0
