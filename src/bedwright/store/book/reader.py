"""A garden book read from a file or from text, with every problem at once."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from pathlib import Path

from bedwright.model import bounds
from bedwright.model.book import (
    Bed,
    GardenBook,
    Goals,
    HelpingHands,
    History,
    NeighbourWish,
    Pin,
    SeedLot,
    Wish,
)
from bedwright.model.crop import Catalogue
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.book import build, checks, pins, safety, supplies, water, workdays
from bedwright.store.book.fault import Faults
from bedwright.store.book.names import CropNamed, KnownCrops, KnownMaterials, NearestCrops, known_beds
from bedwright.store.book.nodes import read_nodes
from bedwright.store.book.outlines import check_outlines
from bedwright.store.book.read import Row, SchemaReader, Value
from bedwright.store.book.schema import GARDEN_BOOK


def read_book(
    path: Path,
    catalogue: Catalogue,
    *,
    crop_named: CropNamed | None = None,
    nearest_crops: NearestCrops | None = None,
    materials: Mapping[str, str] | None = None,
    weather_given: bool = False,
) -> GardenBook:
    """Read a garden book.

    Parameters
    ----------
    path
        The YAML file, UTF-8, at most `BOOK_BYTES` large.
    catalogue
        Crops and families that may be named.
    crop_named
        The catalogue's name for a name or synonym, None where unknown. Without it a name
        must be the catalogue's own, in any case of letters.
    nearest_crops
        The catalogue's names most like an unknown one; without it, those spelt alike.
    materials
        Materials that can be bought: the name used in the calculations by every name it may
        be written with. Without it any name will do.
    weather_given
        True where a weather record is given beside the book: the one it names is then
        neither checked nor needed.

    Raises
    ------
    BadDocumentError
        If there is any fault; it carries all of them, in the order of the text.
    """
    text = text_of_file(path)
    folder = None if weather_given else path.parent
    crops = KnownCrops(catalogue, crop_named, nearest_crops)
    return _read(text, str(path), crops, KnownMaterials(materials), folder, weather_given)


def read_book_text(
    text: str,
    file_name: str,
    catalogue: Catalogue,
    *,
    crop_named: CropNamed | None = None,
    nearest_crops: NearestCrops | None = None,
    materials: Mapping[str, str] | None = None,
) -> GardenBook:
    """Read a garden book from text; the weather file it names is not looked for.

    Raises
    ------
    BadDocumentError
        If there is any fault; it carries all of them, in the order of the text.
    """
    crops = KnownCrops(catalogue, crop_named, nearest_crops)
    return _read(text, file_name, crops, KnownMaterials(materials), None, False)


def text_of_file(path: Path) -> str:
    """The text of a book's file, at most `BOOK_BYTES` of UTF-8.

    Raises
    ------
    BadDocumentError
        If it cannot be read, is too large or is not text.
    """
    file = str(path)
    try:
        size_bytes = path.stat().st_size
        if path.is_dir():
            raise _whole_file(file, "a folder", "the garden book inside it", "Add the name of the book.")
        if not path.is_file():
            raise _whole_file(file, "something that is not a file", "a file")
        if size_bytes > bounds.BOOK_BYTES.high:
            got = f"{size_bytes / 1e6:.1f} MB"
            raise _whole_file(file, got, f"at most {bounds.BOOK_BYTES.high / 1e6:g} MB of text")
        content = path.read_bytes()
    except FileNotFoundError:
        raise _whole_file(file, "no such file", "a garden book", "Check the path.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _whole_file(file, f"a file that cannot be read ({reason})", "a garden book") from None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise BadDocumentError((_not_text(file, line),)) from None


def _whole_file(file: str, got: str, expected: str, hint: str = "") -> BadDocumentError:
    return BadDocumentError((Problem(file, None, None, "the file", got, expected, hint),))


def _not_text(file: str, line: int) -> Problem:
    hint = "Save the file as plain text in UTF-8; word-processor files cannot be read."
    return Problem(file, line, None, "the file", "bytes that are not UTF-8 text", "UTF-8 text", hint)


def _read(
    text: str,
    file_name: str,
    crops: KnownCrops,
    materials: KnownMaterials,
    folder: Path | None,
    weather_given: bool,
) -> GardenBook:
    faults = Faults(file_name)
    row = SchemaReader(faults).row(read_nodes(text, faults), GARDEN_BOOK, "")
    assembly = _Assembly(row, crops, faults)
    assembly.check_site_and_weather(folder, weather_given)
    beds = assembly.beds()
    history = assembly.history()
    wishes = assembly.wishes()
    neighbours = assembly.neighbours()
    goals = assembly.goals()
    people = assembly.people()
    seed_drawer = assembly.seed_drawer()
    start = assembly.season_start
    manure = safety.manure(row.rows("manure"), assembly.bed_codes, start, faults)
    lead_rule = safety.lead_rule(row.maybe("lead_rule", Row), start, faults)
    workday_entries = workdays.workdays(row.rows("workdays"), start, faults)
    limits = water.water_limits(row.rows("water_limits"), faults)
    labour_rates = workdays.labour_rates(row.rows("labour_rates"), faults)
    supplier_entries = supplies.suppliers(row.rows("suppliers"), crops, materials, faults)
    pin_entries = assembly.pins(beds)
    known_beds(row.each("leave_alone"), assembly.bed_codes, faults)
    faults.raise_if_any()
    season, weather = row.one("season", Row), row.one("weather", Row)
    frost, carried = weather.maybe("stated_frost", Row), row.maybe("water", Row)
    return GardenBook(
        site=build.site(row.one("site", Row)),
        season_start=season.one("start", date),
        beds=beds,
        wishes=wishes,
        weather_file=weather.maybe("file", str),
        stated_frost=build.stated_frost(frost) if frost else None,
        frost_risk_pct=season.maybe("frost_risk_pct", float, 10.0),
        chance_wanted_pct=season.maybe("chance_wanted_pct", float, 80.0),
        history=history,
        neighbours=neighbours,
        goals=goals,
        people=people,
        seed_drawer=seed_drawer,
        stock=tuple(build.stock(entry) for entry in row.rows("stock")),
        note=row.maybe("note", str, ""),
        can_l=carried.one("can_l", float) if carried else None,
        water_limits=limits,
        manure=manure,
        workdays=workday_entries,
        labour_rates=labour_rates,
        propagation=supplies.propagation(row.maybe("propagation", Row)),
        suppliers=supplier_entries,
        lead_rule=lead_rule,
        pins=pin_entries,
        leave_alone=row.items("leave_alone", str),
    )


class _Assembly:
    """Checks the parts of one book and builds what is sound.

    A part with faults is left out of the result but not of the checks, so that one slip
    does not hide another.
    """

    def __init__(self, row: Row, crops: KnownCrops, faults: Faults) -> None:
        self.row = row
        self.crops = crops
        self.faults = faults
        season = row.maybe("season", Row)
        self.season_start = season.maybe("start", date) if season else None
        self.bed_codes: dict[str, Value] = {}
        self.wish_rows: dict[str, Row] = {}

    def check_site_and_weather(self, folder: Path | None, weather_given: bool) -> None:
        """Time zone, features, frost dates, weather file."""
        site, weather = self.row.maybe("site", Row), self.row.maybe("weather", Row)
        if site is not None:
            checks.check_site(site, self.season_start, self.faults)
        if weather is None:
            return
        frost = weather.maybe("stated_frost", Row)
        if frost is not None:
            latitude_deg = site.maybe("latitude_deg", float) if site else None
            checks.check_frost(frost, latitude_deg, self.faults)
        if "file" in weather and not weather_given:
            checks.check_weather_file(weather.values["file"], folder, self.faults)

    def beds(self) -> tuple[Bed, ...]:
        """Beds with their own codes, side by side on the ground."""
        rows = self.row.rows("beds")
        self.bed_codes = checks.check_bed_codes(rows, self.faults)
        check_outlines([row for row in rows if _has_outline(row)], self.faults)
        for row in rows:
            checks.check_irrigation(row, self.faults)
            soil_test = row.maybe("soil_test", Row)
            if soil_test is not None:
                checks.check_soil_units(soil_test, self.faults)
        return tuple(build.bed(row) for row in rows if row.sound)

    def history(self) -> tuple[History, ...]:
        """Earlier years of beds that exist, with crops and families that are known."""
        found: list[History] = []
        for row in self.row.rows("history"):
            self._known_bed(row, "bed")
            checks.check_past_year(row, "year", self.season_start, self.faults)
            crops = self.crops.crops(row.each("crops"), self.faults)
            families = self.crops.families(row.each("families"), self.faults)
            if row.sound:
                found.append(build.history(row, crops, families))
        return tuple(found)

    def wishes(self) -> tuple[Wish, ...]:
        """Wishes, each with a code."""
        rows = self.row.rows("wishes")
        checks.check_repeats(rows, self.faults)
        crops = [self.crops.crop(row.values["crop"], self.faults) if "crop" in row else "" for row in rows]
        taken = {row.one("code", str).casefold() for row in rows if "code" in row}
        found: list[Wish] = []
        for row, crop in zip(rows, crops, strict=True):
            self._check_wish(row, crop)
            code = row.maybe("code", str) or _next_code(crop, taken)
            self.wish_rows[code] = row
            if row.sound:
                found.append(build.wish(row, code, crop))
        return tuple(found)

    def _check_wish(self, row: Row, crop: str) -> None:
        beds = row.maybe("beds", Row)
        if beds is not None:
            known_beds(beds.each("only") + beds.each("not"), self.bed_codes, self.faults)
        checks.check_wish_beds(row, self.faults)
        checks.check_packet(row, self.crops.catalogue.crops.get(crop), self.faults)
        harvest = row.maybe("harvest", Row)
        if harvest is not None:
            checks.check_order(harvest, "from", "to", self.faults)
            for key in ("from", "to"):
                checks.check_in_reach(harvest, key, self.season_start, self.faults)

    def neighbours(self) -> tuple[NeighbourWish, ...]:
        """Rules on known crops."""
        found: list[NeighbourWish] = []
        for row in self.row.rows("neighbours"):
            crops = self.crops.crops(row.each("together") + row.each("apart"), self.faults)
            if row.sound and len(crops) == 2:
                found.append(build.neighbours(row, crops[0], crops[1]))
        return tuple(found)

    def goals(self) -> Goals:
        """Goals with periods in order."""
        row = self.row.maybe("goals", Row)
        if row is None:
            return Goals()
        for period in row.rows("quiet_weeks"):
            checks.check_order(period, "start", "end", self.faults)
        return build.goals(row) if row.sound else Goals()

    def people(self) -> tuple[HelpingHands, ...]:
        """Hours in periods in order."""
        rows = self.row.rows("people")
        for row in rows:
            checks.check_order(row, "start", "end", self.faults)
            checks.check_not_over(row, "end", self.season_start, self.faults)
        return tuple(build.hands(row) for row in rows if row.sound)

    def seed_drawer(self) -> tuple[SeedLot, ...]:
        """Seed of known crops."""
        rows = self.row.rows("seed_drawer")
        checks.check_repeats(rows, self.faults)
        found: list[SeedLot] = []
        for row in rows:
            checks.check_packed_year(row, self.season_start, self.faults)
            checks.check_test(row, self.faults)
            crop = self.crops.crop(row.values["crop"], self.faults) if "crop" in row else ""
            if row.sound:
                found.append(build.seed_lot(row, crop))
        return tuple(found)

    def pins(self, beds: tuple[Bed, ...]) -> tuple[Pin, ...]:
        """Pins of wishes and beds that are there."""
        rows = self.row.rows("pins")
        return pins.pins(rows, self.wish_rows, self.bed_codes, beds, self.season_start, self.faults)

    def _known_bed(self, row: Row, key: str) -> None:
        if key in row:
            known_beds((row.values[key],), self.bed_codes, self.faults)


def _has_outline(row: Row) -> bool:
    shapes = [row.one(key, Row) for key in ("rectangle", "polygon", "circle") if key in row]
    return len(shapes) == 1 and shapes[0].sound


def _next_code(crop: str, taken: set[str]) -> str:
    """The first free of carrot-1, carrot-2…: stable while the wishes keep their order."""
    slug = re.sub(r"[^a-z0-9]+", "-", crop.casefold()).strip("-") or "wish"
    # Room is left for the number within the longest code.
    slug = slug[: int(bounds.CODE_LENGTH.high) - 5]
    ordinal = 1
    while f"{slug}-{ordinal}" in taken:
        ordinal += 1
    taken.add(f"{slug}-{ordinal}")
    return f"{slug}-{ordinal}"
