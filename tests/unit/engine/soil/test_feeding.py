"""The cheapest mix within the caps, shared stock, and beds without a test."""

from __future__ import annotations

from typing import Any

import pytest

from bedwright.engine.soil import check_feeding, feed_beds
from bedwright.engine.soil.blend import BedDemand, blend
from bedwright.engine.soil.feeding import stock_masses
from bedwright.model.book import Stock
from bedwright.model.soil import Material, NutrientNeed
from tests.unit.engine.soil.gardens import AMMONIA, BONE, COMPOST, POTASH, ROUND, bed

HUNGRY: dict[str, Any] = {"p_mg_kg": 15.0, "k_mg_kg": 30.0, "organic_matter_pct": 1.0}
"""Low in all by the Rutgers table: 12.2 g/m2 of nitrogen, 24.4 of phosphate and of potash."""


def need(nutrient: str, need_g_m2: float, cap_g_m2: float) -> NutrientNeed:
    return NutrientNeed(nutrient, need_g_m2, cap_g_m2, (0, cap_g_m2), "", ())  # type: ignore[arg-type]


def test_a_mix_that_can_be_checked_by_hand() -> None:
    # 10 m2 want 10 g/m2 of nitrogen and 20 of phosphate. 1000 g of bone gives 200 g of phosphate
    # and 20 of nitrogen; the other 80 g of nitrogen come from 400 g of ammonia.
    demand = BedDemand("A", 10, (need("N", 10, 50), need("P2O5", 20, 50)))
    found = {a.material: a.mass_g for a in blend([demand], [BONE, AMMONIA], {}, {}, ["bone", "ammonia"])}
    assert found == pytest.approx({"bone": 1000, "ammonia": 400})


def test_of_two_that_would_do_the_cheaper_is_bought() -> None:
    demand = BedDemand("A", 10, (need("N", 10, 50),))
    dear = Material("dear", "fertiliser", n_pct=(20, 20), bulk_density_kg_l=(1, 1))
    prices = {"ammonia": 1.0, "dear": 2.0}
    (amount,) = blend([demand], [dear, AMMONIA], {}, prices, ["ammonia", "dear"])
    assert amount.material == "ammonia"


def test_where_prices_are_stated_what_has_none_is_not_bought() -> None:
    demand = BedDemand("A", 10, (need("N", 10, 50),))
    assert blend([demand], [AMMONIA], {}, {"bone": 1.0}, ["ammonia"]) == ()


def test_the_shed_is_used_before_anything_is_bought() -> None:
    demand = BedDemand("A", 10, (need("N", 10, 50),))
    found = blend([demand], [AMMONIA], {"ammonia": 200.0}, {}, ["ammonia"])
    assert [a.from_stock for a in found] == [True, False]
    assert [a.mass_g for a in found] == pytest.approx([200, 300])


def test_beds_share_what_is_in_the_shed() -> None:
    demands = [BedDemand(code, 10, (need("N", 10, 50),)) for code in ("A", "B")]
    found = blend(demands, [AMMONIA], {"ammonia": 600.0}, {}, [])
    assert sum(a.mass_g for a in found) == pytest.approx(600)


def test_a_cap_holds_even_where_a_need_is_left_short() -> None:
    # Bone brings phosphate to a bed that may have none: nothing is spread.
    demand = BedDemand("A", 10, (need("N", 10, 50), need("P2O5", 0, 0)))
    assert blend([demand], [BONE], {"bone": 5000.0}, {}, ["bone"]) == ()


def test_compost_stops_at_an_inch() -> None:
    demand = BedDemand("A", 10, (need("K2O", 1000, 5000),))
    (amount,) = blend([demand], [COMPOST], {"compost": 1e6}, {}, [])
    # 25.4 L/m2 x 10 m2 x 0.5 kg/L.
    assert amount.mass_g == pytest.approx(127000)


@pytest.mark.parametrize(
    ("stock", "prices", "area_m2"),
    [({"bone": -1.0}, {}, 1.0), ({}, {"bone": float("nan")}, 1.0), ({}, {}, float("inf"))],
)
def test_bad_numbers_are_refused(stock: dict[str, float], prices: dict[str, float], area_m2: float) -> None:
    with pytest.raises(ValueError, match="0 or more"):
        blend([BedDemand("A", area_m2, (need("N", 1, 2),))], [BONE], stock, prices, ["bone"])


