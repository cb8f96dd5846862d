"""`bedwright crop`: all facts of a crop with their sources."""

from __future__ import annotations

import argparse
import sys

from bedwright.catalogue import crop_named, crop_sheet, load_catalogue, nearest_crops


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Name and units."""
    parser.add_argument(
        "name",
        nargs="*",
        metavar="NAME",
        help="name of the crop; UK and US names are known; without one all crops are listed",
    )
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="(default: %(default)s)")


def run(options: argparse.Namespace) -> int:
    """Print the facts, or the nearest names; without a name, all names."""
    catalogue = load_catalogue()
    if not options.name:
        print("\n".join(sorted(catalogue.crops)))
        return 0
    name = " ".join(options.name)
    crop = crop_named(name, catalogue)
    if crop is None:
        near = ", ".join(nearest_crops(name, catalogue))
        print(f"{name} is not in the catalogue. Nearest: {near or 'nothing near'}.", file=sys.stderr)
        return 1
    print(crop_sheet(crop, catalogue, options.units), end="")
    return 0
