"""`bedwright why`: reasons of one placement and its dates."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.service.make_season import open_season
from bedwright.service.why import known_codes, why


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Code and season."""
    parser.add_argument("code", metavar="CODE", help="row code such as C4, planting, wish, bed or crop")
    parser.add_argument(
        "--season",
        type=Path,
        default=Path("demo-season"),
        metavar="DIR",
        help="folder of the season (default: %(default)s)",
    )


def run(options: argparse.Namespace) -> int:
    """Print the reasons, or the codes there are."""
    plan = open_season(options.season)
    text = why(plan, options.code)
    if text is None:
        print(f"{options.code} is not in this season. Codes: {', '.join(known_codes(plan))}", file=sys.stderr)
        return 1
    print(text, end="")
    return 0
