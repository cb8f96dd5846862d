"""Each command of `bedwright`: its options, and the use case it hands over to."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import UTC, date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.apps.cli.progress import ProgressLine
from bedwright.catalogue import crop_named, crop_sheet, load_catalogue, nearest_crops
from bedwright.engine.climate import climate_of
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.season import SeasonPlan
from bedwright.papers import LABEL_SHEETS, climate_chart
from bedwright.service.climate_report import climate_text
from bedwright.service.demo_garden import DEMO_TODAY, demo_book
from bedwright.service.load import load
from bedwright.service.make_season import DEFAULT_SEED, PaperChoice, make_season, open_season
from bedwright.service.why import known_codes, why
from bedwright.store.book import json_schema

if TYPE_CHECKING:
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001 - argparse names no public type


def add_all(subparsers: Commands) -> None:
    """Add every command to a parser."""
    _add_plan(subparsers)
    _add_demo(subparsers)
    _add_check(subparsers)
    _add_climate(subparsers)
    _add_why(subparsers)
    _add_crop(subparsers)
    _add_schema(subparsers)


def _add_plan(subparsers: Commands) -> None:
    parser = subparsers.add_parser("plan", help="plan a season and write its papers")
    parser.add_argument("book", type=Path, metavar="BOOK", help="the garden book (YAML)")
    parser.add_argument("--out", type=Path, required=True, metavar="DIR", help="folder for the season")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")
    parser.add_argument(
        "--today", type=_day, metavar="YYYY-MM-DD", help="plan as of this day (default: today)"
    )
    _add_paper_options(parser)
    parser.set_defaults(run=_plan)


def _add_demo(subparsers: Commands) -> None:
    parser = subparsers.add_parser("demo", help="plan the packaged example garden")
    parser.add_argument(
        "--out", type=Path, default=Path("demo-season"), metavar="DIR", help="folder for the season"
    )
    parser.add_argument(
        "--weather", type=Path, metavar="FILE", help="weather record in place of the invented one"
    )
    _add_paper_options(parser)
    parser.set_defaults(run=_demo, today=DEMO_TODAY)


def _add_paper_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--paper", choices=("a4", "letter"), help="paper size (default: the book's)")
    parser.add_argument("--units", choices=("metric", "us"), help="units on papers (default: the book's)")
    parser.add_argument(
        "--label-sheet", choices=sorted(LABEL_SHEETS), help="label sheet (default: plain, to cut)"
    )
    parser.add_argument(
        "--every-row", action="store_true", help="a peg label for every row, not one a planting"
    )
    parser.add_argument(
        "--label", action="append", default=[], metavar="CODE", help="print only this label; repeatable"
    )
    parser.add_argument(
        "--seed", type=int, default=DEFAULT_SEED, help="seed of the search (default: %(default)s)"
    )
    parser.add_argument("--quiet", action="store_true", help="no progress")


def _add_check(subparsers: Commands) -> None:
    parser = subparsers.add_parser("check", help="list the problems of a garden book, write nothing")
    parser.add_argument("book", type=Path, metavar="BOOK")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")
    parser.set_defaults(run=_check)


def _add_climate(subparsers: Commands) -> None:
    parser = subparsers.add_parser("climate", help="frost dates, months and soil of the site")
    parser.add_argument("book", type=Path, metavar="BOOK")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")
    parser.add_argument("--chart", type=Path, metavar="FILE", help="also draw a chart (.svg or .png)")
    parser.set_defaults(run=_climate)


def _add_why(subparsers: Commands) -> None:
    parser = subparsers.add_parser("why", help="reasons of one placement and its dates")
    parser.add_argument("code", metavar="CODE", help="row code such as C4, planting, wish or bed")
    parser.add_argument(
        "--season",
        type=Path,
        default=Path("demo-season"),
        metavar="DIR",
        help="folder of the season (default: %(default)s)",
    )
    parser.set_defaults(run=_why)


def _add_crop(subparsers: Commands) -> None:
    parser = subparsers.add_parser("crop", help="all facts of a crop with their sources")
    parser.add_argument("name", nargs="+", metavar="NAME")
    parser.add_argument("--units", choices=("metric", "us"), default="metric")
    parser.set_defaults(run=_crop)


def _add_schema(subparsers: Commands) -> None:
    parser = subparsers.add_parser("schema", help="print the garden book's JSON Schema")
    parser.set_defaults(run=_schema)


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        raise argparse.ArgumentTypeError(f"{text!r} is not a day written YYYY-MM-DD") from error


def _choice(options: argparse.Namespace) -> PaperChoice:
    return PaperChoice(
        options.paper, options.units, options.label_sheet, options.every_row, tuple(options.label)
    )


def _make(options: argparse.Namespace, book: Path) -> int:
    with ProgressLine(silent=options.quiet) as progress:
        plan = make_season(
            book,
            options.out,
            today=options.today or datetime.now(tz=UTC).astimezone().date(),
            seed=options.seed,
            weather_file=options.weather,
            choice=_choice(options),
            progress=progress,
        )
    _print_summary(plan, options.out)
    return 0


def _print_summary(plan: SeasonPlan, folder: Path) -> None:
    n_plants = sum(planting.n_plants for planting in plan.plantings)
    print(
        f"{len(plan.plantings)} plantings, {n_plants} plants in {len(plan.book.beds)} beds. "
        f"Revision {plan.revision}."
    )
    for short in plan.shortfalls:
        print(
            f"  short: {short.planting_code}: {short.placed_plants} of {short.wanted_plants} plants. "
            f"{short.why}"
        )
    for warning in plan.warnings:
        print(f"  note: {warning}")
    print(f"Papers, tables and season.json are in {folder}; open {folder / 'planting-plan.pdf'} first.")


def _plan(options: argparse.Namespace) -> int:
    return _make(options, options.book)


def _demo(options: argparse.Namespace) -> int:
    with demo_book() as book:
        return _make(options, book)


def _check(options: argparse.Namespace) -> int:
    loaded = load(options.book, options.weather)
    book = loaded.book
    print(f"{options.book}: no problems. {len(book.beds)} beds, {len(book.wishes)} wishes.")
    return 0


def _climate(options: argparse.Namespace) -> int:
    if options.chart is not None and options.chart.suffix not in {".svg", ".png"}:
        raise BadDocumentError(
            (
                Problem(
                    str(options.chart),
                    None,
                    None,
                    "--chart",
                    options.chart.suffix or "no ending",
                    ".svg or .png",
                ),
            )
        )
    loaded = load(options.book, options.weather)
    if loaded.record is None:
        print(
            "The book has no weather record: chances are not known. "
            "Its stated frost dates are used as they are."
        )
        return 0
    climate = climate_of(loaded.record, loaded.book.site, loaded.book.season_start)
    print(climate_text(climate), end="")
    if options.chart is not None:
        chart = climate_chart(climate, "svg" if options.chart.suffix == ".svg" else "png")
        options.chart.write_bytes(chart)
        print(f"Chart: {options.chart}")
    return 0


def _why(options: argparse.Namespace) -> int:
    plan = open_season(options.season)
    text = why(plan, options.code)
    if text is None:
        print(f"{options.code} is not in this season. Codes: {', '.join(known_codes(plan))}", file=sys.stderr)
        return 1
    print(text, end="")
    return 0


def _crop(options: argparse.Namespace) -> int:
    catalogue = load_catalogue()
    name = " ".join(options.name)
    crop = crop_named(name, catalogue)
    if crop is None:
        near = ", ".join(nearest_crops(name, catalogue))
        print(f"{name} is not in the catalogue. Nearest: {near or 'nothing near'}.", file=sys.stderr)
        return 1
    print(crop_sheet(crop, catalogue, options.units), end="")
    return 0


def _schema(_: argparse.Namespace) -> int:
    print(json.dumps(json_schema(), indent=2, ensure_ascii=False))
    return 0
