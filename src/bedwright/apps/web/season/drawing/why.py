"""Why a block stands where and when it does, what else there was, and why a wish fell short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from bedwright.model.changes import Alternative
from bedwright.model.season import Planting, SeasonPlan, Shortfall
from bedwright.model.source import Origin, Source


@dataclass(frozen=True, slots=True)
class Told:
    """One sentence with its sources."""

    text: str
    sources: tuple[Source, ...]
    cost: float = 0.0
    """Points it takes from the plan; 0 for what adds or is plain."""


@dataclass(frozen=True, slots=True)
class Number:
    """One number with where it comes from."""

    origin: Origin
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class Why:
    """Everything the panel tells of one planting."""

    planting: Planting
    reasons: tuple[Told, ...]
    numbers: tuple[Number, ...]
    chance_pct: int | None
    failures: tuple[tuple[str, int], ...]
    ground_frost_pct: int | None
    other_bed: Alternative | None
    other_date: Alternative | None


def why_of(plan: SeasonPlan, planting: Planting) -> Why:
    """The reasons of a planting with their sources."""
    dates = planting.dates
    others = {each.kind: each for each in planting.alternatives}
    return Why(
        planting=planting,
        reasons=tuple(
            Told(each.text, tuple(_named(plan, each.source_ids)), max(0.0, -each.gain))
            for each in planting.reasons
        ),
        numbers=tuple(Number(each, tuple(_named(plan, each.source_ids))) for each in planting.origins),
        chance_pct=None if dates.chance is None else round(dates.chance * 100),
        failures=tuple((cause, round(share * 100)) for cause, share in dates.failures),
        ground_frost_pct=None if dates.ground_frost_share is None else round(dates.ground_frost_share * 100),
        other_bed=others.get("another bed"),
        other_date=others.get("another date"),
    )


def planting_of(plan: SeasonPlan, code: str) -> Planting | None:
    """The planting of a code."""
    return next((each for each in plan.plantings if each.code == code), None)


def shortfalls_of(plan: SeasonPlan, wish_code: str) -> tuple[Shortfall, ...]:
    """What of a wish found no place."""
    return tuple(each for each in plan.shortfalls if wish_code in (each.wish_code, each.planting_code))


def _named(plan: SeasonPlan, ids: Iterable[str]) -> Iterator[Source]:
    for key in ids:
        if key in plan.sources:
            yield plan.sources[key]
