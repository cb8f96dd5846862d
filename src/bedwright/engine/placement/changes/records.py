"""From spots back to plantings, with codes and pegs kept where nothing changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.changes.alternatives import Key, key_of, key_of_spot
from bedwright.engine.placement.changes.situation import request_of
from bedwright.engine.placement.numbering import number_rows
from bedwright.engine.placement.plan import PATCH_LETTERS, plantings_of
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.model.season import Planting


def plantings_again(
    problem: PlacementProblem,
    spots: Sequence[Spot],
    before: Sequence[Planting],
    *,
    only_changed: bool = False,
) -> tuple[Planting, ...]:
    """Plantings of a changed plan.

    Parameters
    ----------
    problem
        The question, with what stands.
    spots
        The changed plan.
    before
        Plantings of the earlier plan. One with the same ground and day keeps code and rows; a
        changed one keeps its code, and its rows get new ones unless they stand where they were.
    only_changed
        Others keep their records, and changed ones come without reasons: for a look at a change
        that may not be kept.
    """
    standing = {one.code for one in problem.standing}
    same = {key_of(one): one for one in before if one.code not in standing}
    by_key = {key_of_spot(problem, spot): spot for spot in spots}
    kept = {key: old for key, old in same.items() if key in by_key and by_key[key].n_plants == old.n_plants}
    sought = [spot for key, spot in by_key.items() if not only_changed or key not in kept]
    made = list(plantings_of(problem, sought, with_reasons=not only_changed))
    if only_changed:
        made += list(kept.values())
    codes = _codes(made, kept, standing, before)
    coded = []
    for one in made:
        old = None if one.code in standing else kept.get(key_of(one))
        coded.append(replace(one, code=codes[key_of(one)], rows=one.rows if old is None else old.rows))
    beds = {facts.bed.code: number for number, facts in enumerate(problem.beds)}
    coded.sort(key=lambda p: (beds[p.bed_code], p.dates.in_ground, p.along_m, p.across_m, p.code))
    return number_rows(coded, _row_codes(coded, before, standing))


def _codes(
    made: Sequence[Planting],
    kept: Mapping[Key, Planting],
    standing: set[str],
    before: Sequence[Planting],
) -> dict[Key, str]:
    """Codes of blocks: of new ones those of the changed ones of the same request first, then fresh ones."""
    codes = {key: one.code for key, one in kept.items()}
    taken = {*standing, *codes.values()}
    for planting in made:
        key = key_of(planting)
        if planting.code in standing:
            codes[key] = planting.code
        elif key not in codes:
            request = request_of(planting)
            old = [one.code for one in before if request_of(one) == request]
            letters = [f"{request}-{letter}" for letter in PATCH_LETTERS]
            codes[key] = next(one for one in (*old, request, *letters) if one not in taken)
            taken.add(codes[key])
    return codes


def _row_codes(
    made: Sequence[Planting], before: Sequence[Planting], standing: set[str]
) -> dict[str, tuple[str, ...]]:
    """Row codes on the pegs by planting; those of gone or moved plantings are never given again."""
    now = {one.code: one for one in made}
    kept: dict[str, tuple[str, ...]] = {}
    for old in before:
        new = now.get(old.code)
        codes = tuple(row.code for row in old.rows)
        stays = new is not None and (old.code in standing or _same_rows(old, new))
        kept[old.code if stays else f"{old.code} as it was"] = codes
    for one in made:
        if one.code in standing:
            kept[one.code] = tuple(row.code for row in one.rows)
    return kept


def _same_rows(old: Planting, new: Planting) -> bool:
    """True if the rows run where they ran, so that their pegs are right."""
    return (old.bed_code, old.direction, [(row.start_m, row.end_m) for row in old.rows]) == (
        new.bed_code,
        new.direction,
        [(row.start_m, row.end_m) for row in new.rows],
    )
