"""`bedwright check`: the problems of a garden book."""

from __future__ import annotations

import argparse
from pathlib import Path

from bedwright.service.load import load


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Book and weather."""
    parser.add_argument("book", type=Path, metavar="BOOK", help="the garden book (YAML)")
    parser.add_argument("--weather", type=Path, metavar="FILE", help="weather record in place of the book's")


def run(options: argparse.Namespace) -> int:
    """Read everything and say that it is good; problems are told by the caller."""
    book = load(options.book, options.weather).book
    print(f"{options.book}: no problems. {len(book.beds)} beds, {len(book.wishes)} wishes.")
    return 0
