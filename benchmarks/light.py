"""Light of a whole site against naive ray casting with shapely, in one run: speed and error."""

from __future__ import annotations

import timeit
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import shapely

from bedwright.engine.sunlight import (
    CELL_M,
    Obstacle,
    Places,
    SiteSurvey,
    bed_weeks,
    day_sun_h,
    obstacles_of,
    sun_day,
    survey_site,
)
from bedwright.engine.sunlight.sun_table import STEP_MIN
from bedwright.model.book import Bed, Feature, Site
from bedwright.model.ground import Rectangle
from bedwright.model.weather import FloatArray

LATITUDE_DEG = 52.0
BOX_M = (0.0, 0.0, 30.0, 30.0)
BARE = (1, 2, 3, 11, 12)
FEATURES = (
    Feature("H", "building", "", ((-4, 5), (-4, 15), (2, 15), (2, 10), (-1, 10), (-1, 5)), height_m=6.0),
    Feature("S", "shed", "", ((24, 2), (28, 2), (28, 5), (24, 5)), height_m=2.5),
    Feature("W", "wall", "", ((0, 30.5), (30, 30.5)), height_m=2.0),
    Feature("F", "fence", "", ((0, -0.5), (30, -0.5), (30.5, 30)), height_m=1.2),
    Feature("E", "hedge", "", ((-0.5, 16), (-0.5, 30)), height_m=2.0, radius_m=0.5, leafless_months=BARE),
    Feature("T1", "tree", "", ((10, -5),), 9.0, radius_m=3.0, crown_base_m=2.0, leafless_months=BARE),
    Feature("T2", "tree", "", ((18, 20),), 5.0, radius_m=2.0, crown_base_m=1.5, leafless_months=BARE),
    Feature("T3", "tree", "", ((34, 12),), 12.0, radius_m=4.0, crown_base_m=3.0),
)
SITE = Site("Benchmark", LATITUDE_DEG, 0.0, 20.0, "UTC", features=FEATURES)
FAR_M = 400.0
N_CELLS_CHECKED = 12
MONTHS_CHECKED = (3, 6, 12)
MONTH_STEP_MIN, DAY_STEP_MIN = 6.0, 5.0
REPEATS = 5
WEEK_BEDS = (
    Bed("F", "along the fence", Rectangle(28.0, 1.5, 1.0, 2.1, 90.0), "loam"),
    Bed("W", "along the wall", Rectangle(28.0, 1.5, 1.0, 30.2, 90.0), "loam"),
)
WEEKS_CHECKED = (11, 37)
N_CELLS_OF_WEEKS = 12


def best_s(work: Callable[[], object], repeats: int = REPEATS) -> float:
    """Fastest of several runs, which leaves out what else the machine was doing. [s]."""
    return min(timeit.repeat(work, number=1, repeat=repeats))


def naive_day_h(bodies: Sequence[Obstacle], place_m: FloatArray, day: date, step_min: float) -> float:
    """Hours of sun at one place on level ground: for each moment each body is cut by the ray to the sun."""
    path = sun_day(day, LATITUDE_DEG, 0.0, step_min=step_min)
    outlines = [shapely.Polygon(body.outline_m, body.holes_m) for body in bodies]
    passed = 0.0
    for elevation_rad, azimuth_rad in zip(
        np.radians(path.elevation_deg), np.radians(path.azimuth_deg), strict=True
    ):
        end_m = place_m + FAR_M * np.array([np.sin(azimuth_rad), np.cos(azimuth_rad)])
        ray, rise = shapely.LineString([place_m, end_m]), float(np.tan(elevation_rad))
        share = 1.0
        for body, outline in zip(bodies, outlines, strict=True):
            cut = ray.intersection(outline)
            if not cut.is_empty and hides(cut, place_m, rise, body):
                share *= 1 - body.shade[day.month - 1]
        passed += share
    return passed * path.step_h


def hides(cut: shapely.Geometry, place_m: FloatArray, rise: float, body: Obstacle) -> bool:
    for piece in shapely.get_parts(cut):
        away_m = np.hypot(*(shapely.get_coordinates(piece) - place_m).T)
        over_base = body.base_m <= 0 or away_m.max() * rise > body.base_m
        if away_m.min() * rise < body.top_m and over_base:
            return True
    return False


class NaiveCheck:
    """Naive hours of some cells, the same in every run; counts rays and their time."""

    def __init__(self, survey: SiteSurvey) -> None:
        n_cells = len(survey.skylines.places.eye_m)
        self.cells = np.random.default_rng(5).choice(n_cells, N_CELLS_CHECKED, replace=False)
        self.places_m = survey.skylines.places.places_m[self.cells]
        self.bodies = obstacles_of(FEATURES)
        self.n_rays = 0
        self.spent_s = 0.0

    def day_h(self, day: date, step_min: float) -> FloatArray:
        """Naive hours of the cells on one day."""
        started = timeit.default_timer()
        found_h = np.array([naive_day_h(self.bodies, place, day, step_min) for place in self.places_m])
        self.spent_s += timeit.default_timer() - started
        path = sun_day(day, LATITUDE_DEG, 0.0, step_min=step_min)
        self.n_rays += len(self.cells) * len(path.elevation_deg)
        return found_h


