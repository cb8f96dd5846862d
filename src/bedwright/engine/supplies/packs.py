"""Packs that cover a need at least cost, and orders by supplier."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from fractions import Fraction

from bedwright.model.supplies import (
    PackChoice,
    PackCount,
    Purchase,
    SupplierOffer,
    SupplierOrder,
    SupplyLine,
    SupplyUnit,
)

MOST_STEPS = 300_000
"""Pack sizes without a common measure are refused beyond this, in words, not by a hang."""


def cheapest_packs(needed: float, unit: SupplyUnit, offers: Sequence[SupplierOffer]) -> PackChoice | None:
    """Packs of one supplier that cover a need at least cost; exact, not rounded by unit price.

    Of choices that cost the same, the one with least left over, then the fewest packs.

    Parameters
    ----------
    needed
        Quantity to cover, in `unit`; above 0.
    unit
        Unit of the need; offers in other units are passed over.
    offers
        Offers for the same thing, of one supplier and one currency.

    Raises
    ------
    ValueError
        If offers of several suppliers or currencies are mixed, a pack holds nothing, a price
        is negative or not finite, or pack sizes have no workable common measure.
    """
    _refuse_bad(offers)
    usable = [offer for offer in offers if offer.unit == unit]
    if not usable or needed <= 0:
        return None
    sizes = [_exact(offer.pack_quantity) for offer in usable]
    step = _common_measure(sizes)
    steps = [int(size / step) for size in sizes]
    prices = _whole_prices(usable)
    # Every sum of packs is a multiple of the common measure, so the need may be too. The
    # need is taken to a thousand-millionth, so that 0.1 + 0.2 L does not ask for a pack more.
    target = math.ceil(Fraction(round(needed, 9)).limit_denominator(10**9) / step)
    counts = _cover(target, steps, prices)
    return _choice(counts, usable, needed)


def _refuse_bad(offers: Sequence[SupplierOffer]) -> None:
    if len({(offer.supplier, offer.currency) for offer in offers}) > 1:
        raise ValueError("packs are chosen within one supplier and one currency")
    for offer in offers:
        if not (math.isfinite(offer.pack_quantity) and offer.pack_quantity > 0):
            raise ValueError(f"a pack of {offer.name} holds {offer.pack_quantity} {offer.unit}")
        if not (math.isfinite(offer.price) and offer.price >= 0):
            raise ValueError(f"a pack of {offer.name} costs {offer.price} {offer.currency}")


def _common_measure(sizes: Sequence[Fraction]) -> Fraction:
    denominator = math.lcm(*(size.denominator for size in sizes))
    return Fraction(math.gcd(*(int(size * denominator) for size in sizes)), denominator)


def _whole_prices(offers: Sequence[SupplierOffer]) -> list[int]:
    """Prices in the smallest part of the currency that states them all exactly."""
    prices = [_exact(offer.price) for offer in offers]
    denominator = math.lcm(*(price.denominator for price in prices))
    return [int(price * denominator) for price in prices]


def _exact(value: float) -> Fraction:
    """The shortest decimal of a number, as written in the list of offers."""
    return Fraction(repr(float(value)))


def _cover(target: int, steps: Sequence[int], prices: Sequence[int]) -> list[int]:
    """Counts of each pack that reach the target: dynamic programming over the common measure.

    Far beyond the largest pack the pack with the lowest unit price fills the bulk: any
    `s` other packs, `s` its size in steps, contain some that together measure a multiple
    of `s` and so could be exchanged for it at no more cost (pigeonhole principle).
    """
    best = min(range(len(steps)), key=lambda k: (Fraction(prices[k], steps[k]), steps[k]))
    reach = steps[best] * max(steps)
    bulk = max(0, target - reach) // steps[best]
    rest = target - bulk * steps[best]
    if rest > MOST_STEPS:
        raise ValueError("the pack sizes have no common measure that can be worked with")
    # (cost, quantity reached, packs) of the best way to cover each number of steps.
    found: list[tuple[int, int, int]] = [(0, 0, 0)]
    taken = [-1]
    for covered in range(1, rest + 1):
        options = []
        for k, size in enumerate(steps):
            cost, reached, packs = found[max(0, covered - size)]
            options.append((cost + prices[k], reached + size, packs + 1, k))
        *value, k = min(options)
        found.append((value[0], value[1], value[2]))
        taken.append(k)
    counts = [0] * len(steps)
    counts[best] = bulk
    while rest > 0:
        k = taken[rest]
        counts[k] += 1
        rest = max(0, rest - steps[k])
    return counts


def _choice(counts: Sequence[int], offers: Sequence[SupplierOffer], needed: float) -> PackChoice:
    packs = [
        PackCount(offer.pack_quantity, offer.price, count)
        for offer, count in zip(offers, counts, strict=True)
        if count
    ]
    quantity = float(sum(_exact(pack.pack_quantity) * pack.count for pack in packs))
    chosen = [offer for offer, count in zip(offers, counts, strict=True) if count]
    leads = [offer.lead_days for offer in chosen if offer.lead_days is not None]
    return PackChoice(
        supplier=offers[0].supplier,
        unit=offers[0].unit,
        currency=offers[0].currency,
        packs=tuple(sorted(packs, key=lambda pack: -pack.pack_quantity)),
        cost=float(sum(_exact(pack.price) * pack.count for pack in packs)),
        quantity=quantity,
        surplus=max(0.0, quantity - needed),
        lead_days=max(leads, default=None),
    )


def purchases_of(
    lines: Iterable[SupplyLine], offers: Sequence[SupplierOffer], *, today: date
) -> tuple[Purchase, ...]:
    """Each line to buy with the cheapest supplier's packs, the other suppliers beside it.

    A line is bought from one supplier. Prices in different currencies are not compared:
    the currency with most offers goes first, then by name.
    """
    return tuple(_purchase(line, offers, today) for line in lines if line.to_buy > 0)


def _purchase(line: SupplyLine, offers: Sequence[SupplierOffer], today: date) -> Purchase:
    fitting = [offer for offer in offers if _fits(offer, line)]
    by_supplier: dict[tuple[str, str, str], list[SupplierOffer]] = {}
    for offer in fitting:
        # One variety for a line, also where any will do.
        by_supplier.setdefault((offer.supplier, offer.currency, offer.variety), []).append(offer)
    currencies = [offer.currency for offer in offers]
    choices = [cheapest_packs(line.to_buy, line.unit, group) for _, group in sorted(by_supplier.items())]
    ranked = sorted(
        (choice for choice in choices if choice is not None),
        key=lambda c: (-currencies.count(c.currency), c.currency, c.cost, c.surplus, c.supplier),
    )
    if not ranked:
        return Purchase(line, None, line.order_by)
    first = ranked[0]
    order_by = line.order_by
    if first.lead_days is not None:
        order_by = max(line.first_needed - timedelta(days=first.lead_days), today)
    return Purchase(line, first, order_by, tuple(ranked[1:]))


def _fits(offer: SupplierOffer, line: SupplyLine) -> bool:
    if offer.name.casefold() != line.name.casefold() or offer.unit != line.unit:
        return False
    return not offer.variety or not line.variety or offer.variety.casefold() == line.variety.casefold()


def orders_of(purchases: Iterable[Purchase]) -> tuple[SupplierOrder, ...]:
    """Purchases gathered by supplier, earliest order first, with their totals.

    Delivery is not counted: it is not known.
    """
    groups: dict[tuple[str, str], list[Purchase]] = {}
    for purchase in purchases:
        if purchase.choice is not None:
            key = (purchase.choice.supplier, purchase.choice.currency)
            groups.setdefault(key, []).append(purchase)
    orders = [
        SupplierOrder(
            supplier=supplier,
            currency=currency,
            purchases=tuple(sorted(group, key=lambda p: (p.order_by, p.line.name, p.line.variety))),
            total=float(sum(_exact(p.choice.cost) for p in group if p.choice)),
            order_by=min(purchase.order_by for purchase in group),
        )
        for (supplier, currency), group in groups.items()
    ]
    return tuple(sorted(orders, key=lambda order: (order.order_by, order.supplier, order.currency)))
