"""What to spread on each bed: from the soil test to grams, cups and litres."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from bedwright.engine.soil.acidity import acidity_need
from bedwright.engine.soil.area import outline_area_m2
from bedwright.engine.soil.blend import Amount, BedDemand, blend, content
from bedwright.engine.soil.compost import (
    CAUTIOUS_COMPOST_MM,
    compost_need,
    compost_of_mass,
    released_over_years,
)
from bedwright.engine.soil.needs import nutrient_needs, read_soil_test
from bedwright.engine.soil.rounding import (
    quarter_cups,
    spoken_cups,
    spoken_mass,
    spoken_rate,
    spoken_volume,
    two_figures,
    two_figures_down,
)
from bedwright.engine.soil.tables import TABLES, InterpretationTable
from bedwright.model.book import Bed, Stock
from bedwright.model.soil import AcidityNeed, BedFeeding, Material, MaterialUse, NutrientNeed, Supplied
from bedwright.model.source import Origin

TEST_FIRST = (
    "No soil test: test first. Take thin slices 15 to 20 cm (6 to 8 in) deep at a dozen "
    "places, mix, dry in the air, and have pH, phosphorus, potassium, organic matter and lead measured. "
    "Until then a thin layer of compost is all that "
    "is advised."
)
FEEDS = frozenset({"compost", "fertiliser"})


def feed_beds(
    beds: Sequence[Bed],
    materials: Sequence[Material],
    stock: Sequence[Stock],
    *,
    buyable: Sequence[str] = (),
    price_per_kg: Mapping[str, float] | None = None,
    laboratory_lime_g_m2: Mapping[str, float] | None = None,
    tables: tuple[InterpretationTable, ...] = TABLES,
) -> tuple[BedFeeding, ...]:
    """What to spread on each bed this season.

    Parameters
    ----------
    beds : Sequence[Bed]
        Beds of the book; those without a soil test get a cautious layer of compost and "test first".
    materials : Sequence[Material]
        Materials known, such as those of the catalogue.
    stock : Sequence[Stock]
        Materials on hand; names that are no material for the soil are passed over.
    buyable : Sequence[str]
        Materials that can be bought.
    price_per_kg : Mapping[str, float], optional
        Prices stated by the coordinator. Without any, the mass to buy is least.
    laboratory_lime_g_m2 : Mapping[str, float], optional
        By bed code, a laboratory's own lime recommendation.
    tables : tuple of InterpretationTable
        Published tables to read the tests by.

    Returns
    -------
    tuple of BedFeeding
        One for each bed, in the same order. Two significant figures.

    Raises
    ------
    ValueError
        If a material to buy is not known, or a price, stock or figure of a test is out of range.

    Source
    ------
    See `needs`, `acidity` and `blend`.
    """
    prices = dict(price_per_kg or {})
    known = {material.name: material for material in materials}
    unknown = sorted({*buyable, *prices} - known.keys())
    if unknown:
        raise ValueError(f"no such material: {', '.join(unknown)}")
    stock_g, stock_notes = stock_masses(stock, materials)
    lime = laboratory_lime_g_m2 or {}
    demands, planned = [], {}
    for bed in beds:
        feeding = _needs_of(bed, tables, lime.get(bed.code))
        planned[bed.code] = feeding
        if feeding.tested:
            demands.append(BedDemand(bed.code, feeding.area_m2, feeding.needs))
    feeds = [material for material in materials if material.kind in FEEDS]
    feed_stock = {name: grams for name, grams in stock_g.items() if known[name].kind in FEEDS}
    amounts = blend(demands, feeds, feed_stock, prices, buyable)
    left_g = dict(feed_stock)
    for amount in amounts:
        if amount.from_stock:
            left_g[amount.material] -= amount.mass_g
    compost = _compost_for_untested(feeds, left_g)
    fed = []
    for feeding in planned.values():
        if not feeding.tested:
            fed.append(_untested(feeding, compost, left_g))
        else:
            own = [amount for amount in amounts if amount.bed_code == feeding.bed_code]
            fed.append(_tested(feeding, own, known, prices, stock_notes))
    return tuple(fed)


def stock_masses(
    stock: Sequence[Stock], materials: Sequence[Material]
) -> tuple[dict[str, float], tuple[str, ...]]:
    """Grams on hand by material, and notes on what could not be weighed.

    Litres become grams by the middle of the bulk density.
    """
    by_name = {
        name.lower(): material for material in materials for name in (material.name, *material.also_called)
    }
    masses: dict[str, float] = {}
    notes: list[str] = []
    for item in stock:
        material = by_name.get(item.material.strip().lower())
        if material is None:
            continue
        if not 0 <= item.quantity < float("inf"):
            raise ValueError(f"stock of {item.material} is 0 or more; got {item.quantity} {item.unit}")
        density = material.kg_per_l()
        if item.unit == "kg":
            kilograms = item.quantity
        elif item.unit == "L" and density is not None:
            kilograms = item.quantity * density
        else:
            notes.append(
                f"{item.material} in the shed is left out: {item.unit} cannot be turned into kilograms."
            )
            continue
        masses[material.name] = masses.get(material.name, 0.0) + 1000 * kilograms
    return masses, tuple(notes)


def _needs_of(bed: Bed, tables: tuple[InterpretationTable, ...], lime_g_m2: float | None) -> BedFeeding:
    area_m2 = outline_area_m2(bed.outline)
    test = bed.soil_test
    if test is None:
        return BedFeeding(bed.code, area_m2, False, (), None, (), (), None, (TEST_FIRST,), ())
    readings, note = read_soil_test(test, tables)
    needs = nutrient_needs(readings, test.organic_matter_pct)
    acidity: AcidityNeed | None = None
    notes = [note] if note else []
    if test.ph is None:
        notes.append("The report gives no pH: neither lime nor sulphur is advised.")
    else:
        acidity = acidity_need(test.ph, bed.texture, laboratory_lime_g_m2=lime_g_m2)
        notes.append(acidity.text)
    notes += [need.why for need in needs]
    origins = tuple(origin for need in needs for origin in need.origins)
    if acidity is not None:
        origins += acidity.origins
    return BedFeeding(bed.code, area_m2, True, needs, acidity, (), (), None, tuple(notes), origins)


def _compost_for_untested(materials: Sequence[Material], stock_g: Mapping[str, float]) -> Material | None:
    """A compost for beds without a test: from the shed if there is any, else the first known."""
    composts = [material for material in materials if material.kind == "compost"]
    held = [material for material in composts if stock_g.get(material.name, 0) > 0]
    return next(iter([*held, *composts]), None)


def _untested(feeding: BedFeeding, compost: Material | None, left_g: dict[str, float]) -> BedFeeding:
    """A cautious layer; what the shed still holds of the compost is taken off `left_g`."""
    if compost is None:
        return feeding
    need = compost_need(feeding.area_m2, CAUTIOUS_COMPOST_MM, compost)
    density = compost.kg_per_l()
    mass_g = 0.0 if density is None else two_figures(1000 * density * need.volume_l)
    text = f"{spoken_volume(need.volume_l)} of {compost.name}, {_barrows(need.n_barrows)}: {need.text}"
    held = 0 < mass_g <= left_g.get(compost.name, 0.0)
    if held:
        left_g[compost.name] -= mass_g
    text += " From the shed." if held else " To fetch."
    use = MaterialUse(compost.name, mass_g, need.volume_l, None, from_stock=held, text=text)
    return replace(
        feeding,
        uses=(use,),
        composts=(need,),
        releases=released_over_years(compost, mass_g / 1000),
        origins=(*feeding.origins, *need.origins),
    )


def _barrows(n: int) -> str:
    return "1 barrow" if n == 1 else f"{n} barrows"


def _tested(
    feeding: BedFeeding,
    amounts: Sequence[Amount],
    known: Mapping[str, Material],
    prices: Mapping[str, float],
    stock_notes: tuple[str, ...],
) -> BedFeeding:
    rounded = _rounded_within_caps(feeding, amounts, known)
    uses = tuple(_use(known[a.material], a.mass_g, a.from_stock) for a in rounded if a.mass_g >= 1)
    supplied = supplied_by(feeding.needs, feeding.area_m2, [(known[u.material], u.mass_g) for u in uses])
    cost: float | None = None
    notes = [*feeding.notes, *stock_notes]
    bought = [use for use in uses if not use.from_stock]
    if prices:
        cost = round(sum(prices[use.material] * use.mass_g / 1000 for use in bought), 2)
    elif bought:
        notes.append("No prices are stated, so the mix with the least to buy was taken.")
    notes += [
        f"Short of {each.nutrient} by {spoken_rate(each.short_g_m2)}: the materials at hand cannot give it "
        "within the caps."
        for each in supplied
        # Less than a twentieth is the rounding of the amounts.
        if each.short_g_m2 > 0.06 * each.need_g_m2
    ]
    bulky = [(known[use.material], use.mass_g) for use in uses if known[use.material].kind == "compost"]
    composts = [
        compost_of_mass(feeding.area_m2, material, mass_g / 1000)
        for material, mass_g in bulky
        if material.bulk_density_kg_l is not None
    ]
    origins = [*feeding.origins, *(origin for need in composts for origin in need.origins)]
    for use in uses:
        origins += material_origins(known[use.material])
    return replace(
        feeding,
        uses=uses,
        supplied=supplied,
        cost=cost,
        notes=tuple(notes),
        composts=tuple(composts),
        releases=tuple(
            release for material, g in bulky for release in released_over_years(material, g / 1000)
        ),
        origins=tuple(origins),
    )


def _rounded_within_caps(
    feeding: BedFeeding, amounts: Sequence[Amount], known: Mapping[str, Material]
) -> list[Amount]:
    """Amounts to two figures: to the nearest, or all down where the nearest would pass a cap."""
    nearest = [replace(amount, mass_g=two_figures(amount.mass_g)) for amount in amounts]
    supplied = supplied_by(feeding.needs, feeding.area_m2, [(known[a.material], a.mass_g) for a in nearest])
    if all(each.cap_g_m2 is None or each.high_g_m2 <= each.cap_g_m2 for each in supplied):
        return nearest
    return [replace(amount, mass_g=two_figures_down(amount.mass_g)) for amount in amounts]


def supplied_by(
    needs: Sequence[NutrientNeed], area_m2: float, spread: Sequence[tuple[Material, float]]
) -> tuple[Supplied, ...]:
    """What masses of materials give of each nutrient this year, worked out from the masses alone."""
    rows = []
    for need in needs:
        given = [
            sum(content(material, need.nutrient)[which] * mass_g for material, mass_g in spread) / area_m2
            for which in range(3)
        ]
        short = max(0.0, need.need_g_m2 - given[1])
        rows.append(
            Supplied(need.nutrient, need.need_g_m2, need.cap_g_m2, given[0], given[1], given[2], short)
        )
    return tuple(rows)


def _use(material: Material, mass_g: float, from_stock: bool) -> MaterialUse:
    density = material.kg_per_l()
    volume_l = None if density is None else two_figures(mass_g / 1000 / density)
    bulky = material.kind == "compost"
    cups = None if density is None or bulky else quarter_cups(mass_g, density)
    measure = spoken_volume(volume_l) if bulky and volume_l is not None else spoken_mass(mass_g)
    beside = "" if cups is None else f" (about {spoken_cups(cups)})"
    whence = "from the shed" if from_stock else "to buy"
    return MaterialUse(
        material.name, mass_g, volume_l, cups, from_stock, f"{measure} of {material.name}{beside}, {whence}"
    )


def material_origins(material: Material) -> tuple[Origin, ...]:
    """Where the figures of a material come from."""
    return tuple(
        Origin(
            f"{fact.quantity} of {material.name}",
            fact.low if fact.low == fact.high else f"{fact.low:g} to {fact.high:g}",
            fact.locator,
            (fact.source_id,),
            fact.standing,
        )
        for fact in material.facts
        if fact.used
    )
