"""Ctrl-C while places are sought: the best plan so far instead of none."""

from __future__ import annotations

import signal
import sys
import threading
from types import FrameType, TracebackType
from typing import Any, Self

from bedwright.model.progress import Progress, Stage

SEARCHING: Stage = "places"
HEARD = "\nStopping: the best plan so far is finished and written. Ctrl-C again leaves without a plan.\n"


class StopKey:
    """Hears Ctrl-C while in use.

    While places are sought it ends the search, and the plan found until then is finished.
    Pressed at any other time, or again, it ends the command as it always does.
    """

    def __init__(self) -> None:
        self.asked = False
        self._stage = ""
        self._before: Any = None

    def __enter__(self) -> Self:
        # Only the main thread may say what a signal does; elsewhere Ctrl-C stays as it is.
        if threading.current_thread() is threading.main_thread():
            self._before = signal.signal(signal.SIGINT, self._pressed)
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._before is not None:
            signal.signal(signal.SIGINT, self._before)

    def __call__(self) -> bool:
        """True once the search is to end."""
        return self.asked

    def hear(self, progress: Progress) -> None:
        """Take note of what is being worked on."""
        self._stage = progress.stage

    def _pressed(self, _number: int, _frame: FrameType | None) -> None:
        if self.asked or self._stage != SEARCHING:
            raise KeyboardInterrupt
        self.asked = True
        sys.stderr.write(HEARD)
        sys.stderr.flush()
