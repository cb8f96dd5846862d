"""`bedwright carry`: what a season that is over leaves for next year's garden book."""

from __future__ import annotations

import argparse
from pathlib import Path

from bedwright.service.make_season import open_season
from bedwright.service.next_book import next_book_text


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The season that is over."""
    parser.add_argument("season", type=Path, metavar="SEASON_DIR", help="folder of the season that is over")


def run(options: argparse.Namespace) -> int:
    """Print the lines."""
    print(next_book_text(open_season(options.season)), end="")
    return 0
