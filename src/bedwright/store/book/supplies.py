"""Suppliers with their packs, and room for raising plants: keys, checks, records, the way back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from bedwright.model import bounds
from bedwright.model.book import PackOffer, Propagation, Supplier
from bedwright.store.book.fault import Faults
from bedwright.store.book.kinds import Field, Group, ListOf, Number, Record
from bedwright.store.book.names import KnownCrops, KnownMaterials
from bedwright.store.book.plain import Plain, given
from bedwright.store.book.read import Row, Value
from bedwright.store.book.texts import CROP, CURRENCY, NAME

PackUnit = Literal["seeds", "plants", "g", "L", "m", "pieces"]

_PACK_KEYS: dict[PackUnit, str] = {
    "seeds": "pack_seeds",
    "plants": "pack_plants",
    "g": "pack_g",
    "L": "pack_l",
    "m": "pack_m",
    "pieces": "pack_pieces",
}
_OF_CROPS = ("pack_seeds", "pack_plants", "pack_g")
_OF_MATERIALS = ("pack_g", "pack_l", "pack_m", "pack_pieces")

PACK = Record(
    "pack",
    (
        Field("crop", CROP, "Name of the crop whose seed or plants are in it."),
        Field("material", NAME, "Name of the material in it."),
        Field("variety", NAME, "Variety of the crop.", left_out="any variety"),
        Field("pack_seeds", Number(bounds.PACK_SEEDS, whole=True), "Seeds in it."),
        Field(
            "pack_plants",
            Number(bounds.PACK_PLANTS, whole=True),
            "Young plants, tubers, cloves or sets in it.",
        ),
        Field("pack_g", Number(bounds.PACK_G), "Mass of seed or material in it."),
        Field("pack_l", Number(bounds.PACK_L), "Volume of material in it."),
        Field("pack_m", Number(bounds.PACK_M), "Length of material in it."),
        Field("pack_pieces", Number(bounds.PACK_PIECES, whole=True), "Pieces in it."),
        Field("price", Number(bounds.PRICE), "Price of one pack.", required=True),
    ),
    groups=(Group(("crop", "material"), 1, 1), Group(tuple(_PACK_KEYS.values()), 1, 1)),
    one_line=True,
)
SUPPLIER = Record(
    "supplier",
    (
        Field("name", NAME, "Who sells it.", required=True),
        Field("currency", CURRENCY, "Currency of the prices (ISO 4217).", required=True),
        Field(
            "lead_days",
            Number(bounds.LEAD_DAYS, whole=True),
            "Days from order to delivery.",
            left_out="not known",
        ),
        Field("packs", ListOf(PACK, bounds.N_PACKS), "What is sold, pack by pack.", required=True),
    ),
)
PROPAGATION = Record(
    "room for raising plants",
    (
        Field("bench_m2", Number(bounds.BENCH_M2), "Bench, windowsill or staging."),
        Field("lamp_m2", Number(bounds.BENCH_M2), "Shelf under lamps."),
        Field("trays", Number(bounds.TRAYS, whole=True), "Trays there are, or that can be carried."),
    ),
    groups=(Group(("bench_m2", "lamp_m2", "trays"), 1, 3),),
    one_line=True,
)


def suppliers(
    rows: Sequence[Row], crops: KnownCrops, materials: KnownMaterials, faults: Faults
) -> tuple[Supplier, ...]:
    """Suppliers, each once, with packs of crops and materials that are known."""
    seen: dict[str, Value] = {}
    found: list[Supplier] = []
    for row in rows:
        if "name" in row:
            entry = row.values["name"]
            earlier = seen.setdefault(str(entry.value).casefold(), entry)
            if earlier is not entry:
                expected = f"each supplier once; line {earlier.line} has it too"
                faults.at(entry, entry.where, str(entry.value), expected, "Put all its packs into one list.")
        packs = _packs(row.rows("packs"), crops, materials, faults)
        if row.sound:
            found.append(
                Supplier(row.one("name", str), row.one("currency", str), packs, row.maybe("lead_days", int))
            )
    return tuple(found)


def _packs(
    rows: Sequence[Row], crops: KnownCrops, materials: KnownMaterials, faults: Faults
) -> tuple[PackOffer, ...]:
    seen: dict[tuple[str, str, str, float], Row] = {}
    found: list[PackOffer] = []
    for row in rows:
        item = ""
        if "crop" in row:
            item = crops.crop(row.values["crop"], faults)
        elif "material" in row:
            item = materials.material(row.values["material"], faults)
        _check_kind(row, faults)
        if not row.sound:
            continue
        pack = _pack(row, item)
        key = (pack.item.casefold(), pack.variety.casefold(), pack.unit, pack.pack_quantity)
        earlier = seen.setdefault(key, row)
        if earlier is not row:
            expected = f"each pack once; line {earlier.line} has it too"
            faults.at(row, row.where, f"the same pack of {item} again", expected)
        found.append(pack)
    return tuple(found)


def _check_kind(row: Row, faults: Faults) -> None:
    """Seed is not sold by the metre, nor string by the seed."""
    if "material" in row and "variety" in row:
        place: Value = row.values["variety"]
        faults.at(place, place.where, "`variety` of a material", "no variety", "Put it into the name.")
    kind = "crop" if "crop" in row else "material" if "material" in row else ""
    fitting = {"crop": _OF_CROPS, "material": _OF_MATERIALS}.get(kind)
    if fitting is None:
        return
    for key in _PACK_KEYS.values():
        if key in row and key not in fitting:
            place = row.values[key]
            expected = "one of " + ", ".join(f"`{each}`" for each in fitting)
            faults.at(place, place.where, f"`{key}` of a {kind}", expected)


def _pack(row: Row, item: str) -> PackOffer:
    unit = next(unit for unit, key in _PACK_KEYS.items() if key in row)
    quantity = row.values[_PACK_KEYS[unit]].value
    if not isinstance(quantity, int | float):
        raise TypeError(f"{row.where}: a pack of {type(quantity).__name__}")
    return PackOffer(
        item=item,
        is_crop="crop" in row,
        pack_quantity=float(quantity),
        unit=unit,
        price=row.one("price", float),
        variety=row.maybe("variety", str, ""),
    )


def supplier_document(supplier: Supplier) -> dict[str, Plain]:
    """A supplier under its keys."""
    return given(
        name=supplier.name,
        currency=supplier.currency,
        lead_days=supplier.lead_days,
        packs=tuple(_pack_document(pack) for pack in supplier.packs),
    )


def _pack_document(pack: PackOffer) -> dict[str, Plain]:
    document = given(
        crop=pack.item if pack.is_crop else None,
        material=None if pack.is_crop else pack.item,
        variety=pack.variety or None,
    )
    document[_PACK_KEYS[pack.unit]] = pack.pack_quantity
    document["price"] = pack.price
    return document


def propagation(row: Row | None) -> Propagation | None:
    """Room for raising plants; None where nothing is stated."""
    if row is None or not row.sound:
        return None
    return Propagation(row.maybe("bench_m2", float), row.maybe("lamp_m2", float), row.maybe("trays", int))


def propagation_document(room: Propagation) -> dict[str, Plain]:
    """Room for raising plants under its keys."""
    return given(bench_m2=room.bench_m2, lamp_m2=room.lamp_m2, trays=room.n_trays)
