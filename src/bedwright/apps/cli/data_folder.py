"""The option that all commands of the web application share: where its data folder is."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bedwright.model.problem import BadDocumentError, Problem


def add_data_folder(parser: argparse.ArgumentParser) -> None:
    """Add the option."""
    parser.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        help="the data folder (default: BEDWRIGHT_DATA, else ./bedwright-data)",
    )


@contextmanager
def application(options: argparse.Namespace) -> Iterator[None]:
    """Tell the application's settings where the folder is, before anything reads them.

    Raises
    ------
    BadDocumentError
        In place of an error of the operating system within the block: a file that cannot be
        written, a port that is taken.
    """
    if options.data is not None:
        os.environ["BEDWRIGHT_DATA"] = str(options.data)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bedwright.apps.web.project.settings")
    try:
        yield
    except OSError as error:
        place = str(error.filename or os.environ.get("BEDWRIGHT_DATA") or "bedwright-data")
        got = error.strerror or str(error)
        expected = "a place that can be written to, and a port that is free"
        problem = Problem(place, None, None, "web application", got, expected)
        raise BadDocumentError((problem,)) from error
