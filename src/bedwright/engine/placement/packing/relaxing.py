"""Plants moved apart from where they stand, without rows."""

from __future__ import annotations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from bedwright.model.weather import FloatArray

MOST_STEPS = 60
LEAST_GAIN = 1e-6
"""Share of the distance below which a step is the last."""

REACH, LEAST_REACH = 0.3, 0.04
"""Share of the distance that a plant may move in one step, along and across: at first, and where
large steps gain little."""

SLOW_GAIN = 0.02


def moved_apart(
    points_m: FloatArray, corners_m: FloatArray, edge_share: float, edge_cap_m: float
) -> tuple[FloatArray, float]:
    """Points moved until none can gain, and the least distance between two of them.

    Every step solves a linear programme: all points move a little, so that the least distance
    grows as much as it can. A straight distance never falls short of its projection, so each
    step keeps what it promises and the distance never shrinks.

    Parameters
    ----------
    points_m : (n_points, 2)
        Inside the outline.
    corners_m : (n_corners, 2)
        The outline, in order round it.
    edge_share
        Share of the distance between points to be kept to the outline. [1]
    edge_cap_m
        Never more than this. [m]

    Returns
    -------
    points_m : (n_points, 2)
    apart_m
        Least distance between two points, such that the edge is kept too. [m]

    Limits
    ------
    A local optimum; where it ends depends on where it starts.
    """
    apart_m = least_apart_m(points_m, corners_m, edge_share, edge_cap_m)
    reach = REACH
    for _ in range(MOST_STEPS):
        moved_m = _step(points_m, corners_m, apart_m, reach * apart_m, edge_share, edge_cap_m)
        if moved_m is None:
            break
        gained_m = least_apart_m(moved_m, corners_m, edge_share, edge_cap_m)
        gain = gained_m / apart_m - 1 if apart_m > 0 else np.inf
        if gain > 0:
            points_m, apart_m = moved_m, gained_m
        if gain < LEAST_GAIN and reach <= LEAST_REACH:
            break
        if gain < SLOW_GAIN:
            reach = max(LEAST_REACH, reach / 2)
    return points_m, apart_m


def least_apart_m(points_m: FloatArray, corners_m: FloatArray, edge_share: float, edge_cap_m: float) -> float:
    """Spacing that points keep from each other and, by its share, from the outline. [m]."""
    first, second = np.triu_indices(len(points_m), 1)
    gaps_m = np.hypot(*(points_m[first] - points_m[second]).T)
    apart_m = float(gaps_m.min(initial=np.inf))
    to_edge_m = float(_from_edges(points_m, corners_m)[1].min(initial=np.inf))
    if edge_share * apart_m > to_edge_m and to_edge_m < edge_cap_m:
        return to_edge_m / edge_share
    return apart_m


def _from_edges(points_m: FloatArray, corners_m: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(unit vectors from the nearest place of each edge, distances): (n_points, n_edges, 2), (…)."""
    run_m = np.roll(corners_m, -1, axis=0) - corners_m
    offset_m = points_m[:, None, :] - corners_m[None, :, :]
    along = np.clip(np.sum(offset_m * run_m, axis=2) / np.maximum(np.sum(run_m**2, axis=1), 1e-18), 0, 1)
    away_m = offset_m - along[..., None] * run_m
    distance_m = np.hypot(away_m[..., 0], away_m[..., 1])
    return away_m / np.maximum(distance_m, 1e-12)[..., None], distance_m


def _step(
    points_m: FloatArray,
    corners_m: FloatArray,
    apart_m: float,
    reach_m: float,
    edge_share: float,
    edge_cap_m: float,
) -> FloatArray | None:
    """Points after the best small move of all of them; None where none is found."""
    n_points = len(points_m)
    first, second = np.triu_indices(n_points, 1)
    offset_m = points_m[first] - points_m[second]
    gaps_m = np.hypot(offset_m[:, 0], offset_m[:, 1])
    # Two points may come nearer by their moves and the distance grow by as much again.
    near = gaps_m < apart_m + 5 * reach_m
    first, second, offset_m, gaps_m = first[near], second[near], offset_m[near], gaps_m[near]
    unit = offset_m / np.maximum(gaps_m, 1e-12)[:, None]
    direction, distance_m = _from_edges(points_m, corners_m)
    point, edge = np.nonzero(distance_m < edge_share * apart_m + 4 * reach_m)
    wall = direction[point, edge]
    n_pairs, n_walls = len(first), len(point)
    capped = edge_share * apart_m >= edge_cap_m
    # t - u (a - b) <= |a - b| for pairs; share t - u a <= distance for edges.
    pair, at_wall = np.arange(n_pairs), n_pairs + np.arange(n_walls)
    rows = np.concatenate((np.tile(pair, 5), np.tile(at_wall, 3)))
    columns = np.concatenate(
        (2 * first, 2 * first + 1, 2 * second, 2 * second + 1, np.full(n_pairs, 2 * n_points),
         2 * point, 2 * point + 1, np.full(n_walls, 2 * n_points))
    )  # fmt: skip
    values = np.concatenate(
        (-unit[:, 0], -unit[:, 1], unit[:, 0], unit[:, 1], np.ones(n_pairs),
         -wall[:, 0], -wall[:, 1], np.full(n_walls, 0.0 if capped else edge_share))
    )  # fmt: skip
    matrix = csr_array((values, (rows, columns)), shape=(n_pairs + n_walls, 2 * n_points + 1))
    limits = np.concatenate((gaps_m, distance_m[point, edge] - (edge_cap_m if capped else 0.0)))
    gain = np.zeros(2 * n_points + 1)
    gain[-1] = -1.0
    low = np.append(np.full(2 * n_points, -reach_m), 0.0)
    high = np.append(np.full(2 * n_points, reach_m), apart_m + 2 * reach_m)
    # Nothing is whole here: the solver for whole numbers takes sparse tables and plain bounds.
    found = milp(gain, constraints=LinearConstraint(matrix, ub=limits), bounds=Bounds(low, high))
    if found.x is None:
        return None
    moved_m: FloatArray = points_m + np.reshape(found.x[:-1], (n_points, 2))
    return moved_m
