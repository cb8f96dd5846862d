"""What happened in the garden, line by line, and the season plan seen through it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal, get_args

from bedwright.model.season import DateChoice, Planting, Task

LogKind = Literal[
    "sown under cover", "sown", "set out", "emerged", "thinned", "counted", "failed", "picked", "cleared",
    "watered", "weeded", "rain", "work", "came", "left", "seen",
]  # fmt: skip
LOG_KINDS: tuple[LogKind, ...] = get_args(LogKind)
LogUnit = Literal["", "plants", "kg", "L", "mm", "row m"]
UNITS_OF_KIND: dict[LogKind, tuple[LogUnit, ...]] = {
    "sown under cover": ("plants",),
    "sown": ("plants", "row m"),
    "set out": ("plants",),
    "emerged": ("plants",),
    "thinned": ("plants",),
    "counted": ("plants",),
    "failed": ("plants",),
    "picked": ("kg", "plants"),
    "cleared": ("plants",),
    "watered": ("L", "mm"),
    "weeded": (),
    "rain": ("mm",),
    "work": (),
    "came": (),
    "left": (),
    "seen": (),
}
"""Units an amount of each kind may be in; a line without an amount has unit ""."""
REPEATED_KINDS: frozenset[LogKind] = frozenset(
    {"picked", "watered", "weeded", "rain", "came", "left", "seen", "counted", "failed"}
)
"""Kinds of which several lines for one task are several events, not two reports of one."""


@dataclass(frozen=True, slots=True)
class LogRecord:
    """One line of the log as it was written; never changed, only corrected by a later line."""

    id: str
    """Made by whoever wrote it: the same line is never counted twice."""
    day: date
    """Day on which it happened, in the garden's calendar."""
    kind: LogKind
    at: datetime
    """When it was written, as well as the clocks allow; decides between two corrections."""
    bed_code: str = ""
    row_code: str = ""
    planting_code: str = ""
    crop: str = ""
    task_code: str = ""
    quantity: float | None = None
    unit: LogUnit = ""
    person_min: float | None = None
    """Minutes of all who worked, added up."""
    partly: bool = False
    """True where the job is not finished by it; amounts of such lines add up."""
    corrects: str = ""
    """Id of the line that this one takes the place of."""
    struck: bool = False
    """True where it only takes the corrected line away."""
    note: str = ""
    plan_revision: str = ""
    """Plan whose codes it uses; empty if it was written without one."""


@dataclass(frozen=True, slots=True)
class TickConflict:
    """One job that was reported finished more than once, with different days or amounts."""

    task_code: str
    records: tuple[LogRecord, ...]
    """Earliest day first."""


TaskState = Literal["open", "partly", "done", "overdue", "going on", "dropped"]
"""dropped: the planting it belongs to has failed. going on: picking has begun."""


@dataclass(frozen=True, slots=True)
class TaskLogged:
    """One task of the plan as the log leaves it."""

    task: Task
    """With its days moved by what was done late before it."""
    state: TaskState
    moved_days: int
    """Days by which it lies later than planned."""
    done_on: date | None
    quantity: float | None
    """Sum of the amounts in the log."""
    record_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlantingLogged:
    """One planting as the log leaves it."""

    planting: Planting
    sown_under_cover_on: date | None
    in_ground_on: date | None
    """Sown in place or set out, as logged; None: not yet, or not written down."""
    late_days: int
    """Days later than planned, 0 where in time or not known."""
    emerged_on: date | None
    failed_on: date | None
    """Day on which nothing of it was left."""
    n_plants: int
    """As planned, counted or left over; 0 once it has failed or was cleared."""
    first_picked_on: date | None
    last_picked_on: date | None
    picked_kg: float
    cleared_on: date | None
    dates: DateChoice
    """Planned days, with all that lie after the last thing done moved by `late_days`."""

    @property
    def stands(self) -> bool:
        """True while it is in the ground."""
        return self.in_ground_on is not None and self.failed_on is None and self.cleared_on is None


@dataclass(frozen=True, slots=True)
class Squeeze:
    """Ground that a late planting will not have left when the next one wants it."""

    planting_code: str
    next_code: str
    bed_code: str
    overlap_days: int


@dataclass(frozen=True, slots=True)
class CropHarvest:
    """Everything picked of one crop."""

    crop: str
    picked_kg: float
    n_picks: int
    first_on: date
    last_on: date


@dataclass(frozen=True, slots=True)
class LogTotals:
    """Sums of a log."""

    harvest: tuple[CropHarvest, ...]
    """By crop."""
    picked_kg: float
    hours_h: float
    """Hours signed in and out, and those written beside other work."""
    rain_mm: float
    watered_l: float


@dataclass(frozen=True, slots=True)
class LoggedSeason:
    """A season plan seen through its log."""

    tasks: tuple[TaskLogged, ...]
    """In the order of their moved days."""
    plantings: tuple[PlantingLogged, ...]
    """In the order of the plan."""
    conflicts: tuple[TickConflict, ...]
    squeezes: tuple[Squeeze, ...]
    strays: tuple[LogRecord, ...]
    """Standing lines about plantings that this plan does not have."""
    totals: LogTotals
