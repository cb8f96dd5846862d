"""The cheapest mix of materials that meets the needs of all beds within their caps.

A linear programme, solved by HiGHS through scipy. Beds share what is in the shed, so they
are solved together. What no mix can meet is left short, as little as possible, and said.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import scipy

from bedwright.model.soil import Material, Nutrient, NutrientNeed
from bedwright.model.weather import FloatArray

COMPOST_CAP_L_M2 = 25.4
"""An inch a year of compost and composted manure (University of Minnesota, UMN_COMPOST_2023)."""
TIE_BREAK = 1e-7
"""Cost of a gram of compost from the shed, so that no more is spread than is useful."""
STOCK_WORTH = 0.1
"""A bag in the shed counts a tenth of what it costs to buy: what is used now is not there next
time, yet using it up comes before buying. Chosen here."""
SLACK = 1e-9


@dataclass(frozen=True, slots=True)
class BedDemand:
    """Needs of one bed."""

    bed_code: str
    area_m2: float
    needs: tuple[NutrientNeed, ...]


@dataclass(frozen=True, slots=True)
class Amount:
    """Mass of one material for one bed."""

    bed_code: str
    material: str
    mass_g: float
    from_stock: bool


@dataclass(frozen=True, slots=True)
class _Column:
    bed: int
    material: Material
    from_stock: bool


def content(material: Material, nutrient: Nutrient) -> tuple[float, float, float]:
    """Low, middle and high share of a material's mass that is a nutrient plants can have this year."""
    if nutrient == "N":
        low, high = (
            n * released / 1e4
            for n, released in zip(material.n_pct, material.n_first_year_pct, strict=True)
        )  # fmt: skip
    else:
        span = material.p2o5_pct if nutrient == "P2O5" else material.k2o_pct
        low, high = span[0] / 100, span[1] / 100
    return low, (low + high) / 2, high


def blend(
    beds: Sequence[BedDemand],
    materials: Sequence[Material],
    stock_g: Mapping[str, float],
    price_per_kg: Mapping[str, float],
    buyable: Sequence[str],
) -> tuple[Amount, ...]:
    """Materials for all beds: least shortfall first, then least cost.

    Parameters
    ----------
    beds : Sequence[BedDemand]
        Needs are met by the middle content of each material; caps hold for its high content.
    materials : Sequence[Material]
        What may be used; only compost and fertilisers make sense here.
    stock_g : Mapping[str, float]
        In the shed, by material. [g] Compost costs nothing, the rest `STOCK_WORTH` of its price.
    price_per_kg : Mapping[str, float]
        Of what may be bought; empty if no price is stated, and then the mass bought is least.
    buyable : Sequence[str]
        Materials that can be bought. Where prices are stated, only those with a price are.

    Returns
    -------
    tuple of Amount
        Unrounded, without zeros, in the order of beds and materials.

    Raises
    ------
    ValueError
        If a price, stock or area is negative or not finite.

    Limits
    ------
    A linear programme: no least amount worth weighing, no whole bags.
    """
    _refuse_bad_numbers(beds, stock_g, price_per_kg)
    columns = [
        _Column(number, material, from_stock)
        for number in range(len(beds))
        for material in materials
        for from_stock in (True, False)
        if (stock_g.get(material.name, 0.0) > 0 if from_stock else _can_buy(material, price_per_kg, buyable))
    ]
    wanted = [
        (number, need)
        for number, bed in enumerate(beds)
        for need in bed.needs
        if need.need_g_m2 > 0 and bed.area_m2 > 0
    ]
    if not columns or not wanted:
        return ()
    programme = _programme(beds, columns, wanted, stock_g)
    n = len(columns)
    missing = [1 / (need.need_g_m2 * beds[bed].area_m2) for bed, need in wanted]
    shortage = np.array([0.0] * n + missing)
    least = _solve(shortage, programme)
    programme.add([(n + k, weight) for k, weight in enumerate(missing)], float(shortage @ least) + SLACK)
    cost = np.array([*(_cost(column, price_per_kg) for column in columns), *(0.0 for _ in wanted)])
    masses = _solve(cost, programme)[:n]
    return tuple(
        Amount(beds[column.bed].bed_code, column.material.name, float(mass), column.from_stock)
        for column, mass in zip(columns, masses, strict=True)
        if mass > SLACK
    )


