"""Many random gardens put to the independent checker, and one plan made again and again under load."""

from __future__ import annotations

import hashlib
import math
import multiprocessing
import random
from collections.abc import Iterator
from dataclasses import replace

from bedwright.engine.placement import check, place
from bedwright.model.book import Bed, Pin, SoilTest, Support
from bedwright.model.ground import Circle, Outline, Polygon, Rectangle
from bedwright.model.season import Planting
from benchmarks.quality.gardens import TODAY, Garden, dated_crops, made_garden

MOVES = 400
REPEATED_MOVES = 20_000


def random_garden(seed: int) -> Garden:
    """One to three beds of any outline, one to eight plantings; lead, trellises and beds ruled out."""
    rng = random.Random(seed)
    book, dated, catalogue = dated_crops()
    beds = []
    for number in range(rng.randint(1, 3)):
        test = SoilTest(TODAY, "laboratory", lead_mg_kg=rng.choice((40.0, 320.0)))
        beds.append(
            Bed(
                code="ABC"[number],
                name="bed",
                outline=_outline(rng, 6.0 * number),
                texture="loam",
                supports=(Support("trellis", "north", 1.8),) if rng.random() < 0.3 else (),
                soil_test=test if rng.random() < 0.3 else None,
            )
        )
    asked = []
    for number in range(rng.randint(1, 8)):
        of = rng.choice(dated)
        code = f"{of.crop.name}-{number}"
        not_beds = ("A",) if rng.random() < 0.2 and len(beds) > 1 else ()
        asked.append(
            replace(
                of, code=code, wish_code=code, n_plants=rng.randint(1, 80), priority=rng.randint(1, 5),
                not_beds=not_beds,
            )
        )  # fmt: skip
    garden = replace(book, beds=tuple(beds), history=(), wishes=(), neighbours=())
    return Garden(f"random {seed}", garden, tuple(asked), (), catalogue)


def _outline(rng: random.Random, east_m: float) -> Outline:
    bearing_deg = rng.choice((0.0, 90.0, 37.0))
    kind = rng.random()
    if kind < 0.6:
        return Rectangle(rng.uniform(0.5, 5), rng.uniform(0.4, 1.6), east_m, 0.0, bearing_deg)
    if kind < 0.75:
        return Circle(rng.uniform(0.3, 1.5), east_m, 0.0, bearing_deg)
    n_corners = rng.randint(3, 8)
    corners = []
    for number in range(n_corners):
        angle_rad, radius_m = 2 * math.pi * number / n_corners, rng.uniform(0.4, 2)
        corners.append((east_m + radius_m * math.cos(angle_rad), radius_m * math.sin(angle_rad)))
    return Polygon(tuple(corners), bearing_deg)


def violations(seed: int) -> Iterator[str]:
    """Rules broken by the plan of a random garden, and by a second one made round half of it."""
    garden = random_garden(seed)
    book, asked, crops = garden.book, garden.requests, garden.catalogue.crops
    found = garden.catalogue.neighbours
    made = place(book, asked, (), found, crops, seed=seed, effort=MOVES, prove=False)
    for fault in check(book, made.plantings, asked, crops):
        yield f"garden {seed}: {fault}"
    standing = made.plantings[::2]
    pins = tuple(_pin(planting) for planting in made.plantings[1::2][:1])
    again = place(
        book, asked, (), found, crops, seed=seed, effort=MOVES, prove=False, standing=standing, pins=pins
    )
    for fault in check(book, again.plantings, asked, crops, standing=standing, pins=pins):
        yield f"garden {seed} again: {fault}"


def _pin(planting: Planting) -> Pin:
    return Pin(planting.request_code, bed_code=planting.bed_code, in_ground=planting.dates.in_ground)


def check_many(n_gardens: int) -> list[str]:
    """Faults in the plans of so many random gardens, two plans each."""
    return [fault for seed in range(n_gardens) for fault in violations(seed)]


def digest(_: int = 0) -> str:
    """What one plan of one garden is, in short."""
    garden = made_garden(6, 25, 1)
    made = place(
        garden.book, garden.requests, garden.light, garden.catalogue.neighbours, garden.catalogue.crops,
        seed=7, effort=REPEATED_MOVES, prove=False,
    )  # fmt: skip
    return hashlib.sha256(repr((made.plantings, made.value)).encode()).hexdigest()


def repeat(n_repeats: int) -> tuple[int, int]:
    """(different plans on one core, on two at once beside a busy third process) over so many repeats."""
    alone = {digest() for _ in range(n_repeats)}
    context = multiprocessing.get_context("spawn")
    with context.Pool(3) as pool:
        busy = pool.apply_async(check_many, (40,))
        together = set(pool.map(digest, range(n_repeats), chunksize=n_repeats // 2))
        busy.get()
    return len(alone), len(alone | together)
