"""Hours of work, the people who come, and the plans made for them.

Times of day are whole minutes after midnight, local time of the garden.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.model.book import HelpingHands
from bedwright.model.source import Origin

RatePer = Literal["m2", "plant", "row_m", "kg", "tray", "visit", "order"]
Sufficiency = Literal["enough", "may be short", "short"]
"""enough even at the high figure; short between low and high; short even at the low one."""


@dataclass(frozen=True, slots=True)
class Hours:
    """Person-hours as a range; the same work differs widely between gardens."""

    low_h: float
    likely_h: float
    high_h: float

    def __add__(self, other: Hours) -> Hours:
        return Hours(self.low_h + other.low_h, self.likely_h + other.likely_h, self.high_h + other.high_h)


NO_HOURS = Hours(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class LabourRate:
    """Person-minutes one unit of work takes; a range, never a point."""

    name: str
    kind: str
    """Kind of work it belongs to, as in `Task.kind`; also weed, water and raise."""
    per: RatePer
    weekly: bool
    """True: minutes per unit and week, False: per unit, once."""
    low_min: float
    likely_min: float
    high_min: float
    practised: bool
    """True: the rate of practised people, to be multiplied for volunteers."""
    origins: tuple[Origin, ...]
    """One each for low, likely and high."""


@dataclass(frozen=True, slots=True)
class WorkRecord:
    """One line of the coordinator's own log: how long a job really took."""

    rate_name: str
    day: date
    quantity: float
    """In the unit of the rate; for a weekly rate, units times weeks."""
    person_min: float
    """Minutes of all who worked, added up."""


@dataclass(frozen=True, slots=True)
class OwnRate:
    """A rate from own records, used in place of the table's and never multiplied."""

    rate_name: str
    low_min: float
    likely_min: float
    high_min: float
    n_records: int
    """0 for a rate that was stated and not timed."""


@dataclass(frozen=True, slots=True)
class WorkShare:
    """One job of one planting in one week."""

    week: date
    """Monday."""
    kind: str
    bed_code: str | None
    planting_code: str | None
    hours: Hours
    task_code: str | None = None
    """None for weeding, watering and trays, which are no tasks of the plan."""


@dataclass(frozen=True, slots=True)
class WeekHours:
    """Hours the plan needs in one week against those promised."""

    week: date
    """Monday."""
    needed: Hours
    by_bed: tuple[tuple[str | None, Hours], ...]
    """None: work that belongs to no bed, such as trays under cover."""
    by_kind: tuple[tuple[str, Hours], ...]
    promised_h: float
    paid_h: float
    """Of the promised hours, those that are paid."""
    short_h: float
    """What is missing at the likely figure; 0 if nothing is."""
    sufficiency: Sufficiency
    quiet: str = ""
    """Name of a quiet period that falls in this week."""


@dataclass(frozen=True, slots=True)
class SeasonHours:
    """Hours of a whole plan, week by week."""

    weeks: tuple[WeekHours, ...]
    shares: tuple[WorkShare, ...]
    needed: Hours
    promised_h: float
    """In the weeks of `weeks`; promises of other weeks are left out."""
    volunteer_factor: tuple[float, float, float]
    origins: tuple[Origin, ...]

    @property
    def short_weeks(self) -> tuple[WeekHours, ...]:
        """Weeks in which the likely hours exceed those promised."""
        return tuple(week for week in self.weeks if week.short_h > 0)


@dataclass(frozen=True, slots=True)
class Relief:
    """One planting that could be left out to fit the hours promised."""

    planting_code: str
    bed_code: str
    crop: str
    priority: int
    freed_h: float
    """Of the shortage still open when its turn comes, likely figure."""
    freed_h_per_priority: float
    saved_h: float
    """Over the whole season, likely figure."""
    weeks: tuple[date, ...]
    """Mondays of the short weeks it relieves."""
    left_short_h: float
    """Shortage left after this planting and all before it in the list are left out."""
    text: str


@dataclass(frozen=True, slots=True)
class ToolNeed:
    """A tool a job takes: one for each adult, or one for the team."""

    tool: str
    each: bool


@dataclass(frozen=True, slots=True)
class ShedTool:
    """Tools in the shed."""

    tool: str
    count: int


@dataclass(frozen=True, slots=True)
class DueTask:
    """One job that can be done on a workday, with what it asks of people."""

    code: str
    kind: str
    title: str
    details: str
    bed_code: str | None
    needed: Hours
    person_min: int
    """Likely person-minutes, at least 5."""
    last_day: date
    """Last day it should be done."""
    weight: int
    """Urgency times priority: what one minute of it is worth beside another's."""
    after: tuple[str, ...] = ()
    """Codes of due jobs that must be finished first."""
    min_people: int = 1
    """Adults a team needs at least."""
    max_people: int = 4
    """Adults who can work on it side by side."""
    tools: tuple[ToolNeed, ...] = ()
    demonstration_min: int = 0
    """Minutes in which it is shown to a newcomer; 0: needs no showing."""
    sitting: bool = False
    """Can be done sitting."""
    lifting: bool = False
    shade: bool = False
    under_cover: bool = False
    """Can be done while it rains."""
    child: bool = False
    """A child beside an adult can help."""
    wash_hands_first: bool = False
    cautions: tuple[str, ...] = ()
    """Keys of `WorkCaution`."""
    parts: tuple[str, ...] = ()
    """Codes of the small jobs a round is made of; empty for a single job."""


