"""Two plans of one garden beside each other, in words."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.engine.placement.changes import changes_between
from bedwright.model.changes import Change
from bedwright.model.season import SeasonPlan, Shortfall


@dataclass(frozen=True, slots=True)
class Differences:
    """What a newer plan does differently."""

    changes: tuple[Change, ...]
    n_same: int
    """Plantings that are as they were."""
    met_now: tuple[str, ...]
    """One sentence for each wish that fell short before and does not now."""
    short_now: tuple[str, ...]
    """One sentence for each wish that falls shorter than before."""
    points: float | None
    """What the newer plan is worth more (less); None where either is not reckoned."""


def compare(old: SeasonPlan, new: SeasonPlan) -> Differences:
    """The differences from an older plan to a newer one.

    Parameters
    ----------
    old, new
        Plans of one garden; the same code names the same planting in both.
    """
    changes = changes_between(old.plantings, new.plantings)
    changed = {one.planting_code for one in changes}
    before = {short.planting_code: short for short in old.shortfalls}
    after = {short.planting_code: short for short in new.shortfalls}
    reckoned = old.value is not None and new.value is not None
    return Differences(
        changes=changes,
        n_same=sum(one.code not in changed for one in new.plantings),
        met_now=tuple(_met(short) for code, short in before.items() if code not in after),
        short_now=tuple(
            _short(short)
            for code, short in after.items()
            if code not in before or short.placed_plants < before[code].placed_plants
        ),
        points=round((new.value or 0.0) - (old.value or 0.0), 2) if reckoned else None,
    )


def differences_text(found: Differences) -> str:
    """The differences as lines to print."""
    lines = [f"  {one.text} {one.why}".rstrip() for one in found.changes]
    lines += [f"  {sentence}" for sentence in (*found.met_now, *found.short_now)]
    if not lines:
        return "Nothing is different.\n"
    n = len(found.changes)
    head = f"{n} planting{' differs' if n == 1 else 's differ'}, {found.n_same} stay as they were:"
    return "\n".join((head, *lines)) + "\n"


def _met(short: Shortfall) -> str:
    return f"{short.crop.capitalize()} ({short.planting_code}) is now placed in full."


def _short(short: Shortfall) -> str:
    return (
        f"{short.crop.capitalize()} ({short.planting_code}) is short: {short.placed_plants} of "
        f"{short.wanted_plants} plants. {short.why}"
    )
