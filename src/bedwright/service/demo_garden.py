"""The packaged example: an invented garden on an invented weather record."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from importlib.resources import as_file, files
from pathlib import Path

DEMO_TODAY = date(2026, 12, 1)
"""The day on which the example is planned: fixed, so that it comes out the same for everyone."""


@contextmanager
def demo_book() -> Iterator[Path]:
    """Path of the packaged garden book, with its weather record beside it."""
    with as_file(files("bedwright.service") / "demo") as folder:
        yield folder / "garden-book.yaml"
