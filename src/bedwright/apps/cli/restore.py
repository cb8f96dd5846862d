"""`bedwright restore`: a file that `bedwright backup` wrote, put in place."""

from __future__ import annotations

import argparse
from pathlib import Path

from bedwright.apps.cli.data_folder import add_data_folder, application


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The file, and where the data is."""
    parser.add_argument("file", type=Path, metavar="FILE", help="a file that backup wrote")
    add_data_folder(parser)
    parser.add_argument("--replace", action="store_true", help="move gardens that are there aside")


def run(options: argparse.Namespace) -> int:
    """Put the file in place; the application must not be running."""
    with application(options):
        from bedwright.apps.web.project.backup import restore  # noqa: PLC0415 - reads the settings

        beside = restore(options.file, replace=options.replace)
    print(f"{options.file} is in place." + (f" What was there is in {beside}." if beside else ""))
    return 0
