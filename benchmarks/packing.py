"""Plants on given ground against the best packings of equal circles in a square that are published."""

from __future__ import annotations

import math
import timeit
from collections.abc import Callable, Sequence

import numpy as np

from bedwright.engine.placement.packing import Stand, most_in_rows, widest_in_rows, widest_of_all
from bedwright.engine.placement.packing.relaxing import least_apart_m
from bedwright.model.weather import FloatArray
from tests.external.best_known_circles import RADII

SQUARE_M = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))
STRING_LINE_DEG = (0.0, 90.0)
REPEATS = 5
SEED = 1


def radius(stand: Stand, n: int) -> float:
    if n == 1:
        return float(stand.points_m[:1].min())
    return least_apart_m(stand.points_m[:n], np.array(SQUARE_M), 0.5, np.inf) / 2


def square_grid_radius(n: int) -> float:
    """The peer everybody has: the smallest square grid that holds so many."""
    return 0.5 / math.ceil(math.sqrt(n))


def shares(numbers: Sequence[int], find: Callable[[int], Stand]) -> tuple[FloatArray, FloatArray]:
    """Radius as a share of the best known, and the fastest of several runs [ms]."""
    found, spent_ms = [], []
    for n in numbers:
        found.append(radius(find(n), n) / RADII[n - 1])
        spent_ms.append(min(timeit.repeat(lambda n=n: find(n), number=1, repeat=REPEATS)) * 1000)  # type: ignore[misc]
    return np.array(found), np.array(spent_ms)


def told(words: str, found: FloatArray, spent_ms: FloatArray) -> None:
    print(
        f"{words}: mean {found.mean():.4f}, worst {found.min():.4f}; "
        f"{np.median(spent_ms):.2f} ms median, {spent_ms.max():.2f} ms at most"
    )


def main() -> None:
    all_numbers = range(1, len(RADII) + 1)
    grid = np.array([square_grid_radius(n) / RADII[n - 1] for n in all_numbers])
    print("radius as a share of the best known (Packomania, circles in a square)")
    print(f"  square grid, 1 to 70: mean {grid.mean():.4f}, worst {grid.min():.4f}")
    ways: Sequence[tuple[str, Callable[[int], Stand]]] = (
        (
            "  rows along or square to the side, 1 to 70",
            lambda n: widest_in_rows(SQUARE_M, n, angles_deg=STRING_LINE_DEG, n_offsets=1),
        ),
        ("  rows of any angle, 1 to 70", lambda n: widest_in_rows(SQUARE_M, n)),
    )
    for words, find in ways:
        find(5)
        told(words, *shares(all_numbers, find))
    told(
        "  without rows, 1 to 30",
        *shares(range(1, 31), lambda n: widest_of_all(SQUARE_M, n, seed=SEED)),
    )
    counted = np.array(
        [
            most_in_rows(SQUARE_M, 2 * r * (1 - 1e-9), r * (1 - 1e-9)).n_plants / n
            for n, r in enumerate(RADII, start=1)
        ]
    )
    print(f"plants in rows at the best known distance, as a share of the best: mean {counted.mean():.4f}, ")
    print(f"  worst {counted.min():.4f}, as many in {int((counted >= 1).sum())} of {len(RADII)}")


if __name__ == "__main__":
    main()
