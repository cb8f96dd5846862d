"""The option that all commands of the web application share: where its data folder is."""

from __future__ import annotations

import argparse
import os
from pathlib import Path


def add_data_folder(parser: argparse.ArgumentParser) -> None:
    """Add the option."""
    parser.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        help="the data folder (default: BEDWRIGHT_DATA, else ./bedwright-data)",
    )


def settle(options: argparse.Namespace) -> None:
    """Tell the application's settings where the folder is, before anything reads them."""
    if options.data is not None:
        os.environ["BEDWRIGHT_DATA"] = str(options.data)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bedwright.apps.web.project.settings")
