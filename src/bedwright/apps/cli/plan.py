"""`bedwright plan`: a season from a garden book."""

from __future__ import annotations

import argparse
from datetime import UTC, date, datetime
from pathlib import Path

from bedwright.apps.cli.paper_options import add_paper_options, make


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Book, folder, weather, day and papers."""
    parser.add_argument("book", type=Path, metavar="BOOK", help="the garden book (YAML)")
    parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder for the season")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")
    parser.add_argument(
        "--today", type=_day, metavar="YYYY-MM-DD", help="plan as of this day (default: today)"
    )
    parser.add_argument(
        "--resume",
        action="store_true",
        help="search on from the season that DIR holds, such as a stopped one",
    )
    parser.add_argument(
        "--after",
        type=Path,
        metavar="DIR",
        help="folder of the season before: what still stands of it keeps its ground",
    )
    add_paper_options(parser)


def run(options: argparse.Namespace) -> int:
    """Plan the book."""
    today = options.today or datetime.now(tz=UTC).astimezone().date()
    return make(options, options.book, today, resume=options.resume, after=options.after)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"{text!r} is not a day written YYYY-MM-DD") from error
