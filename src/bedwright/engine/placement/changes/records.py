"""From spots back to plantings, with codes and pegs kept where nothing changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.changes.alternatives import key_of
from bedwright.engine.placement.changes.situation import request_of
from bedwright.engine.placement.numbering import number_rows
from bedwright.engine.placement.plan import PATCH_LETTERS, plantings_of
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.model.season import Planting


def plantings_again(
    problem: PlacementProblem, spots: Sequence[Spot], before: Sequence[Planting]
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
    """
    standing = {one.code for one in problem.standing}
    made = plantings_of(problem, spots)
    same = {key_of(one): one for one in before if one.code not in standing}
    found = {n: same.get(key_of(one)) for n, one in enumerate(made) if one.code not in standing}
    kept = {n: one for n, one in found.items() if one is not None and one.n_plants == made[n].n_plants}
    codes = _codes(made, kept, standing, before)
    coded = [
        one
        if one.code in standing
        else replace(one, code=codes[n], rows=kept[n].rows if n in kept else one.rows)
        for n, one in enumerate(made)
    ]
    return number_rows(coded, _row_codes(coded, before, standing))


def _codes(
    made: Sequence[Planting],
    kept: Mapping[int, Planting],
    standing: set[str],
    before: Sequence[Planting],
) -> dict[int, str]:
    """Codes of new blocks: those of the changed ones of the same request first, then fresh ones."""
    codes = {number: one.code for number, one in kept.items()}
    taken = {*standing, *codes.values()}
    for number, planting in enumerate(made):
        if planting.code in standing or number in codes:
            continue
        request = request_of(planting)
        old = [one.code for one in before if request_of(one) == request]
        letters = [f"{request}-{letter}" for letter in PATCH_LETTERS]
        code = next(one for one in (*old, request, *letters) if one not in taken)
        codes[number] = code
        taken.add(code)
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
