"""Checks that need more than one value of the book: orders of dates, references, repeats."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Final
from zoneinfo import ZoneInfo

from bedwright.model.bounds import SEASON_REACH_DAYS, Bounds, plain_number
from bedwright.model.crop import Crop
from bedwright.model.season import row_stem
from bedwright.store.book.fault import Faults
from bedwright.store.book.names import known_time_zone
from bedwright.store.book.read import Row, Value

FARTHEST_FROM_MERIDIAN_DEG: Final = 50
"""A limit of our own: clocks of western China run about 44 degrees ahead of the sun (from
memory, no copy seen), and no inhabited place is known to us that strays farther."""

MOST_UNLIKE_THE_CROP: Final = 8
"""A packet may differ this many times from the catalogue; beyond it a unit is the likelier
cause (the factor between inches and centimetres is 2.5, millimetres and inches 25)."""


def check_site(row: Row, season_start: date | None, faults: Faults) -> None:
    """The time zone exists and lies round the stated longitude."""
    zone = known_time_zone(row.values["time_zone"], faults) if "time_zone" in row else None
    if zone is not None and "longitude_deg" in row:
        _check_longitude(row, zone, season_start or date(2027, 1, 1), faults)
    check_repeats(row.rows("features"), faults)
    for feature in row.rows("features"):
        _check_crown(feature, faults)
        _check_breadth(feature, faults)
        _check_water(feature, faults)


def _check_longitude(row: Row, zone: ZoneInfo, day: date, faults: Faults) -> None:
    offsets_h = [
        offset.total_seconds() / 3600
        for month in (1, 7)
        if (offset := datetime(day.year, month, 1, 12, tzinfo=zone).utcoffset()) is not None
    ]
    longitude_deg = row.one("longitude_deg", float)
    # The smaller offset is standard time, whichever hemisphere has summer.
    meridian_deg = min(offsets_h, default=0.0) * 15
    apart_deg = abs((longitude_deg - meridian_deg + 180) % 360 - 180)
    if apart_deg > FARTHEST_FROM_MERIDIAN_DEG:
        place = row.values["longitude_deg"]
        span = f"within {FARTHEST_FROM_MERIDIAN_DEG} degrees of {plain_number(meridian_deg)}"
        expected = f"{span}, where the clocks of {zone.key} belong"
        hint = "Latitude and longitude may be swapped, or the minus sign of a western longitude left out."
        faults.at(place, place.where, plain_number(longitude_deg), expected, hint)


def _check_crown(row: Row, faults: Faults) -> None:
    if "crown_base_m" in row and row.one("crown_base_m", float) > row.maybe("height_m", float, 0.0):
        place = row.values["crown_base_m"]
        got = f"{plain_number(row.one('crown_base_m', float))} m"
        faults.at(place, place.where, got, "at most the height of the tree")


def _check_breadth(row: Row, faults: Faults) -> None:
    """A tree has a crown, everything else a width."""
    is_tree = row.maybe("kind", str) == "tree"
    wrong, right = ("width_m", "crown_radius_m") if is_tree else ("crown_radius_m", "width_m")
    if "kind" in row and wrong in row:
        place = row.values[wrong]
        faults.at(place, place.where, f"`{wrong}` of a {row.one('kind', str)}", f"`{right}`")


_WATER_KEYS = {"flow_l_min": "tap", "volume_l": "water butt", "roof_m2": "water butt"}


def _check_water(row: Row, faults: Faults) -> None:
    """A tap gives water, a butt holds it."""
    for key, kind in _WATER_KEYS.items():
        if "kind" in row and key in row and row.one("kind", str) != kind:
            place = row.values[key]
            faults.at(place, place.where, f"`{key}` of a {row.one('kind', str)}", f"`{key}` of a {kind}")


def check_irrigation(row: Row, faults: Faults) -> None:
    """Water is put on by something that reaches the bed."""
    if "irrigation" not in row:
        return
    way, reach = row.one("irrigation", str), row.maybe("watering", str, "hose")
    if reach == "none" or (reach == "can" and way != "can"):
        place = row.values["irrigation"]
        expected = "nothing" if reach == "none" else "can"
        hint = f"By `watering: {reach}` nothing else reaches the bed; correct one of the two."
        faults.at(place, place.where, way, expected, hint)


def check_soil_units(row: Row, faults: Faults) -> None:
    """Nutrients of one report stand in one kind of unit, as laboratories print them."""
    written = [
        (entry, entry.where.rpartition(".")[2])
        for key in ("p_mg_kg", "p2o5_mg_kg", "k_mg_kg", "k2o_mg_kg")
        if (entry := row.values.get(key)) is not None
    ]
    by_area = [key.endswith(("_lb_acre", "_kg_ha")) for _, key in written]
    if any(by_area) and not all(by_area):
        place, key = written[-1]
        got = f"`{key}` beside `{written[0][1]}`"
        hint = "Look at the report again: lb/acre is twice mg/kg, so a slip here doubles or halves the feed."
        faults.at(place, place.where, got, "one kind of unit for all nutrients of a report", hint)


def check_frost(row: Row, latitude_deg: float | None, faults: Faults) -> None:
    """Stated frost dates stand in the order of the site's seasons."""
    if latitude_deg is None or "last_spring" not in row or "first_autumn" not in row:
        return
    spring, autumn = row.one("last_spring", tuple), row.one("first_autumn", tuple)
    if (spring < autumn) != (latitude_deg >= 0):
        place = row.values["last_spring"]
        half = "northern" if latitude_deg >= 0 else "southern"
        order = "before" if latitude_deg >= 0 else "after"
        expected = f"a day {order} the first frost of autumn within the year, in the {half} hemisphere"
        hint = "The two dates may be swapped, or the sign of the latitude wrong."
        faults.at(place, place.where, f"{spring[0]:02}-{spring[1]:02}", expected, hint)


