"""How busy a machine was while something was measured, and who kept it so; Linux tells, others do not."""

from __future__ import annotations

import os
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from time import monotonic

_PROC = Path("/proc")
_PARENT, _TIMES = 1, slice(11, 15)
"""Fields of `/proc/<pid>/stat` after the name: the parent; own and ended children's ticks (proc(5))."""


@dataclass(frozen=True)
class Reading:
    """Processor time since some moment [s]: of all programs, and of some processes with their children."""

    at_s: float
    all_s: float
    own_s: float


def read(processes: Iterable[int]) -> Reading | None:
    """Processor time used by now; None where the system does not tell."""
    if not (_PROC / "stat").exists():
        return None
    tick_s = 1 / os.sysconf("SC_CLK_TCK")
    total = [int(word) for word in (_PROC / "stat").read_text().splitlines()[0].split()[1:]]
    # Fields 4 and 5 are idle and waiting for a disk; those after 8 are counted in the first two.
    busy = sum(total[:3]) + sum(total[5:8])
    parents: dict[int, int] = {}
    ticks: dict[int, int] = {}
    for folder in _PROC.glob("[0-9]*"):
        with suppress(OSError):
            fields = (folder / "stat").read_text().rpartition(") ")[2].split()
            parents[int(folder.name)] = int(fields[_PARENT])
            ticks[int(folder.name)] = sum(int(word) for word in fields[_TIMES])
    roots = set(processes)
    own = sum(n for process, n in ticks.items() if _is_below(process, roots, parents))
    return Reading(monotonic(), busy * tick_s, own * tick_s)


def _is_below(process: int, roots: set[int], parents: dict[int, int]) -> bool:
    while process not in roots:
        if process not in parents:
            return False
        process = parents[process]
    return True


def told(before: Reading | None, after: Reading | None) -> str:
    """What was used of the processors between two readings, in words."""
    if before is None or after is None:
        return "what other programs used is not known here"
    lasted_s = after.at_s - before.at_s
    own = (after.own_s - before.own_s) / lasted_s
    others = max(0.0, (after.all_s - before.all_s) / lasted_s - own)
    return (
        f"of {os.cpu_count()} processors server, worker and load used {own:.2f}, other programs {others:.2f}"
    )
