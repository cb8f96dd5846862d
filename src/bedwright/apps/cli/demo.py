"""`bedwright demo`: the packaged example garden."""

from __future__ import annotations

import argparse
from pathlib import Path

from bedwright.apps.cli.paper_options import add_paper_options, make
from bedwright.service.demo_garden import DEMO_TODAY, demo_book


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Folder, weather and papers."""
    parser.add_argument(
        "--out", type=Path, default=Path("demo-season"), metavar="DIR", help="folder (default: %(default)s)"
    )
    parser.add_argument(
        "--weather", type=Path, metavar="FILE", help="weather record in place of the invented one"
    )
    add_paper_options(parser)


def run(options: argparse.Namespace) -> int:
    """Plan the example, as of its own day."""
    with demo_book() as book:
        return make(options, book, DEMO_TODAY)