def days_of(month: int) -> list[date]:
    first = date(2026, month, 1)
    return [day for k in range(31) if (day := first + timedelta(days=k)).month == month]


def month_errors_h(survey: SiteSurvey, check: NaiveCheck) -> FloatArray:
    """Error of the mean of each month checked, every day of it cast naively."""
    ours_h = survey.sun_h().reshape(12, -1)[:, check.cells]
    return np.array(
        [
            np.mean([check.day_h(day, MONTH_STEP_MIN) for day in days_of(month)], axis=0) - ours_h[month - 1]
            for month in MONTHS_CHECKED
        ]
    )


def day_errors_h(check: NaiveCheck) -> FloatArray:
    """Error of single days, the same moments cast naively."""
    places = Places(check.places_m, np.zeros(len(check.cells)))
    days = [date(2026, month, day) for month in range(1, 13) for day in (7, 21)]
    return np.array(
        [
            check.day_h(day, DAY_STEP_MIN)
            - day_sun_h(check.bodies, places, day, LATITUDE_DEG, 0.0, step_min=DAY_STEP_MIN)
            for day in days
        ]
    )


def week_errors_h() -> FloatArray:
    """Error of the mean of weeks round the equinoxes, on ground along the fence and the wall."""
    found = bed_weeks(SITE, WEEK_BEDS)
    rng = np.random.default_rng(5)
    errors_h = []
    for bed, weeks in zip(WEEK_BEDS, found, strict=True):
        n_along, n_across = weeks.sun_h.shape[1:]
        for cell in rng.choice(n_along * n_across, N_CELLS_OF_WEEKS, replace=False).tolist():
            along, across = divmod(cell, n_across)
            place = np.array(bed.frame.to_site(((along + 0.5) * CELL_M, (across + 0.5) * CELL_M)))
            for week in WEEKS_CHECKED:
                days = [date(2026, 1, 1) + timedelta(days=7 * week + k) for k in range(7)]
                naive_h = [naive_day_h(obstacles_of(FEATURES), place, day, DAY_STEP_MIN) for day in days]
                errors_h.append(float(np.mean(naive_h)) - weeks.sun_h[week, along, across])
    return np.array(errors_h)


def survey(site: Site, before: SiteSurvey | None = None) -> SiteSurvey:
    return survey_site(site, [], box_m=BOX_M, before=before)


def with_moved(number: int) -> Site:
    """The site with one body half a metre further east."""
    body = FEATURES[number]
    moved = replace(body, vertices_m=tuple((east_m + 0.5, north_m) for east_m, north_m in body.vertices_m))
    return replace(SITE, features=(*FEATURES[:number], moved, *FEATURES[number + 1 :]))


def main() -> None:
    first = survey(SITE)
    n_cells = len(first.skylines.places.eye_m)
    n_positions = sum(
        len(sun_day(day, LATITUDE_DEG, 0.0, step_min=STEP_MIN).elevation_deg)
        for month in range(1, 13)
        for day in days_of(month)
    )
    year_s = best_s(lambda: survey(SITE).sun_h())
    print(f"{n_cells} cells of 0.25 m, {len(FEATURES)} bodies, 365 days ({n_positions} sun positions)")
    print(f"  the whole year from nothing: {year_s:.3f} s; with light of sun and sky: ", end="")
    print(f"{best_s(lambda: survey(SITE).light()):.3f} s")
    for number, feature in enumerate(FEATURES):
        edited = with_moved(number)
        edit_s = best_s(lambda edited=edited: survey(edited, first).sun_h())  # type: ignore[misc]
        print(f"  after moving the {feature.kind} {feature.code}: {edit_s:.3f} s")
    places, bodies = first.skylines.places, obstacles_of(FEATURES)
    weeks_s = best_s(lambda: bed_weeks(SITE, WEEK_BEDS), 2)
    print(
        f"  52 weeks of two beds of {sum(w.sun_h[0].size for w in bed_weeks(SITE, WEEK_BEDS))} cells: ",
        end="",
    )
    print(f"{weeks_s:.3f} s")
    one_day_s = best_s(lambda: day_sun_h(bodies, places, date(2026, 6, 21), LATITUDE_DEG, 0.0))
    print(f"  one day looked at every 5 min: {one_day_s:.3f} s")

    check = NaiveCheck(first)
    for words, errors_h in (
        ("means of months", month_errors_h(first, check)),
        ("single days", day_errors_h(check)),
        ("means of weeks", week_errors_h()),
    ):
        worst, middle = np.abs(errors_h).max(), np.abs(errors_h).mean()
        print(f"error against shapely, {words}: at most {worst:.3f} h a day, mean {middle:.3f} h")
        assert worst <= 0.1
    ours_ns = year_s / (n_cells * n_positions) * 1e9
    naive_ns = check.spent_s / check.n_rays * 1e9
    print(
        f"per cell and sun position: ours {ours_ns:.3f} ns, shapely {shapely.__version__} {naive_ns:.0f} ns"
    )
    print(f"  ratio shapely / ours {naive_ns / ours_ns:.0f}")


if __name__ == "__main__":
    main()
