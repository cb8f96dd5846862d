"""Reading the data files: every fault found is reported, with file, line and column."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from importlib.resources.abc import Traversable
from typing import TypeVar, get_args

from bedwright.catalogue.choice import RANKS, STANDING_ORDER, Decision
from bedwright.catalogue.quantities import QUANTITIES, Quantity
from bedwright.model.crop import CropKind, Effect, Grade, NeighbourFinding
from bedwright.model.problem import Problem
from bedwright.model.source import Source, Standing

FACT_COLUMNS = (
    "crop", "quantity", "low", "high", "text", "unit",
    "source_id", "locator", "standing", "decision", "reason",
)  # fmt: skip
SOURCE_COLUMNS = ("id", "rank", "citation", "seen")
CROP_COLUMNS = ("name", "latin_name", "plan_code", "kind", "source_id", "locator")
NEIGHBOUR_COLUMNS = (
    "crop_a", "crop_b", "effect", "grade", "mechanism", "source_id", "note", "standing",
)  # fmt: skip

_WordT = TypeVar("_WordT", bound=str)
_KINDS: tuple[CropKind, ...] = get_args(CropKind)
_RANKS = {str(rank): rank for rank in RANKS}
_LOWEST_RANK = max(RANKS)
_EFFECTS: tuple[Effect, ...] = get_args(Effect)
_GRADES: tuple[Grade, ...] = get_args(Grade)


@dataclass(frozen=True, slots=True)
class NameRow:
    """One crop of `crops.csv`: what it is called."""

    line: int
    name: str
    latin_name: str
    plan_code: str
    kind: CropKind
    source_id: str
    locator: str


@dataclass(frozen=True, slots=True)
class FactRow:
    """One row of `facts.csv`, before it is known whether it is used."""

    line: int
    crop: str
    quantity: Quantity
    low: float | None
    high: float | None
    text: str
    source_id: str
    locator: str
    standing: Standing
    decision: Decision
    reason: str


@dataclass(slots=True)
class Sheet:
    """One data file as it is being read, with the faults found so far."""

    file: str
    columns: tuple[str, ...]
    faults: list[Problem] = field(default_factory=list)
    line: int = 0

    def fault(self, column: str, got: str, expected: str, hint: str = "") -> None:
        """Note a fault of the present line."""
        place = self.columns.index(column) + 1 if column in self.columns else None
        shown = repr(got) if got else "nothing"
        self.faults.append(Problem(self.file, self.line or None, place, column, shown, expected, hint))

    def rows(self, text: str) -> Iterator[list[str]]:
        """Rows of the file; a row of the wrong length is a fault and is left out."""
        reader = csv.reader(io.StringIO(text, newline=""))
        self.line = 1
        heading = next(reader, [])
        if tuple(heading) != self.columns:
            self.fault("heading", ",".join(heading), ",".join(self.columns))
            return
        for cells in reader:
            self.line = reader.line_num
            if len(cells) != len(self.columns):
                self.fault(
                    "row",
                    f"{len(cells)} cells",
                    f"{len(self.columns)} cells",
                    "Quote a cell with a comma in it.",
                )
                continue
            yield cells


def read_text(folder: Traversable, name: str) -> str:
    """Text of one data file."""
    return folder.joinpath(name).read_text(encoding="utf-8")


def read_sources(text: str, faults: list[Problem]) -> tuple[dict[str, Source], dict[str, int]]:
    """Sources by id, and their ranks."""
    sheet = Sheet("sources.csv", SOURCE_COLUMNS, faults)
    sources: dict[str, Source] = {}
    ranks: dict[str, int] = {}
    for source_id, rank, citation, seen in sheet.rows(text):
        if not source_id or source_id in sources:
            sheet.fault("id", source_id, "an id of its own")
        if not citation:
            sheet.fault("citation", citation, "a citation, or the words that there is none")
        if not seen:
            sheet.fault("seen", seen, "what of it was seen, and where")
        if rank not in _RANKS:
            sheet.fault("rank", rank, "one of " + ", ".join(_RANKS))
        sources[source_id] = Source(source_id, citation, seen)
        ranks[source_id] = _RANKS.get(rank, _LOWEST_RANK)
    return sources, ranks


def read_names(text: str, sources: Mapping[str, Source], faults: list[Problem]) -> list[NameRow]:
    """Names of the crops."""
    sheet = Sheet("crops.csv", CROP_COLUMNS, faults)
    rows: list[NameRow] = []
    names: set[str] = set()
    codes: set[str] = set()
    for name, latin, code, kind, source_id, locator in sheet.rows(text):
        if not name or name in names:
            sheet.fault("name", name, "a crop name of its own")
        if not latin:
            sheet.fault("latin_name", latin, "a botanical name")
        if len(code) != 3 or not code.isascii() or not code.isalpha() or not code.isupper():
            sheet.fault("plan_code", code, "three capitals")
        elif code in codes:
            sheet.fault("plan_code", code, "a code no other crop has")
        _check_origin(sheet, source_id, locator, sources)
        names.add(name)
        codes.add(code)
        kept_kind = _one_of(sheet, "kind", kind, _KINDS)
        if kept_kind is not None:
            rows.append(NameRow(sheet.line, name, latin, code, kept_kind, source_id, locator))
    return rows


def read_facts(
    text: str, crops: set[str], sources: Mapping[str, Source], faults: list[Problem]
) -> list[FactRow]:
    """Facts of all crops, in the order of the file; faulty rows are left out."""
    sheet = Sheet("facts.csv", FACT_COLUMNS, faults)
    rows: list[FactRow] = []
    for crop, name, low, high, word, unit, source_id, locator, standing, decision, reason in sheet.rows(text):
        before = len(faults)
        if crop not in crops:
            sheet.fault("crop", crop, "a crop of crops.csv")
        quantity = QUANTITIES.get(name)
        if quantity is None:
            sheet.fault("quantity", name, "a quantity of the vocabulary")
            continue
        _check_origin(sheet, source_id, locator, sources)
        kept_standing = _one_of(sheet, "standing", standing, STANDING_ORDER)
        kept_decision = _decision(sheet, decision, reason)
        if unit != quantity.unit:
            sheet.fault("unit", unit, quantity.unit or "nothing: the value is a word")
        span = _value(sheet, quantity, low, high, word)
        if len(faults) == before and kept_standing is not None and span is not None:
            rows.append(
                FactRow(
                    sheet.line,
                    crop,
                    quantity,
                    *span,
                    word,
                    source_id,
                    locator,
                    kept_standing,
                    kept_decision,
                    reason,
                )
            )
    return rows


def read_neighbours(
    text: str, crops: set[str], sources: Mapping[str, Source], faults: list[Problem]
) -> tuple[NeighbourFinding, ...]:
    """Findings on crops beside each other; the other plant need not be in the catalogue."""
    sheet = Sheet("neighbours.csv", NEIGHBOUR_COLUMNS, faults)
    found: list[NeighbourFinding] = []
    for crop_a, crop_b, effect, grade, mechanism, source_id, note, standing in sheet.rows(text):
        if not {crop_a, crop_b} & crops:
            sheet.fault("crop_a", f"{crop_a}, {crop_b}", "at least one crop of crops.csv")
        if not mechanism:
            sheet.fault("mechanism", mechanism, "what was found")
        _check_origin(sheet, source_id, mechanism, sources)
        kept_effect = _one_of(sheet, "effect", effect, _EFFECTS)
        kept_grade = _one_of(sheet, "grade", grade, _GRADES)
        kept_standing = _one_of(sheet, "standing", standing, STANDING_ORDER)
        if kept_effect and kept_grade and kept_standing:
            found.append(
                NeighbourFinding(
                    crop_a, crop_b, kept_effect, kept_grade, mechanism, source_id, note, kept_standing
                )
            )
    return tuple(found)


def _one_of(sheet: Sheet, column: str, got: str, words: tuple[_WordT, ...]) -> _WordT | None:
    for word in words:
        if word == got:
            return word
    sheet.fault(column, got, "one of " + ", ".join(words))
    return None


def _check_origin(sheet: Sheet, source_id: str, locator: str, sources: Mapping[str, Source]) -> None:
    if source_id not in sources:
        hint = "Every value names where it comes from." if not source_id else "Add it to sources.csv."
        sheet.fault("source_id", source_id, "an id of sources.csv", hint)
    if not locator and "locator" in sheet.columns:
        sheet.fault("locator", locator, "the table, row or note that finds the value in its source")


def _decision(sheet: Sheet, decision: str, reason: str) -> Decision:
    if decision not in {"", "use", "leave"}:
        sheet.fault("decision", decision, "nothing, use or leave")
    if bool(decision) != bool(reason):
        sheet.fault("reason", reason, "a reason if, and only if, there is a decision")
    return "use" if decision == "use" else "leave" if decision == "leave" else ""


def _value(
    sheet: Sheet, quantity: Quantity, low: str, high: str, word: str
) -> tuple[float | None, float | None] | None:
    """(low, high) in the unit of the quantity; (None, None) for a word; None after a fault."""
    if quantity.is_word or (not low and not high and word and quantity.worded):
        if low or high:
            sheet.fault("low", low or high, "nothing: the value is a word")
        return _word_value(sheet, quantity, word)
    figures = [_figure(sheet, column, got, quantity) for column, got in (("low", low), ("high", high))]
    low_figure, high_figure = figures
    if low_figure is None or high_figure is None:
        return None
    if low_figure > high_figure:
        sheet.fault("low", low, f"no more than high, which is {high}", "Low and high may be swapped.")
        return None
    if word and not quantity.worded:
        sheet.fault("text", word, "nothing: the value is a number")
    if quantity.worded and quantity.take == "both" and word not in quantity.words:
        sheet.fault("text", word, "one of " + ", ".join(quantity.words))
    return low_figure, high_figure


def _word_value(sheet: Sheet, quantity: Quantity, word: str) -> tuple[None, None] | None:
    parse: Callable[[str], list[str]] = str.split if quantity.name == "ways" else lambda text: [text]
    permitted = ("sow", "raise", "buy") if quantity.name == "ways" else quantity.words
    if not word or (permitted and any(part not in permitted for part in parse(word))):
        sheet.fault("text", word, "one of " + ", ".join(permitted) if permitted else "a word or words")
        return None
    return None, None


def _figure(sheet: Sheet, column: str, got: str, quantity: Quantity) -> float | None:
    try:
        figure = float(got)
    except ValueError:
        sheet.fault(column, got, f"a number of {quantity.unit}")
        return None
    if not quantity.low <= figure <= quantity.high:
        expected = f"{quantity.low:g} to {quantity.high:g} {quantity.unit}"
        sheet.fault(column, got, expected, "Check the unit.")
        return None
    return figure
