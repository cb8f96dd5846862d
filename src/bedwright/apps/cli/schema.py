"""`bedwright schema`: the garden book's JSON Schema."""

from __future__ import annotations

import argparse
import json

from bedwright.store.book import json_schema


def add_arguments(_: argparse.ArgumentParser) -> None:
    """None."""


def run(_: argparse.Namespace) -> int:
    """Print it."""
    print(json.dumps(json_schema(), indent=2, ensure_ascii=False))
    return 0
