"""Options of the commands that are used while the season goes on."""

from __future__ import annotations

import argparse
from datetime import UTC, date, datetime
from pathlib import Path

from bedwright.apps.cli.progress import ProgressLine
from bedwright.model.bounds import YEAR
from bedwright.service.plan_at_hand import AtHand, plan_at_hand


def add_season_options(parser: argparse.ArgumentParser, *, book_needed: bool) -> None:
    """Book, season's folder, day, units and progress."""
    parser.add_argument(
        "book", type=Path, metavar="BOOK", nargs=None if book_needed else "?", help="the garden book (YAML)"
    )
    parser.add_argument(
        "--season",
        type=Path,
        metavar="DIR",
        help="folder of a season planned earlier: its plan is used as it is, and at once",
    )
    parser.add_argument("--date", type=day, metavar="YYYY-MM-DD", help="day it is asked for (default: today)")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")
    parser.add_argument("--units", choices=("metric", "us"), help="units (default: the book's)")
    parser.add_argument("--paper", choices=("a4", "letter"), help="paper size (default: the book's)")
    parser.add_argument("--quiet", action="store_true", help="no progress")


def day(text: str) -> date:
    """A day as options state it."""
    try:
        found = date.fromisoformat(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"{text!r} is not a day written YYYY-MM-DD") from error
    if found.year not in YEAR:
        raise argparse.ArgumentTypeError(f"{text!r} is not in the years {YEAR}")
    return found


def asked_day(options: argparse.Namespace) -> date:
    """The day asked for: the clock is read here and nowhere below."""
    asked: date | None = options.date
    return asked or datetime.now(tz=UTC).astimezone().date()


def at_hand(options: argparse.Namespace, today: date, *, with_book: bool = False) -> AtHand:
    """The plan to work from."""
    with ProgressLine(silent=options.quiet) as progress:
        return plan_at_hand(
            options.book,
            options.season,
            today=today,
            weather_file=options.weather,
            with_book=with_book,
            progress=progress,
        )