@dataclass(frozen=True, slots=True)
class Helper:
    """One person who signed up for a workday."""

    name: str
    arrives_min: int
    leaves_min: int
    sitting_only: bool = False
    no_lifting: bool = False
    shade_only: bool = False
    first_time: bool = False
    child: bool = False
    with_adult: str = ""
    """Name of the adult a child stays beside."""
    team: str = ""
    """Name of the team that stays together; empty for none."""


@dataclass(frozen=True, slots=True)
class Roster:
    """The people file: who comes to one workday, and what is in the shed."""

    day: date
    start_min: int
    end_min: int
    leader: str
    """Who shows jobs and answers for the day."""
    helpers: tuple[Helper, ...]
    tools: tuple[ShedTool, ...]
    promises: tuple[HelpingHands, ...] = ()
    """Hours promised beyond the day, by those who stated any."""


@dataclass(frozen=True, slots=True)
class DayWeather:
    """What is expected of the weather on the day; None where nothing is known."""

    wet: bool = False
    hottest_c: float | None = None
    heat_index_c: float | None = None


@dataclass(frozen=True, slots=True)
class WorkBlock:
    """A stretch of work between breaks."""

    ordinal: int
    """Counted from 1."""
    start_min: int
    end_min: int


@dataclass(frozen=True, slots=True)
class TeamTask:
    """Who does what in one block."""

    block: int
    task_code: str
    helpers: tuple[str, ...]
    children: tuple[str, ...]
    person_min: int
    """Minutes of adults' work, showing taken off."""
    shown_by: str
    """Who shows it to the newcomers; empty if there are none."""


@dataclass(frozen=True, slots=True)
class TaskOutcome:
    """How far one job gets."""

    task_code: str
    needed_min: int
    planned_min: int
    finished: bool


@dataclass(frozen=True, slots=True)
class NotToday:
    """A job that is left, and why."""

    task_code: str
    reason: str


@dataclass(frozen=True, slots=True)
class SpareHelper:
    """A person with nothing to do in a block, and why."""

    block: int
    helper: str
    reason: str


@dataclass(frozen=True, slots=True)
class WorkCaution:
    """A caution for people at work, with its source."""

    key: str
    text: str
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Workday:
    """The plan of one workday."""

    day: date
    start_min: int
    end_min: int
    leader: str
    blocks: tuple[WorkBlock, ...]
    teams: tuple[TeamTask, ...]
    """By block, then in the order a person would walk past them."""
    outcomes: tuple[TaskOutcome, ...]
    not_today: tuple[NotToday, ...]
    spare: tuple[SpareHelper, ...]
    wet_list: tuple[str, ...]
    """What to do if it rains: due jobs under cover first, then jobs that are always there."""
    cautions: tuple[WorkCaution, ...]
    notes: tuple[str, ...]
    method: Literal["search", "greedy"]
    value: int
    value_bound: int
    """No plan for these people and jobs can be worth more."""
    origins: tuple[Origin, ...]

    def spare_by_reason(self, block: int) -> dict[str, tuple[str, ...]]:
        """People with nothing to do in a block, by the reason for it."""
        names: dict[str, list[str]] = {}
        for one in self.spare:
            if one.block == block:
                names.setdefault(one.reason, []).append(one.helper)
        return {reason: tuple(helpers) for reason, helpers in names.items()}


@dataclass(frozen=True, slots=True)
class WorkdayFault:
    """A rule that a workday plan breaks, found by the independent check."""

    rule: str
    text: str


@dataclass(frozen=True, slots=True)
class WeekJob:
    """One job of a week, with the minutes that fall into it."""

    task_code: str
    kind: str
    title: str
    details: str
    start: date
    end: date
    minutes: tuple[float, float, float]
    """Person-minutes low, likely, high."""
    goes_on: bool
    """True if it began before the week."""


@dataclass(frozen=True, slots=True)
class WeekStop:
    """One bed on the walk round the garden."""

    bed_code: str | None
    """None: under cover or at the desk, before the walk begins."""
    walk_m: float
    """From the stop before, as the crow flies."""
    jobs: tuple[WeekJob, ...]
    likely_min: float


@dataclass(frozen=True, slots=True)
class WeekList:
    """Everything due in one week, in the order a person would walk it."""

    week: date
    starts_at: str
    """Shed, tap or first bed, in words."""
    stops: tuple[WeekStop, ...]
    walk_m: float
    """There and back."""
    needed: Hours
    origins: tuple[Origin, ...]
