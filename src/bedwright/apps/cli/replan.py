"""`bedwright replan`: the season made again after something happened."""

from __future__ import annotations

import argparse
from datetime import UTC, date, datetime
from pathlib import Path

from bedwright.apps.cli.paper_options import add_paper_options, paper_choice
from bedwright.apps.cli.progress import ProgressLine
from bedwright.service.replan import Happened, changes_text, remake_season


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Season, book, what happened, and papers."""
    parser.add_argument("season", type=Path, metavar="SEASON_DIR", help="folder of the season so far")
    parser.add_argument("--book", type=Path, required=True, metavar="BOOK", help="the garden book (YAML)")
    parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder for the new season")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")
    parser.add_argument(
        "--today",
        type=_day,
        metavar="YYYY-MM-DD",
        help="what went in before this day stands (default: today)",
    )
    happened = parser.add_argument_group("what happened (each may be given again)")
    _code(happened, "--lost-bed", "BED", "this bed is lost, with what stands in it")
    _code(happened, "--closed-bed", "BED", "nothing more goes into this bed; what stands in it stays")
    _code(happened, "--opened-bed", "BED", "this bed may be planted: new in the book, or left alone so far")
    _code(happened, "--failed", "CODE", "this planting failed; code of a row or planting")
    happened.add_argument(
        "--late", action="append", default=[], type=_late, metavar="CODE=WEEKS",
        help="this planting is so many weeks late",
    )  # fmt: skip
    happened.add_argument(
        "--not-delivered", action="append", default=[], type=_until, metavar="NAME[=YYYY-MM-DD]",
        help="seed or plants of this crop, wish or planting did not come, or come on that day",
    )  # fmt: skip
    happened.add_argument(
        "--hours-share", type=float, metavar="SHARE", help="share of the promised hours left, such as 0.5"
    )
    add_paper_options(parser, seed=False)


def run(options: argparse.Namespace) -> int:
    """Make the season again and list what changed."""
    happened = Happened(
        lost_beds=tuple(options.lost_bed),
        closed_beds=tuple(options.closed_bed),
        opened_beds=tuple(options.opened_bed),
        failed=tuple(options.failed),
        late_weeks=dict(options.late),
        not_delivered=dict(options.not_delivered),
        hours_share=options.hours_share,
    )
    with ProgressLine(silent=options.quiet) as progress:
        plan = remake_season(
            options.season,
            options.book,
            options.out,
            happened,
            today=options.today or datetime.now(tz=UTC).astimezone().date(),
            weather_file=options.weather,
            choice=paper_choice(options),
            progress=progress,
        )
    print(changes_text(plan), end="")
    print(f"Revision {plan.revision}. Papers, tables and season.json are in {options.out}.")
    if plan.changes:
        print(f"What changed is drawn in {options.out / 'changes.pdf'}.")
    return 0


def _code(group: argparse._ArgumentGroup, option: str, metavar: str, words: str) -> None:
    group.add_argument(option, action="append", default=[], metavar=metavar, help=words)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"{text!r} is not a day written YYYY-MM-DD") from error


def _late(text: str) -> tuple[str, float]:
    code, _, weeks = text.rpartition("=")
    try:
        return (code, float(weeks)) if code else _no_weeks(text)
    except ValueError:
        return _no_weeks(text)


def _no_weeks(text: str) -> tuple[str, float]:
    raise argparse.ArgumentTypeError(f"{text!r} is not a code and weeks, such as tomato-1=3")


def _until(text: str) -> tuple[str, date | None]:
    name, _, day = text.partition("=")
    return (name, _day(day)) if day else (name, None)
