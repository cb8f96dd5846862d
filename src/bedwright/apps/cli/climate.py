"""`bedwright climate`: frost dates and months of the site."""

from __future__ import annotations

import argparse
from pathlib import Path

from bedwright.engine.climate import climate_of
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.papers import climate_chart
from bedwright.service.climate_report import climate_text, crop_calendar_text
from bedwright.service.load import load


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Book, weather and chart."""
    parser.add_argument("book", type=Path, metavar="BOOK", help="the garden book (YAML)")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")
    parser.add_argument("--crops", action="store_true", help="also list when each crop can go in")
    parser.add_argument("--chart", type=Path, metavar="FILE", help="also draw a chart (.svg or .png)")


def run(options: argparse.Namespace) -> int:
    """Print the tables, and draw the chart if one is wanted."""
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
    if options.crops:
        print()
        print(crop_calendar_text(loaded), end="")
    if options.chart is not None:
        chart = climate_chart(climate, "svg" if options.chart.suffix == ".svg" else "png")
        options.chart.write_bytes(chart)
        print(f"Chart: {options.chart}")
    return 0
