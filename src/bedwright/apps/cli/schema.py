"""`bedwright schema`: the JSON Schema of the garden book, or of season.json."""

from __future__ import annotations

import argparse
import json

from bedwright.store.book import json_schema
from bedwright.store.season import season_schema


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Which of the two."""
    parser.add_argument("--season", action="store_true", help="of season.json, not of the garden book")


def run(options: argparse.Namespace) -> int:
    """Print it."""
    schema = season_schema() if options.season else json_schema()
    print(json.dumps(schema, indent=2, ensure_ascii=False))
    return 0
