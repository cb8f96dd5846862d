"""The app's name and place."""

from __future__ import annotations

from django.apps import AppConfig


class LogConfig(AppConfig):
    """The log: what was done in the garden, by whom and when."""

    name = "bedwright.apps.web.log"
    label = "log"

    def ready(self) -> None:
        """Delete photographs with the lines they belong to."""
        from bedwright.apps.web.log.photos import watch_deletions  # noqa: PLC0415 - models must be there

        watch_deletions()
