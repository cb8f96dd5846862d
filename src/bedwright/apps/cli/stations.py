"""`bedwright stations`: how many of a crop a bed of its own holds, and where each stands."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.catalogue import crop_named, nearest_crops
from bedwright.model.bounds import AMOUNT_PLANTS, SPACING_CM
from bedwright.model.units import inches_to_cm
from bedwright.service.load import load
from bedwright.service.stations import stations, stations_text


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Bed, crop and distances."""
    parser.add_argument("book", type=Path, metavar="BOOK", help="the garden book (YAML)")
    parser.add_argument("bed", metavar="BED", help="code of the bed")
    parser.add_argument("name", nargs="+", metavar="CROP", help="name of the crop")
    amount = parser.add_mutually_exclusive_group()
    amount.add_argument("--apart-cm", type=float, metavar="CM", help="distance from plant to plant every way")
    amount.add_argument("--apart-in", type=float, metavar="IN", help="the same in inches")
    amount.add_argument("--plants", type=int, metavar="N", help="spread so many plants over the bed instead")
    parser.add_argument("--closest", action="store_true", help="look for places without rows too")
    parser.add_argument("--list", action="store_true", help="list every plant's place of the last way shown")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")


def run(options: argparse.Namespace) -> int:
    """Print the ways to fill the bed; codes and names that are not known are told."""
    loaded = load(options.book, options.weather)
    beds = {bed.code.casefold(): bed for bed in loaded.book.beds}
    bed = beds.get(options.bed.casefold())
    name = " ".join(options.name)
    crop = crop_named(name, loaded.catalogue)
    if bed is None:
        known = ", ".join(each.code for each in loaded.book.beds)
        print(f"{options.bed} is not a bed of this book. Beds: {known}", file=sys.stderr)
        return 1
    if crop is None:
        near = ", ".join(nearest_crops(name, loaded.catalogue))
        print(f"{name} is not in the catalogue. Nearest: {near or 'nothing near'}.", file=sys.stderr)
        return 1
    apart_cm = options.apart_cm if options.apart_in is None else inches_to_cm(options.apart_in)
    if apart_cm is not None and apart_cm not in SPACING_CM:
        print(f"--apart-cm: got {apart_cm:g}; expected {SPACING_CM}", file=sys.stderr)
        return 2
    if options.plants is not None and options.plants not in AMOUNT_PLANTS:
        print(f"--plants: got {options.plants}; expected {AMOUNT_PLANTS}", file=sys.stderr)
        return 2
    apart_m = None if apart_cm is None else apart_cm / 100
    found = stations(bed, crop, apart_m=apart_m, n_plants=options.plants, closest=options.closest)
    print(stations_text(found, loaded.book.site.units, listed=options.list), end="")
    return 0
