"""The difference between two plans, planting by planting, in words."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from bedwright.engine.placement.words import counted, plain_day
from bedwright.model.changes import Change, ChangeKind, Place
from bedwright.model.season import Planting

_KIND_WORDS: Mapping[ChangeKind, str] = {
    "added": "new",
    "put back": "put back",
    "moved": "moved",
    "lengthened": "more of it",
    "shortened": "less of it",
    "later": "picked and cleared later",
    "dropped": "left out",
}


def changes_between(
    old: Sequence[Planting],
    new: Sequence[Planting],
    *,
    gone: Collection[str] = (),
    why: Mapping[str, str] | None = None,
) -> tuple[Change, ...]:
    """Plantings of two plans that differ, in order of their codes in the older and then the newer.

    Parameters
    ----------
    old, new
        Plantings of the two plans; codes name the same planting in both.
    gone
        Codes of those that stood and were lost: what comes in their place is put back.
    why
        Planting code to a sentence on what brought it about.

    Returns
    -------
    tuple of Change
        Empty where nothing differs in place, dates or plants.
    """
    reasons = why or {}
    before = {one.code: one for one in old}
    after = {one.code: one for one in new}
    found = []
    for code in (*before, *(code for code in after if code not in before)):
        was, now = before.get(code), after.get(code)
        kind = _kind(was, now, gone)
        if kind is not None:
            one = now or was
            assert one is not None  # noqa: S101 - a code is in one of the plans
            text = _sentence(one, kind, was, now)
            found.append(
                Change(
                    kind,
                    code,
                    one.crop.name,
                    None if was is None else place_of(was),
                    None if now is None else place_of(now),
                    text,
                    reasons.get(code, ""),
                )
            )
    return tuple(found)


def place_of(planting: Planting) -> Place:
    """Ground, time and plants of a planting."""
    return Place(
        planting.bed_code,
        planting.along_m,
        planting.across_m,
        planting.dates.in_ground,
        planting.dates.clear_by,
        planting.n_plants,
        tuple(row.code for row in planting.rows),
    )


def _kind(was: Planting | None, now: Planting | None, gone: Collection[str]) -> ChangeKind | None:
    if was is None or now is None:
        return "dropped" if now is None else "added"
    if was.code in gone:
        return "put back"
    moved = _ground(was) != _ground(now) or was.dates.in_ground != now.dates.in_ground
    if was.n_plants != now.n_plants and (not moved or _same_start(was, now)):
        return "shortened" if now.n_plants < was.n_plants else "lengthened"
    if moved:
        return "moved"
    if now.dates.clear_by > was.dates.clear_by:
        return "later"
    return None if now.dates == was.dates else "moved"


def _ground(planting: Planting) -> tuple[object, ...]:
    return planting.bed_code, planting.along_m, planting.across_m, planting.direction


def _same_start(was: Planting, now: Planting) -> bool:
    """True if only the far end of the ground differs."""
    return (was.bed_code, was.along_m[0], was.across_m, was.dates.in_ground) == (
        now.bed_code,
        now.along_m[0],
        now.across_m,
        now.dates.in_ground,
    )


def _sentence(planting: Planting, kind: ChangeKind, was: Planting | None, now: Planting | None) -> str:
    variety = f" {planting.variety}" if planting.variety else ""
    head = f"{planting.crop.name.capitalize()}{variety} ({planting.code}): {_KIND_WORDS[kind]}"
    if was is None and now is not None:
        return f"{head}, {_where(now)}."
    if was is not None and now is None:
        return f"{head}; it was {_where(was)}."
    if was is None or now is None:
        return f"{head}."
    if kind == "later":
        return (
            f"{head}: first pick about {plain_day(now.dates.first_pick)}, "
            f"not {plain_day(was.dates.first_pick)}; ground free after {plain_day(now.dates.clear_by)}, "
            f"not {plain_day(was.dates.clear_by)}."
        )
    return f"{head}, {_where(now)}; it was {_where(was)}."


def _where(planting: Planting) -> str:
    along = f"{planting.along_m[0]:.2f} to {planting.along_m[1]:.2f} m along"
    across = f"{planting.across_m[0]:.2f} to {planting.across_m[1]:.2f} m across"
    verb = "sown" if planting.way == "sow" else "set out"
    return (
        f"{counted(planting.n_plants, 'plant')} in bed {planting.bed_code}, {along}, {across}, "
        f"{verb} {plain_day(planting.dates.in_ground)}"
    )
