"""`bedwright workday`: who does what on a workday, and again when some do not come."""

from __future__ import annotations

import argparse
import sys
from difflib import get_close_matches
from pathlib import Path

from bedwright.apps.cli.amounts import problem_of, temperature_c
from bedwright.apps.cli.season_options import add_season_options, asked_day, at_hand
from bedwright.model.problem import BadDocumentError
from bedwright.model.work import DayWeather
from bedwright.service.workday import pack_of, write_pack
from bedwright.service.workday_text import workday_text
from bedwright.store.people import read_people

UNKNOWN = 1


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Book or season, people, who is missing, weather, folder."""
    add_season_options(parser, book_needed=False)
    parser.add_argument(
        "--people",
        type=Path,
        required=True,
        metavar="FILE",
        help="who comes, and the tools in the shed (YAML)",
    )
    parser.add_argument(
        "--absent",
        action="append",
        default=[],
        metavar="NAME",
        help="plan again without this person; repeatable",
    )
    parser.add_argument("--wet", action="store_true", help="it rains: only what can be done under cover")
    parser.add_argument(
        "--hottest",
        type=temperature_c,
        metavar="TEMP",
        help="highest temperature forecast, in °C or such as 91F",
    )
    parser.add_argument(
        "--heat-index", type=temperature_c, metavar="TEMP", help="heat index forecast, in °C or such as 91F"
    )
    parser.add_argument("--out", type=Path, metavar="DIR", help="folder for workday.pdf, the whole pack")
    parser.set_defaults(parser=parser)


def run(options: argparse.Namespace) -> int:
    """Print the board list and perhaps write the pack."""
    if options.book is None and options.season is None:
        options.parser.error("give a garden book, or a season with --season DIR")
    weather = _weather(options)
    today = asked_day(options)
    roster = read_people(options.people, today=today)
    names = [helper.name for helper in roster.helpers]
    unknown = [name for name in options.absent if name not in names]
    if unknown:
        for name in unknown:
            near = get_close_matches(name, names, n=3)
            hint = f" Nearest: {', '.join(near)}." if near else ""
            print(f"{name} is not in {options.people}.{hint}", file=sys.stderr)
        return UNKNOWN
    found = at_hand(options, today)
    plan = found.plan
    pack = pack_of(plan, roster, absent=frozenset(options.absent), weather=weather)
    print(workday_text(plan, pack), end="")
    if options.out is not None:
        paper = options.paper or plan.book.site.paper
        write_pack(plan, pack, options.out, paper, options.units or plan.book.site.units)
        print(f"\nThe pack is {options.out / 'workday.pdf'}.")
    for note in found.notes:
        print(note, file=sys.stderr)
    return 0


def _weather(options: argparse.Namespace) -> DayWeather:
    given = (("--hottest", options.hottest), ("--heat-index", options.heat_index))
    expected = "-60 to 70 °C, such as 33C or 91F"
    found = (problem_of(name, typed, -60, 70, expected) for name, typed in given)
    problems = tuple(problem for problem in found if problem is not None)
    if problems:
        raise BadDocumentError(problems)
    hottest_c, heat_index_c = (None if typed is None else typed.value for _, typed in given)
    return DayWeather(options.wet, hottest_c, heat_index_c)
