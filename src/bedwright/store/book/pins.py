"""What is settled before planning, planting by planting: keys, checks, records, the way back."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date

from bedwright.model import bounds
from bedwright.model.book import Bed, Pin
from bedwright.model.bounds import plain_number
from bedwright.store.book.checks import check_in_reach
from bedwright.store.book.fault import Faults
from bedwright.store.book.kinds import Field, Group, Number, Record
from bedwright.store.book.names import known_beds
from bedwright.store.book.near import nearest_hint, offer
from bedwright.store.book.nodes import quoted
from bedwright.store.book.plain import Plain, given
from bedwright.store.book.read import Row, Value
from bedwright.store.book.texts import BED_CODE, DAY, PLANTING_CODE

PIN = Record(
    "pin",
    (
        Field(
            "planting",
            PLANTING_CODE,
            "Code of the wish, of one of its sowings, or of a place.",
            required=True,
        ),
        Field("bed", BED_CODE, "Bed it is to stand in.", left_out="any bed"),
        Field(
            "along_m",
            Number(bounds.ALONG_M),
            "Where its ground starts, from the peg along the string line; needs `bed`.",
            left_out="anywhere",
        ),
        Field("in_ground", DAY, "Day to sow in place or set out.", left_out="any day that would do"),
        Field("plants", Number(bounds.AMOUNT_PLANTS, whole=True), "How many plants.", left_out="as wished"),
    ),
    groups=(Group(("bed", "in_ground", "plants"), 1, 3),),
    one_line=True,
)


def pins(
    rows: Sequence[Row],
    wishes: Mapping[str, Row],
    bed_codes: dict[str, Value],
    beds: Sequence[Bed],
    season_start: date | None,
    faults: Faults,
) -> tuple[Pin, ...]:
    """Pins of plantings that are wished for, to beds that exist and that the wish allows.

    Parameters
    ----------
    wishes
        Every wish by its code, also those with faults of their own.
    bed_codes
        Every code of a bed, also of beds with faults.
    beds
        Beds without faults; a place along any other is not checked.
    """
    lengths_m = {bed.code: bed.frame.length_m for bed in beds}
    for row in rows:
        wish = _wish_of(row, wishes, faults)
        if "bed" in row:
            known_beds((row.values["bed"],), bed_codes, faults)
        if wish is not None:
            _check_bed_of_wish(row, wish, faults)
            _check_plants(row, wish, faults)
        _check_along(row, lengths_m, faults)
        check_in_reach(row, "in_ground", season_start, faults)
    return tuple(_pin(row) for row in rows if row.sound)


def _by_crop_written(code: str, wishes: Mapping[str, Row]) -> list[str]:
    """Codes of wishes whose crop is written in the book as the code begins: `courgette-1` for a courgette."""
    stem = code.rpartition("-")[0].replace("-", " ").casefold()
    return [
        known
        for known, row in wishes.items()
        if stem and "crop" in row and str(row.values["crop"].value).casefold().startswith(stem)
    ]


def _wish_of(row: Row, wishes: Mapping[str, Row], faults: Faults) -> Row | None:
    if "planting" not in row:
        return None
    entry = row.values["planting"]
    code = str(entry.value)
    found = _split(code, wishes)
    if found is None:
        hint = offer(_by_crop_written(code, wishes)) or nearest_hint(code, wishes)
        hint = hint or "A wish without a `code` is called as in carrot-1, carrot-2."
        faults.at(entry, entry.where, quoted(code), "the code of a planting of this book", hint)
        return None
    wish, ordinal = found
    stated = wishes[wish].values.get("successions")
    n_sowings = stated.value if stated else 1
    if isinstance(n_sowings, int) and ordinal > n_sowings:
        got = f"sowing {ordinal} of {wish}"
        faults.at(entry, entry.where, got, f"a sowing up to {n_sowings}, as wished")
    return wishes[wish]


def _split(code: str, wishes: Mapping[str, Row]) -> tuple[str, int] | None:
    """Wish and number of the sowing that a planting's code names; None where there is none."""
    # A wish may itself be called tomato-1-b, so the longest code that is known goes first.
    for whole in (code, code.rpartition("-")[0]):
        if whole in wishes:
            return whole, 1
        head, _, number = whole.rpartition("/")
        if head in wishes and re.fullmatch(r"[1-9][0-9]?", number) and int(number) > 1:
            return head, int(number)
    return None


def _check_bed_of_wish(row: Row, wish: Row, faults: Faults) -> None:
    stated = wish.maybe("beds", Row)
    if stated is None or "bed" not in row:
        return
    code = row.one("bed", str)
    only = stated.items("only", str)
    if code in stated.items("not", str) or (only and code not in only):
        place = row.values["bed"]
        hint = f"See line {stated.line}."
        faults.at(place, place.where, f"{code}, which the wish rules out", "a bed that the wish allows", hint)


def _check_plants(row: Row, wish: Row, faults: Faults) -> None:
    if "plants" not in row or "plants" not in wish:
        return
    pinned, wished = row.one("plants", int), wish.one("plants", int)
    if pinned > wished:
        place = row.values["plants"]
        faults.at(place, place.where, f"{pinned} plants", f"at most the {wished} wished on line {wish.line}")


def _check_along(row: Row, lengths_m: Mapping[str, float], faults: Faults) -> None:
    if "along_m" not in row:
        return
    place = row.values["along_m"]
    if "bed" not in row:
        if row.sound:
            faults.at(place, place.where, "`along_m` without `bed`", "the bed it is measured in")
        return
    length_m = lengths_m.get(row.one("bed", str))
    along_m = row.one("along_m", float)
    if length_m is not None and along_m >= length_m:
        got = f"{plain_number(along_m)} m along bed {row.one('bed', str)}"
        faults.at(place, place.where, got, f"less than its length, {plain_number(length_m)} m")


def _pin(row: Row) -> Pin:
    return Pin(
        planting_code=row.one("planting", str),
        bed_code=row.maybe("bed", str),
        along_m=row.maybe("along_m", float),
        in_ground=row.maybe("in_ground", date),
        n_plants=row.maybe("plants", int),
    )


def pin_document(pin: Pin) -> dict[str, Plain]:
    """A pin under its keys."""
    return given(
        planting=pin.planting_code,
        bed=pin.bed_code,
        along_m=pin.along_m,
        in_ground=pin.in_ground,
        plants=pin.n_plants,
    )
