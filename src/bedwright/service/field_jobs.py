"""Jobs as people in the garden need them: what is due, in walking order, with its cautions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.engine.work import SOURCES, season_hours, week_list
from bedwright.engine.work.traits import CAUTIONS, TRAITS
from bedwright.engine.work.walk import bed_middle_m, short_tour, start_of
from bedwright.model.book import GardenBook
from bedwright.model.crop import Crop
from bedwright.model.log import LoggedSeason, TaskState
from bedwright.model.safety import CautionKind
from bedwright.model.season import Planting, SeasonPlan
from bedwright.model.work import SeasonHours, WeekJob
from bedwright.papers.cautions import BROAD_BEAN, POISONOUS, UTILITIES

LEFT_SHOWN_DAYS = 21
"""A job that nobody ticked stays on the list this long after its last day."""
DESK_KINDS = frozenset({"order"})
"""Not done in the garden."""
_DIGGING = frozenset({"prepare", "support"})
_CARE = frozenset({"weed", "water", "raise"})
_EVERY_DAY = frozenset({"pick", "harden off", "cover", "raise", "water", "weed"})
_SAFETY_OF_JOB: Mapping[str, frozenset[CautionKind]] = {
    "prepare": frozenset({"raw manure", "herbicide residue"}),
    "water": frozenset({"roof water"}),
    "mulch": frozenset({"herbicide residue"}),
    "pick": frozenset({"raw manure", "roof water"}),
}
"""Cautions of the safety sheet that belong to a job; those on lead belong to every job in a bed."""


@dataclass(frozen=True, slots=True)
class JobCaution:
    """One caution with its source."""

    text: str
    source: str


@dataclass(frozen=True, slots=True)
class FieldJob:
    """One job on the list."""

    code: str
    kind: str
    details: str
    start: date
    end: date
    bed_code: str | None
    planting_code: str | None
    state: TaskState
    moved_days: int
    done_on: date | None
    quantity: float | None
    likely_min: float | None
    """Person-minutes of the week that falls into its days; None where not known."""
    tools: tuple[str, ...]
    cautions: tuple[JobCaution, ...]

    @property
    def goes_on(self) -> bool:
        """True where doing it once does not finish it."""
        return self.kind in _EVERY_DAY


def walking_order(book: GardenBook) -> tuple[str, tuple[str, ...]]:
    """Where a walk round the beds starts, in words, and their codes in the order walked."""
    if not book.beds:
        return "", ()
    starts_at, start_m = start_of(book.site.features, book.beds)
    order = short_tour(start_m, [bed_middle_m(bed) for bed in book.beds])
    return starts_at, tuple(book.beds[k].code for k in order)


def field_jobs(
    plan: SeasonPlan, logged: LoggedSeason, first: date, last: date, *, hours: SeasonHours | None = None
) -> tuple[FieldJob, ...]:
    """Jobs in the garden whose days touch a span, and those left over from the weeks before.

    Parameters
    ----------
    plan
        The season plan.
    logged
        The same plan seen through the log.
    first, last
        The span, both days included.
    hours
        Hours of the plan, where they have been worked out already.

    Returns
    -------
    tuple of FieldJob
        By day; where to walk first is told by `walking_order`.
    """
    hours = hours or season_hours(plan)
    plantings = {planting.code: planting for planting in plan.plantings}
    cautions = _Cautions(plan)
    week_jobs = list(_week_jobs(plan, first, last, hours))
    minutes = {code: job.minutes[1] for _bed, code, job in reversed(week_jobs)}
    found = []
    for each in logged.tasks:
        task = each.task
        unfinished = each.state in {"overdue", "partly"} and task.kind not in _EVERY_DAY
        left = unfinished and task.end >= first - timedelta(days=LEFT_SHOWN_DAYS)
        if task.kind in DESK_KINDS or task.start > last or (task.end < first and not left):
            continue
        found.append(
            FieldJob(
                code=task.code,
                kind=task.kind,
                details=task.details,
                start=task.start,
                end=task.end,
                bed_code=task.bed_code,
                planting_code=task.planting_code,
                state=each.state,
                moved_days=each.moved_days,
                done_on=each.done_on,
                quantity=each.quantity,
                likely_min=minutes.get(task.code),
                tools=_tools(task.kind),
                cautions=cautions.of(task.kind, task.bed_code, plantings.get(task.planting_code or "")),
            )
        )
    found += [_care_job(bed, job, cautions) for bed, _code, job in week_jobs if job.kind in _CARE]
    return tuple(sorted(found, key=lambda job: (job.start, job.end, job.code)))


def _week_jobs(
    plan: SeasonPlan, first: date, last: date, hours: SeasonHours
) -> Iterator[tuple[str | None, str, WeekJob]]:
    day = first
    while day <= last:
        week = week_list(plan, day, hours=hours)
        for stop in week.stops:
            for job in stop.jobs:
                yield stop.bed_code, job.task_code, job
        day = week.week + timedelta(days=7)


def _care_job(bed_code: str | None, job: WeekJob, cautions: _Cautions) -> FieldJob:
    return FieldJob(
        code=job.task_code,
        kind=job.kind,
        details=job.details,
        start=job.start,
        end=job.end,
        bed_code=bed_code,
        planting_code=None,
        state="open",
        moved_days=0,
        done_on=None,
        quantity=None,
        likely_min=job.minutes[1],
        tools=_tools(job.kind),
        cautions=cautions.of(job.kind, bed_code, None),
    )


def _tools(kind: str) -> tuple[str, ...]:
    traits = TRAITS.get(kind)
    return tuple(need.tool for need in traits.tools) if traits else ()


class _Cautions:
    """Cautions of a plan, found by job."""

    def __init__(self, plan: SeasonPlan) -> None:
        self._citations = {source_id: source.citation for source_id, source in SOURCES.items()}
        self._citations |= {source_id: source.citation for source_id, source in plan.sources.items()}
        self._safety = plan.care.safety.cautions if plan.care is not None else ()

    def of(self, kind: str, bed_code: str | None, planting: Planting | None) -> tuple[JobCaution, ...]:
        """Cautions of one kind of job on one planting, gravest first."""
        found = [*self._of_place(kind, bed_code, planting)]
        if planting is not None:
            found += _of_crop(planting.crop)
        if kind in _DIGGING:
            found.append(JobCaution(UTILITIES.text, UTILITIES.source))
        traits = TRAITS.get(kind)
        for key in (*(traits.cautions if traits else ()), "hands"):
            caution = CAUTIONS[key]
            found.append(JobCaution(caution.text, self._cited(caution.source_ids)))
        return tuple(dict.fromkeys(found))

    def _of_place(self, kind: str, bed_code: str | None, planting: Planting | None) -> Iterable[JobCaution]:
        """What the season's safety sheet says of this bed or planting, where it touches the job."""
        kinds = _SAFETY_OF_JOB.get(kind, frozenset()) | {"lead"}
        for caution in self._safety:
            here = (
                caution.planting_code == planting.code
                if planting and caution.planting_code
                else (
                    caution.planting_code is None
                    and caution.bed_code is not None
                    and caution.bed_code == bed_code
                )
            )
            if here and caution.kind in kinds:
                yield JobCaution(caution.text, f"{caution.rule}; {self._cited(caution.source_ids)}")

    def _cited(self, source_ids: Iterable[str]) -> str:
        return "; ".join(self._citations.get(source_id, source_id) for source_id in source_ids)


def _of_crop(crop: Crop) -> Iterable[JobCaution]:
    if crop.latin_name.startswith("Vicia faba"):
        yield JobCaution(BROAD_BEAN.text, BROAD_BEAN.source)
    if crop.poisonous_parts:
        yield JobCaution(f"{'; '.join(crop.poisonous_parts)}. {POISONOUS.text}", POISONOUS.source)
