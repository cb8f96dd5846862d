"""Row codes: bed code and row number, the same on plan, sheet and peg."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from bedwright.model.season import Planting, Row, row_stem


def number_rows(
    plantings: Sequence[Planting], kept: Mapping[str, tuple[str, ...]] | None = None
) -> tuple[Planting, ...]:
    """Number the rows of each bed from 1 in order of going in, then along, then across.

    Parameters
    ----------
    plantings
        Codes their rows carry already are overwritten.
    kept
        Planting code to the row codes that stand on its pegs already. Those plantings keep
        them, in order; no kept number is given to another row, even if its planting is gone.

    Returns
    -------
    tuple of Planting
        In the order given.
    """
    kept = kept or {}
    taken = {code for codes in kept.values() for code in codes}
    next_number: dict[str, int] = {}
    numbered: dict[int, Planting] = {}

    def fresh(bed_code: str) -> str:
        number, stem = next_number.get(bed_code, 0) + 1, row_stem(bed_code)
        while f"{stem}{number}" in taken:
            number += 1
        next_number[bed_code] = number
        code = f"{stem}{number}"
        taken.add(code)
        return code

    order = sorted(
        range(len(plantings)),
        key=lambda n: (
            plantings[n].bed_code,
            plantings[n].dates.in_ground,
            plantings[n].along_m,
            plantings[n].across_m,
            plantings[n].code,
        ),
    )
    for number in order:
        planting = plantings[number]
        old = [code for code in kept.get(planting.code, ()) if code.startswith(row_stem(planting.bed_code))]
        # From row to row, then along them: staggered rows begin at different places. What has all
        # its codes stays in its order.
        side = 1 if planting.direction == "along" else 0
        rows = list(planting.rows)
        if len(old) < len(rows):
            rows.sort(key=lambda row: (row.start_m[side], row.start_m, row.end_m))
        coded: list[Row] = []
        for place, row in enumerate(rows):
            code = old[place] if place < len(old) else fresh(planting.bed_code)
            coded.append(replace(row, code=code))
        numbered[number] = replace(planting, rows=tuple(coded))
    return tuple(numbered[number] for number in range(len(plantings)))
