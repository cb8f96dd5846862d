"""Packs at least cost."""

from datetime import date
from itertools import product

import pytest

from bedwright.engine.supplies import cheapest_packs, orders_of, purchases_of
from bedwright.model.supplies import PackCount, SupplierOffer, SupplyLine, SupplyUnit

TODAY = date(2027, 1, 15)


def offer(quantity: float, price: float, **changes: object) -> SupplierOffer:
    base = {"name": "potting mix", "variety": "", "supplier": "Fenwick Seeds", "unit": "L", "currency": "GBP"}
    return SupplierOffer(pack_quantity=quantity, price=price, **(base | changes))  # type: ignore[arg-type]


def line(to_buy: float, name: str = "potting mix", variety: str = "", unit: SupplyUnit = "L") -> SupplyLine:
    return SupplyLine(
        "material", name, variety, unit, to_buy, to_buy, to_buy, 0.0, to_buy, date(2027, 3, 20),
        date(2027, 2, 20), (), (),
    )  # fmt: skip


def test_a_larger_bag_is_taken_where_it_is_cheaper() -> None:
    choice = cheapest_packs(35, "L", [offer(10, 3.0), offer(50, 9.5)])
    assert choice is not None
    assert choice.packs == (PackCount(50, 9.5, 1),)
    assert (choice.cost, choice.quantity, choice.surplus) == (9.5, 50, 15)


def test_sizes_are_mixed_where_that_is_cheapest() -> None:
    choice = cheapest_packs(70, "L", [offer(20, 5.0), offer(50, 9.5)])
    assert choice is not None
    assert choice.packs == (PackCount(50, 9.5, 1), PackCount(20, 5.0, 1))
    assert choice.cost == 14.5


def test_of_equal_costs_the_least_is_left_over() -> None:
    choice = cheapest_packs(30, "L", [offer(20, 4.0), offer(40, 8.0), offer(30, 8.0)])
    assert choice is not None
    assert choice.packs == (PackCount(30, 8.0, 1),)


def test_a_need_just_met_takes_no_pack_more() -> None:
    choice = cheapest_packs(0.1 + 0.2, "L", [offer(0.1, 1.0)])
    assert choice is not None
    assert choice.packs[0].count == 3


def test_a_need_far_beyond_the_largest_pack_is_filled_exactly() -> None:
    choice = cheapest_packs(100_003, "L", [offer(7, 5.0), offer(10, 7.0)])
    assert choice is not None
    # Ten at 0.70 a litre beat seven at 0.714, so nearly all are tens; every rest is tried.
    assert choice.cost == min(
        7 * tens + 5 * sevens for tens, sevens in product(range(9980, 10002), range(40))
        if 10 * tens + 7 * sevens >= 100_003
    )  # fmt: skip


def test_nothing_needed_or_nothing_in_that_unit_gives_no_choice() -> None:
    assert cheapest_packs(0, "L", [offer(10, 1)]) is None
    assert cheapest_packs(5, "kg", [offer(10, 1)]) is None
    assert cheapest_packs(5, "L", []) is None


@pytest.mark.parametrize(
    "bad", [[offer(0, 1)], [offer(1, -1)], [offer(1, float("nan"))], [offer(1, 1), offer(1, 1, supplier="B")],
            [offer(1, 1), offer(1, 1, currency="EUR")]],
)  # fmt: skip
def test_offers_that_cannot_be_are_refused(bad: list[SupplierOffer]) -> None:
    with pytest.raises(ValueError, match=r"holds|costs|within one supplier"):
        cheapest_packs(1, "L", bad)


def test_pack_sizes_without_a_workable_common_measure_are_refused_in_words() -> None:
    odd = [offer(12.345677, 1.0), offer(98.765431, 7.0)]
    with pytest.raises(ValueError, match="common measure"):
        cheapest_packs(90_000, "L", odd)


def test_the_cheapest_supplier_is_taken_and_the_others_are_shown() -> None:
    offers = [offer(10, 3.0), offer(10, 2.5, supplier="Barley Yard"), offer(40, 8.0, supplier="Barley Yard")]
    (found,) = purchases_of([line(40)], offers, today=TODAY)
    assert found.choice is not None
    assert (found.choice.supplier, found.choice.cost) == ("Barley Yard", 8.0)
    assert [(each.supplier, each.cost) for each in found.others] == [("Fenwick Seeds", 12.0)]


def test_prices_in_different_currencies_are_not_compared() -> None:
    offers = [offer(40, 9.0), offer(10, 3.0), offer(40, 1.0, supplier="Far", currency="JPY")]
    (found,) = purchases_of([line(40)], offers, today=TODAY)
    assert found.choice is not None
    assert found.choice.currency == "GBP"


def test_a_variety_is_bought_as_that_variety() -> None:
    offers = [
        offer(100, 2.0, name="Carrot", variety="Longfield", unit="seeds"),
        offer(500, 1.0, name="carrot", variety="Other", unit="seeds"),
    ]
    (found,) = purchases_of([line(120, "carrot", "longfield", "seeds")], offers, today=TODAY)
    assert found.choice is not None
    assert found.choice.cost == 4.0


def test_two_varieties_are_not_mixed_where_any_will_do() -> None:
    offers = [
        offer(100, 2.0, name="carrot", variety="Longfield", unit="seeds"),
        offer(20, 0.2, name="carrot", variety="Other", unit="seeds"),
    ]
    (found,) = purchases_of([line(120, "carrot", "", "seeds")], offers, today=TODAY)
    assert found.choice is not None
    assert found.choice.packs == (PackCount(20, 0.2, 6),)


def test_a_stated_time_of_delivery_sets_the_day_to_order() -> None:
    slow, fast = (offer(40, 9.0, lead_days=days) for days in (60, 10))
    assert purchases_of([line(40)], [fast], today=TODAY)[0].order_by == date(2027, 3, 10)
    assert purchases_of([line(40)], [slow], today=TODAY)[0].order_by == date(2027, 1, 19)
    assert purchases_of([line(40)], [offer(40, 9.0)], today=TODAY)[0].order_by == date(2027, 2, 20)


def test_orders_are_gathered_by_supplier_with_their_totals() -> None:
    offers = [offer(10, 0.1), offer(1, 0.2, name="canes", unit="pieces")]
    lines = [line(30), line(3, "canes", unit="pieces"), line(5, "netting", unit="m"), line(0, "labels")]
    purchases = purchases_of(lines, offers, today=TODAY)
    (order,) = orders_of(purchases)
    assert [each.line.name for each in order.purchases] == ["canes", "potting mix"]
    # 3 x 0.10 + 3 x 0.20, exactly.
    assert order.total == 0.9
    assert [each.line.name for each in purchases if each.choice is None] == ["netting"]
