"""Materials for the soil, read from `materials.csv`; each value stands beside its source."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import get_args

from bedwright.catalogue.choice import STANDING_ORDER, Candidate, Decision, chosen
from bedwright.catalogue.rows import Sheet, read_sources, read_text
from bedwright.model.bounds import Bounds
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.soil import Material, MaterialFact, MaterialKind
from bedwright.model.source import Source, Standing

FILE = "materials.csv"
COLUMNS = (
    "material", "quantity", "low", "high", "text", "unit",
    "source_id", "locator", "standing", "decision", "reason",
)  # fmt: skip
KINDS: tuple[MaterialKind, ...] = get_args(MaterialKind)
NUMBERS: Mapping[str, Bounds] = {
    "n_pct": Bounds(0, 50, "percent"),
    "p2o5_pct": Bounds(0, 60, "percent"),
    "k2o_pct": Bounds(0, 65, "percent"),
    "n_first_year_pct": Bounds(0, 100, "percent"),
    "bulk_density_kg_l": Bounds(0.05, 3, "kg/L"),
    "calcium_carbonate_pct": Bounds(20, 180, "percent"),
}
"""Quantities that are numbers, with the figures that are no slip of the pen."""
WORDS = ("kind", "also_called", "bioassay")
FEEDS = frozenset({"compost", "fertiliser"})
NEEDED_TO_FEED = ("n_pct", "p2o5_pct", "k2o_pct", "n_first_year_pct", "bulk_density_kg_l")


@dataclass(frozen=True, slots=True)
class _Row:
    line: int
    material: str
    quantity: str
    low: float | None
    high: float | None
    text: str
    source_id: str
    locator: str
    standing: Standing
    decision: Decision


@cache
def load_materials() -> tuple[Material, ...]:
    """Materials that come with the package, in alphabetical order.

    Raises
    ------
    BadDocumentError
        If the data file has any fault; carries all of them.
    """
    return read_materials(files("bedwright.catalogue").joinpath("data"))


def read_materials(folder: Traversable) -> tuple[Material, ...]:
    """Materials of a folder that holds `materials.csv` and `sources.csv`.

    Of each quantity one row is used, by the rule of `bedwright.catalogue.choice`; the others
    stay listed as unused facts.

    Raises
    ------
    BadDocumentError
        If a row has no listed source or no locator, a quantity, unit or word is unknown, a
        range is upside down or out of bounds, or a material lacks what its kind needs.
    """
    faults: list[Problem] = []
    sources, ranks = read_sources(read_text(folder, "sources.csv"), faults)
    rows = _rows(read_text(folder, FILE), sources, faults)
    grouped: dict[str, dict[str, list[_Row]]] = defaultdict(lambda: defaultdict(list))
    for row in rows:
        grouped[row.material][row.quantity].append(row)
    found = [_material(name, grouped[name], ranks, faults) for name in sorted(grouped)]
    if faults:
        raise BadDocumentError(tuple(faults))
    return tuple(material for material in found if material is not None)


def _rows(text: str, sources: Mapping[str, Source], faults: list[Problem]) -> list[_Row]:
    sheet = Sheet(FILE, COLUMNS, faults)
    rows: list[_Row] = []
    for cells in sheet.rows(text):
        before = len(faults)
        row = _row(sheet, cells, sources)
        if row is not None and len(faults) == before:
            rows.append(row)
    return rows


def _row(sheet: Sheet, cells: list[str], sources: Mapping[str, Source]) -> _Row | None:
    material, quantity, low, high, word, unit, source_id, locator, standing, decision, reason = cells
    if not material:
        sheet.fault("material", material, "a material")
    if quantity not in NUMBERS and quantity not in WORDS:
        sheet.fault("quantity", quantity, "one of " + ", ".join((*WORDS, *NUMBERS)))
        return None
    if source_id not in sources:
        sheet.fault("source_id", source_id, "an id of sources.csv", "Every value names where it comes from.")
    if not locator:
        sheet.fault("locator", locator, "what finds the value in its source")
    kept_standing = next((each for each in STANDING_ORDER if each == standing), None)
    if kept_standing is None:
        sheet.fault("standing", standing, "one of " + ", ".join(STANDING_ORDER))
        return None
    if decision not in {"", "use", "leave"} or bool(decision) != bool(reason):
        sheet.fault("decision", decision, "nothing, or use or leave with a reason")
    kept_decision: Decision = "use" if decision == "use" else "leave" if decision == "leave" else ""
    span = _word(sheet, quantity, word) if quantity in WORDS else _span(sheet, quantity, low, high, unit)
    return _Row(
        sheet.line, material, quantity, *span, word, source_id, locator, kept_standing, kept_decision
    )  # fmt: skip


def _word(sheet: Sheet, quantity: str, word: str) -> tuple[None, None]:
    permitted = {"kind": KINDS, "bioassay": ("yes",)}.get(quantity)
    if not word or (permitted is not None and word not in permitted):
        sheet.fault("text", word, "one of " + ", ".join(permitted) if permitted else "a word or words")
    return None, None


def _span(sheet: Sheet, quantity: str, low: str, high: str, unit: str) -> tuple[float | None, float | None]:
    bounds = NUMBERS[quantity]
    if unit != bounds.unit:
        sheet.fault("unit", unit, bounds.unit)
    figures: list[float] = []
    for column, got in (("low", low), ("high", high)):
        try:
            figure = float(got)
        except ValueError:
            sheet.fault(column, got, f"a number of {bounds.unit}")
            continue
        if figure not in bounds:
            sheet.fault(column, got, str(bounds), "Check the unit.")
        figures.append(figure)
    if len(figures) < 2:
        return None, None
    if figures[0] > figures[1]:
        sheet.fault("low", low, f"no more than high, which is {high}", "Low and high may be swapped.")
    return figures[0], figures[1]


def _material(
    name: str, quantities: Mapping[str, list[_Row]], ranks: Mapping[str, int], faults: list[Problem]
) -> Material | None:
    used = {
        quantity: index for quantity, rows in quantities.items() if (index := _used(rows, ranks)) is not None
    }
    line = min(row.line for rows in quantities.values() for row in rows)

    def text(quantity: str) -> str:
        return quantities[quantity][used[quantity]].text if quantity in used else ""

    kind = next((each for each in KINDS if each == text("kind")), None)
    needed: Iterable[str] = NEEDED_TO_FEED if kind in FEEDS else ()
    missing = [quantity for quantity in ("kind", *needed) if quantity not in used]
    faults += [
        Problem(FILE, line, 1, f"{name}.{quantity}", "nothing", "a usable row",
                "A value without a publication is marked memory or practice.")
        for quantity in missing
    ]  # fmt: skip
    if kind is None or missing:
        return None

    def span(quantity: str) -> tuple[float, float] | None:
        if quantity not in used:
            return None
        row = quantities[quantity][used[quantity]]
        return None if row.low is None or row.high is None else (row.low, row.high)

    return Material(
        name=name,
        kind=kind,
        also_called=tuple(each.strip() for each in text("also_called").split(";") if each.strip()),
        n_pct=span("n_pct") or (0.0, 0.0),
        p2o5_pct=span("p2o5_pct") or (0.0, 0.0),
        k2o_pct=span("k2o_pct") or (0.0, 0.0),
        n_first_year_pct=span("n_first_year_pct") or (100.0, 100.0),
        bulk_density_kg_l=span("bulk_density_kg_l"),
        calcium_carbonate_pct=span("calcium_carbonate_pct"),
        bioassay=text("bioassay") == "yes",
        facts=tuple(_facts(quantities, used)),
    )


def _used(rows: list[_Row], ranks: Mapping[str, int]) -> int | None:
    return chosen(
        [
            Candidate(r.low, r.high, r.text, r.standing, ranks[r.source_id], r.source_id, r.decision)
            for r in rows
        ]
    )


def _facts(quantities: Mapping[str, list[_Row]], used: Mapping[str, int]) -> Iterable[MaterialFact]:
    for quantity, bounds in NUMBERS.items():
        for index, row in enumerate(quantities.get(quantity, ())):
            if row.low is not None and row.high is not None:
                yield MaterialFact(
                    quantity, row.low, row.high, bounds.unit, row.source_id, row.locator, row.standing,
                    used=used.get(quantity) == index,
                )  # fmt: skip
