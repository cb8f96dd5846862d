"""`bedwright water`: what each bed wants this morning."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.apps.cli.amounts import problem_of, rain_mm, volume_l
from bedwright.apps.cli.season_options import add_season_options, asked_day, at_hand, day
from bedwright.model.book import Period
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.service.water_text import MOST_RAIN_MM, forecast_of, water_text
from bedwright.service.water_today import WaterAsked, garden_today, water_log


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Book, log, forecast, water there is, days of duty."""
    add_season_options(parser, book_needed=True)
    parser.add_argument(
        "--log",
        type=Path,
        action="append",
        default=[],
        metavar="FILE",
        help="water log (YAML): rain gauge, waterings, forecast; repeatable",
    )
    parser.add_argument(
        "--forecast",
        nargs="+",
        default=[],
        metavar="DAY=RAIN",
        help="forecast typed in, such as 2027-06-02=8mm 2027-06-03=0; inches as 0.3in",
    )
    parser.add_argument(
        "--if-rain",
        type=rain_mm,
        default="10mm",
        metavar="RAIN",
        help="rain today to suppose for `if rain comes`, in mm or such as 0.3in (default: %(default)s)",
    )
    parser.add_argument(
        "--available",
        type=volume_l,
        metavar="WATER",
        help="water there is, in litres or such as 80gal: which beds come first",
    )
    parser.add_argument("--why", action="store_true", help="tell the state of the soil under each planting")
    parser.add_argument(
        "--duty", type=day, nargs=2, metavar=("FROM", "TO"), help="list of waterings from one day to another"
    )


def run(options: argparse.Namespace) -> int:
    """Print what each bed wants."""
    today = asked_day(options)
    forecast = forecast_of(options.forecast)
    _refuse_impossible(options)
    available_l = None if options.available is None else options.available.value
    asked = WaterAsked(options.if_rain.value, available_l, _duty(options), options.why)
    found = at_hand(options, today, with_book=True)
    log = water_log(found.plan, options.log, forecast, today=today)
    record = None if found.loaded is None else found.loaded.record
    answer = garden_today(found.plan, record, log, asked, today=today)
    units = options.units or found.plan.book.site.units
    print(water_text(found.plan, answer, asked, units), end="")
    for note in found.notes:
        print(note, file=sys.stderr)
    return 0


def _duty(options: argparse.Namespace) -> Period | None:
    if options.duty is None:
        return None
    start, end = options.duty
    if not 0 <= (end - start).days < 120:
        raise BadDocumentError(
            (Problem("the command", None, None, "--duty", f"{start} to {end}", "two days in order, at most "
                     "four months apart"),)
        )  # fmt: skip
    return Period("duty", start, end)


def _refuse_impossible(options: argparse.Namespace) -> None:
    found = (
        problem_of("--available", options.available, 0, 1e9, "0 or more, such as 300L or 80gal"),
        problem_of("--if-rain", options.if_rain, 0, MOST_RAIN_MM, "0 to 500 mm, such as 8mm or 0.3in"),
    )
    problems = tuple(problem for problem in found if problem is not None)
    if problems:
        raise BadDocumentError(problems)