def check_weather_file(entry: Value, folder: Path | None, faults: Faults) -> None:
    """The record lies inside the folder of the book and is there.

    A book is often passed on, so that a path leaving its folder would name other files on
    another machine. `folder` None: there is no folder, and only the form is checked.
    """
    written = str(entry.value)
    parts = PurePosixPath(written.replace("\\", "/")).parts
    foreign = PureWindowsPath(written)
    if ".." in parts or PurePosixPath(written).is_absolute() or foreign.drive or foreign.root:
        hint = "Put the record beside the book and write its name alone."
        faults.at(entry, entry.where, written, "a path inside the folder of the book", hint)
        return
    if folder is None:
        return
    path = folder / written
    try:
        inside = path.resolve().is_relative_to(folder.resolve())
        is_file = path.is_file()
    except (OSError, ValueError, RuntimeError):
        inside, is_file = True, False
    if not inside:
        faults.at(
            entry, entry.where, written, "a path inside the folder of the book", "It is a link to elsewhere."
        )
    elif not is_file:
        hint = "Copy the record there, or correct the name."
        faults.at(
            entry, entry.where, f"{written}, which is not there", "a file in the folder of the book", hint
        )


def check_order(row: Row, first_key: str, last_key: str, faults: Faults) -> None:
    """The second date does not lie before the first."""
    if first_key not in row or last_key not in row:
        return
    first, last = row.one(first_key, date), row.one(last_key, date)
    if last < first:
        place = row.values[last_key]
        faults.at(place, place.where, str(last), f"a day not before {first}", "The two dates may be swapped.")


def check_in_reach(
    row: Row, key: str, season_start: date | None, faults: Faults, reach_days: Bounds = SEASON_REACH_DAYS
) -> None:
    """A date lies in the planned season or the year after it, or in another reach of its start."""
    if season_start is None or key not in row:
        return
    day = row.one(key, date)
    if (day - season_start).days not in reach_days:
        first, last = (season_start + timedelta(days=n) for n in (reach_days.low, reach_days.high))
        place = row.values[key]
        faults.at(place, place.where, str(day), f"a day from {first} to {last}", "Check the year.")


def check_not_over(row: Row, key: str, season_start: date | None, faults: Faults) -> None:
    """A promise has not run out before the planned season begins."""
    if season_start is None or key not in row:
        return
    day = row.one(key, date)
    if day < season_start:
        place = row.values[key]
        expected = f"a day not before the season begins, {season_start}"
        hint = "Remove a promise that has run out, or correct the year."
        faults.at(place, place.where, f"{day}, in the past", expected, hint)


def check_not_after(row: Row, key: str, season_start: date | None, faults: Faults) -> None:
    """A date does not lie beyond the planned season."""
    if season_start is None or key not in row:
        return
    day = row.one(key, date)
    last = season_start + timedelta(days=SEASON_REACH_DAYS.high)
    if day > last:
        place = row.values[key]
        faults.at(place, place.where, str(day), f"a day not after {last}", "Check the year.")


