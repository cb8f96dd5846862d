"""The `bedwright` command."""

from bedwright.apps.cli.main import main

__all__ = ["main"]
