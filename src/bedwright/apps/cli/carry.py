"""`bedwright carry`: what a season that is over leaves for next year's garden book."""

from __future__ import annotations

import argparse
from pathlib import Path

from bedwright.service.make_season import open_season
from bedwright.service.next_book import next_book_text
from bedwright.service.next_book_file import write_next_book


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The season that is over, and the books."""
    parser.add_argument("season", type=Path, metavar="SEASON_DIR", help="folder of the season that is over")
    parser.add_argument("--book", type=Path, metavar="BOOK", help="the garden book of that season")
    parser.add_argument(
        "--to", type=Path, metavar="NEW_BOOK", help="new file for the book of the next season, with --book"
    )
    parser.set_defaults(parser=parser)


def run(options: argparse.Namespace) -> int:
    """Print the lines, or write the whole book."""
    if (options.book is None) != (options.to is None):
        options.parser.error("--book and --to go together")
    plan = open_season(options.season)
    if options.book is None:
        print(next_book_text(plan), end="")
        return 0
    book = write_next_book(options.book, plan, options.to)
    print(
        f"Wrote {options.to}, the garden book of the season from {book.season_start}. Look through wishes, "
        "people and days, and strike from its history what failed and was cleared young. Then plan it with "
        f"--after {options.season}"
    )
    return 0