def check_past_year(row: Row, key: str, season_start: date | None, faults: Faults) -> None:
    """A year began before the planned season does."""
    if season_start is None or key not in row:
        return
    year = row.one(key, int)
    if date(year, 1, 1) >= season_start:
        place = row.values[key]
        faults.at(
            place, place.where, str(year), f"a year that began before {season_start}", "Check the year."
        )


def check_packed_year(row: Row, season_start: date | None, faults: Faults) -> None:
    """Seed is packed for the season's year or an earlier one."""
    if season_start is None or "packed_year" not in row:
        return
    year = row.one("packed_year", int)
    if year > season_start.year:
        place = row.values["packed_year"]
        faults.at(place, place.where, str(year), f"{season_start.year} or earlier", "Check the year.")


def check_test(row: Row, faults: Faults) -> None:
    """No more seeds sprouted than were tested."""
    test = row.maybe("germination_test", Row)
    if test is None or "sown" not in test or "sprouted" not in test:
        return
    sown, sprouted = test.one("sown", int), test.one("sprouted", int)
    if sprouted > sown:
        place = test.values["sprouted"]
        faults.at(place, place.where, str(sprouted), f"at most the {sown} seeds tested")


def check_wish_beds(row: Row, faults: Faults) -> None:
    """No bed is both wanted and refused."""
    beds = row.maybe("beds", Row)
    if beds is None:
        return
    only = set(beds.items("only", str))
    for entry in beds.each("not"):
        if entry.value in only:
            faults.at(entry, entry.where, f"{entry.value} in `only` and in `not`", "a bed in one of them")


def check_packet(row: Row, crop: Crop | None, faults: Faults) -> None:
    """A packet's values are of the order of the crop's own."""
    stated = row.values["variety"].value if "variety" in row else None
    if crop is None or not isinstance(stated, Row):
        return
    usual: dict[str, tuple[float, float]] = {
        "days_to_maturity_days": crop.days_to_maturity_days,
        "in_row_spacing_cm": (crop.in_row_spacing_m * 100,) * 2,
        "row_spacing_cm": (crop.row_spacing_m * 100,) * 2,
        "sow_depth_mm": (crop.sow_depth_mm,) * 2,
        "height_cm": (crop.height_m * 100,) * 2,
    }
    for key, (low, high) in usual.items():
        value = stated.maybe(key, float)
        if not value or low <= 0:
            continue
        if not low / MOST_UNLIKE_THE_CROP <= value <= high * MOST_UNLIKE_THE_CROP:
            place = stated.values[key]
            expected = (
                f"{plain_number(low / MOST_UNLIKE_THE_CROP)} to {plain_number(high * MOST_UNLIKE_THE_CROP)}"
            )
            hint = f"The catalogue has {plain_number(low)} for {crop.name}; check the unit."
            faults.at(place, place.where, plain_number(value), f"{expected} for {crop.name}", hint)


def check_bed_codes(rows: Sequence[Row], faults: Faults) -> dict[str, Value]:
    """Bed codes by code; each is there once, and numbered rows of two beds stay apart."""
    codes: dict[str, Value] = {}
    for row in rows:
        if "code" not in row:
            continue
        entry = row.values["code"]
        code = str(entry.value)
        for earlier, place in codes.items():
            if code.casefold() == earlier.casefold():
                faults.at(entry, entry.where, code, f"a code of its own; line {place.line} has {earlier}")
                break
            if _rows_clash(code, earlier):
                hint = "Rows are numbered after the code, and two rows could get the same peg."
                faults.at(
                    entry, entry.where, code, f"a code that is not {row_stem(earlier)} with a number", hint
                )
                break
        codes.setdefault(code, entry)
    return codes


def _rows_clash(one: str, other: str) -> bool:
    """True if a row of one bed would be called as the other bed is."""
    short, long = sorted((one.casefold(), other.casefold()), key=len)
    return re.fullmatch(re.escape(row_stem(short)) + r"[0-9]+", long) is not None


def check_repeats(rows: Sequence[Row], faults: Faults) -> None:
    """Every entry has a code of its own."""
    seen: dict[str, Value] = {}
    for row in rows:
        if "code" not in row:
            continue
        entry = row.values["code"]
        earlier = seen.setdefault(str(entry.value).casefold(), entry)
        if earlier is not entry:
            faults.at(
                entry, entry.where, str(entry.value), f"a code of its own; line {earlier.line} has it too"
            )
