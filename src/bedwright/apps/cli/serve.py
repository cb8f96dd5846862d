"""`bedwright serve`: the web application."""

from __future__ import annotations

import argparse

from bedwright.apps.cli.data_folder import add_data_folder, application


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Where to listen and where the data is."""
    add_data_folder(parser)
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on (default: %(default)s)")
    parser.add_argument("--port", type=int, default=8000, help="port (default: %(default)s)")
    parser.add_argument("--no-worker", action="store_true", help="without the process that makes plans")


def run(options: argparse.Namespace) -> int:
    """Answer requests until stopped."""
    with application(options):
        from bedwright.apps.web.project.serving import serve  # noqa: PLC0415 - reads the settings

        return serve(options.host, options.port, with_worker=not options.no_worker)
