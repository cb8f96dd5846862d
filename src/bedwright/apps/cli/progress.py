"""Progress on one line of a terminal, or a line a stage where there is none."""

from __future__ import annotations

import sys
from types import TracebackType
from typing import Self

from bedwright.model.progress import Progress


class ProgressLine:
    """Writes progress to standard error while in use."""

    def __init__(self, *, silent: bool) -> None:
        self._silent = silent
        self._live = sys.stderr.isatty()
        self._stage = ""

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._live and not self._silent:
            sys.stderr.write("\r\033[K")

    def __call__(self, progress: Progress) -> None:
        """Show what is being worked on."""
        if self._silent:
            return
        if self._live:
            sys.stderr.write(f"\r\033[K{progress.stage}: {progress.text}"[:100])
        elif progress.stage != self._stage:
            sys.stderr.write(f"{progress.stage}: {progress.text}\n")
        self._stage = progress.stage
        sys.stderr.flush()