def test_a_hungry_bed_gets_all_three_in_round_amounts() -> None:
    (fed,) = feed_beds([bed(**HUNGRY)], ROUND, [], buyable=["bone", "potash", "ammonia"])
    # 4.8 m2: 117 g of phosphate is 586 g of bone with 12 g of nitrogen; 117 g of potash is 234 g; the
    # rest of 58.6 g of nitrogen is 234 g of ammonia. 590 g would pass the cap, so all go down.
    assert {use.material: use.mass_g for use in fed.uses} == {"bone": 580, "potash": 230, "ammonia": 230}
    assert all(use.cups is not None and not use.from_stock for use in fed.uses)
    assert "to buy" in fed.uses[0].text
    assert any("least to buy" in note for note in fed.notes)
    assert fed.cost is None


def test_what_it_costs_is_stated_where_prices_are() -> None:
    prices = {"bone": 2.0, "potash": 3.0, "ammonia": 1.0}
    (fed,) = feed_beds([bed(**HUNGRY)], ROUND, [], buyable=list(prices), price_per_kg=prices)
    assert fed.cost == pytest.approx(0.59 * 2 + 0.23 * 3 + 0.23, abs=0.03)


def test_a_bed_high_in_phosphorus_gets_none_of_it() -> None:
    (fed,) = feed_beds(
        [bed(p_mg_kg=150.0, k_mg_kg=30.0, organic_matter_pct=1.0)],
        ROUND,
        [Stock("garden compost", 500, "L"), Stock("bone", 5, "kg")],
        buyable=["ammonia", "potash"],
    )
    assert {use.material for use in fed.uses} == {"ammonia", "potash"}
    phosphate = next(each for each in fed.supplied if each.nutrient == "P2O5")
    assert phosphate.high_g_m2 == 0


def test_what_cannot_be_met_is_said() -> None:
    (fed,) = feed_beds([bed(**HUNGRY)], ROUND, [], buyable=["bone"])
    assert sum("Short of" in note for note in fed.notes) == 2


def test_a_bed_without_a_test_gets_a_thin_layer_and_test_first() -> None:
    (fed,) = feed_beds([bed()], ROUND, [Stock("compost", 100, "L")], buyable=["bone"])
    assert not fed.tested
    (use,) = fed.uses
    # 4.8 m2 x 12.7 mm / 0.9 = 67.7 L.
    assert (use.material, use.volume_l, use.from_stock) == ("compost", 68, True)
    assert "test first" in fed.notes[0]


def test_the_shed_does_not_give_its_compost_twice() -> None:
    fed = feed_beds([bed("A"), bed("B")], ROUND, [Stock("compost", 100, "L")])
    assert [feeding.uses[0].from_stock for feeding in fed] == [True, False]


def test_stock_in_litres_is_weighed_by_its_density() -> None:
    masses, notes = stock_masses(
        [Stock("Garden Compost", 10, "L"), Stock("netting", 5, "m"), Stock("bone", 3, "pieces")], ROUND
    )
    assert masses == {"compost": 5000}
    assert notes == ("bone in the shed is left out: pieces cannot be turned into kilograms.",)


def test_unknown_materials_and_negative_stock_are_refused() -> None:
    with pytest.raises(ValueError, match="no such material: moon dust"):
        feed_beds([bed()], ROUND, [], buyable=["moon dust"])
    with pytest.raises(ValueError, match="stock of bone"):
        feed_beds([bed()], ROUND, [Stock("bone", -1, "kg")])


def test_every_origin_of_a_figure_names_a_source_or_is_its_own() -> None:
    (fed,) = feed_beds([bed(ph=5.2, **HUNGRY)], ROUND, [], buyable=["bone", "potash", "ammonia"])
    assert fed.acidity is not None
    assert fed.acidity.material == "lime"
    assert all(origin.source_ids or origin.standing in ("own", "practice") for origin in fed.origins)


def test_the_checker_knows_a_broken_plan() -> None:
    (fed,) = feed_beds([bed(**HUNGRY)], ROUND, [Stock("bone", 1, "kg")], buyable=["potash", "ammonia"])
    materials = {material.name: material for material in ROUND}
    assert check_feeding([fed], materials, {"bone": 1000}) == ()
    assert [fault.rule for fault in check_feeding([fed], materials, {"bone": 100})] == ["stock"]
    richer = {**materials, "bone": Material("bone", "fertiliser", p2o5_pct=(30, 30))}
    assert [fault.what for fault in check_feeding([fed], richer, {"bone": 1000})] == ["P2O5"]


def test_the_same_beds_give_the_same_plan() -> None:
    beds = [bed(code, **HUNGRY) for code in "ABC"]
    stock = [Stock("bone", 1, "kg"), Stock("compost", 60, "L")]
    one, two = (feed_beds(beds, ROUND, stock, buyable=["ammonia", "potash"]) for _ in range(2))
    assert one == two
    assert POTASH.name in {use.material for feeding in one for use in feeding.uses}