def _refuse_bad_numbers(
    beds: Sequence[BedDemand], stock_g: Mapping[str, float], price_per_kg: Mapping[str, float]
) -> None:
    named = {f"stock of {name}": value for name, value in stock_g.items()}
    named |= {f"price of {name}": value for name, value in price_per_kg.items()}
    named |= {f"area of bed {bed.bed_code}": bed.area_m2 for bed in beds}
    bad = [f"{name}: {value}" for name, value in named.items() if not 0 <= value < float("inf")]
    if bad:
        raise ValueError("expected numbers of 0 or more; got " + "; ".join(bad))


def _can_buy(material: Material, price_per_kg: Mapping[str, float], buyable: Sequence[str]) -> bool:
    return material.name in buyable and (not price_per_kg or material.name in price_per_kg)


def _cost(column: _Column, price_per_kg: Mapping[str, float]) -> float:
    if column.from_stock and column.material.kind == "compost":
        return TIE_BREAK
    middle = sum(price_per_kg.values()) / len(price_per_kg) if price_per_kg else 1000.0
    to_buy = price_per_kg.get(column.material.name, middle) / 1000 + TIE_BREAK
    return STOCK_WORTH * to_buy if column.from_stock else to_buy


class _Programme:
    """Inequalities `row · (masses, shortfalls) <= limit`, built row by row."""

    def __init__(self, n_columns: int) -> None:
        self._n_columns = n_columns
        self._entries: list[tuple[int, int, float]] = []
        self.limits: list[float] = []

    def add(self, entries: Iterable[tuple[int, float]], limit: float) -> None:
        """One more row, by (column, factor)."""
        row = len(self.limits)
        self._entries += [(row, column, factor) for column, factor in entries if factor]
        self.limits.append(limit)

    def constraint(self) -> scipy.optimize.LinearConstraint:
        """All rows."""
        # scipy loads its parts on first use, so a start without feeding does not wait for them.
        rows, columns, factors = zip(*self._entries, strict=True)
        shape = (len(self.limits), self._n_columns)
        matrix = scipy.sparse.csr_array((np.array(factors), (np.array(rows), np.array(columns))), shape=shape)
        return scipy.optimize.LinearConstraint(matrix, ub=np.array(self.limits))


def _programme(
    beds: Sequence[BedDemand],
    columns: Sequence[_Column],
    wanted: Sequence[tuple[int, NutrientNeed]],
    stock_g: Mapping[str, float],
) -> _Programme:
    n = len(columns)
    programme = _Programme(n + len(wanted))
    of_bed = {bed: [(k, c) for k, c in enumerate(columns) if c.bed == bed] for bed in range(len(beds))}
    for index, (bed, need) in enumerate(wanted):
        gives = [(k, -content(column.material, need.nutrient)[1]) for k, column in of_bed[bed]]
        programme.add([*gives, (n + index, -1.0)], -need.need_g_m2 * beds[bed].area_m2)
    for bed, demand in enumerate(beds):
        for need in demand.needs:
            if need.cap_g_m2 is None:
                continue
            gives = [(k, content(column.material, need.nutrient)[2]) for k, column in of_bed[bed]]
            programme.add(gives, need.cap_g_m2 * demand.area_m2)
        litres = [(k, _litres_per_g(column.material)) for k, column in of_bed[bed]]
        programme.add(litres, COMPOST_CAP_L_M2 * demand.area_m2)
    for name, grams in stock_g.items():
        taken = [(k, 1.0) for k, c in enumerate(columns) if c.from_stock and c.material.name == name]
        programme.add(taken, grams)
    return programme


def _litres_per_g(material: Material) -> float:
    density = material.kg_per_l()
    return 1 / (1000 * density) if material.kind == "compost" and density else 0.0


def _solve(cost: FloatArray, programme: _Programme) -> FloatArray:
    # Nothing spread and everything short always fits, so a solution always exists.
    # `milp` without whole numbers is the plain linear programme, and takes a sparse matrix.
    bounds = scipy.optimize.Bounds(0, np.inf)
    answer = scipy.optimize.milp(cost, constraints=programme.constraint(), bounds=bounds)
    if answer.status != 0:
        raise ArithmeticError(f"the mix of materials was not solved: {answer.message}")
    solution: FloatArray = np.maximum(np.asarray(answer.x, dtype=np.float64), 0.0)
    return solution
