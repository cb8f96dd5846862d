"""`bedwright week`: everything due in a week, bed by bed in the order of a walk."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.apps.cli.season_options import add_season_options, asked_day, at_hand
from bedwright.service.week import week_of, week_text, write_week


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Book or season, day, folder."""
    add_season_options(parser, book_needed=False)
    parser.add_argument("--out", type=Path, metavar="DIR", help="folder for week.pdf and week.ics")
    parser.set_defaults(parser=parser)


def run(options: argparse.Namespace) -> int:
    """Print the week's list and perhaps write it."""
    if options.book is None and options.season is None:
        options.parser.error("give a garden book, or a season with --season DIR")
    day = asked_day(options)
    found = at_hand(options, day)
    plan = found.plan
    units = options.units or plan.book.site.units
    week = week_of(plan, day)
    print(week_text(plan, week, units), end="")
    if options.out is not None:
        write_week(plan, week, options.out, options.paper or plan.book.site.paper, units)
        print(f"\nweek.pdf and week.ics are in {options.out}.")
    for note in found.notes:
        print(note, file=sys.stderr)
    return 0
