"""`bedwright backup`: all gardens of the web application in one file."""

from __future__ import annotations

import argparse
from pathlib import Path

from bedwright.apps.cli.data_folder import add_data_folder, application


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The file, and where the data is."""
    parser.add_argument("file", type=Path, metavar="FILE", help="the file to write (.zip)")
    add_data_folder(parser)


def run(options: argparse.Namespace) -> int:
    """Write the file; the application may be in use meanwhile."""
    with application(options):
        from bedwright.apps.web.project.backup import backup  # noqa: PLC0415 - reads the settings

        n = backup(options.file)
    print(f"{options.file}: {n} garden{'' if n == 1 else 's'}. Keep it where only you can read it.")
    return 0
