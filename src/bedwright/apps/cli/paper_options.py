"""Options of the commands that write papers."""

from __future__ import annotations

import argparse
from datetime import date
from pathlib import Path

from bedwright.apps.cli.progress import ProgressLine
from bedwright.apps.cli.stopping import StopKey
from bedwright.model.progress import Progress
from bedwright.model.season import SeasonPlan
from bedwright.papers import LABEL_SHEETS, Measures
from bedwright.service.make_season import DEFAULT_SEED, PaperChoice, make_season


def add_paper_options(parser: argparse.ArgumentParser, *, seed: bool = True) -> None:
    """Paper size, units, labels, progress, and the seed where a search begins anew."""
    parser.add_argument("--paper", choices=("a4", "letter"), help="paper size (default: the book's)")
    parser.add_argument("--units", choices=("metric", "us"), help="units on papers (default: the book's)")
    parser.add_argument(
        "--label-sheet",
        choices=sorted(LABEL_SHEETS),
        metavar="NAME",
        help=f"label sheet, one of: {'; '.join(sorted(LABEL_SHEETS))}",
    )
    parser.add_argument(
        "--every-row", action="store_true", help="a peg label for every row, not one a planting"
    )
    parser.add_argument(
        "--label", action="append", default=[], metavar="CODE", help="print only this label; repeatable"
    )
    if seed:
        parser.add_argument(
            "--seed", type=int, default=DEFAULT_SEED, help="seed of the search (default: %(default)s)"
        )
    parser.add_argument("--quiet", action="store_true", help="no progress")


def paper_choice(options: argparse.Namespace) -> PaperChoice:
    """How the papers are to look, from the options."""
    return PaperChoice(
        options.paper, options.units, options.label_sheet, options.every_row, tuple(options.label)
    )


def make(
    options: argparse.Namespace, book: Path, today: date, *, resume: bool = False, after: Path | None = None
) -> int:
    """Plan, write and say what came out; Ctrl-C while places are sought takes the best plan so far."""
    with ProgressLine(silent=options.quiet) as line, StopKey() as stop:

        def progress(told: Progress) -> None:
            stop.hear(told)
            line(told)

        plan = make_season(
            book,
            options.out,
            today=today,
            seed=options.seed,
            weather_file=options.weather,
            choice=paper_choice(options),
            progress=progress,
            stop=stop,
            resume=resume,
            after=after,
        )
    _print_summary(plan, options.out, Measures(options.units or plan.book.site.units))
    return 0


def _print_summary(plan: SeasonPlan, folder: Path, measures: Measures) -> None:
    n_plants = sum(planting.n_plants for planting in plan.plantings)
    print(
        f"{len(plan.plantings)} plantings, {n_plants} plants in {len(plan.book.beds)} beds. "
        f"Revision {plan.revision}."
    )
    for short in plan.shortfalls:
        print(
            f"  short: {short.planting_code}: {short.placed_plants} of {short.wanted_plants} plants. "
            f"{measures.alone(short.why)}"
        )
    for warning in plan.warnings:
        print(f"  note: {measures.alone(warning)}")
    print(f"Papers, tables and season.json are in {folder}; open {folder / 'planting-plan.pdf'} first.")
