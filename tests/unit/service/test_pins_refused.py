"""Pins that no plan can keep are problems of the book, not faults of the program."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from bedwright.engine.pipeline import groundwork_of
from bedwright.model.problem import BadDocumentError
from bedwright.service.load import load
from bedwright.service.make_season import plan_loaded

BOOK = """\
site: {name: Small garden, latitude_deg: 52, longitude_deg: 0, elevation_m: 20, time_zone: Europe/London}
season: {start: 2027-01-01}
weather: {stated_frost: {last_spring: 05-05, first_autumn: 10-10}}
beds:
  - {code: A, rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}, texture: loam}
wishes:
  - {crop: carrot, row_m: 4}
pins:
  - {planting: carrot-1, in_ground: 2027-12-24}
"""


def test_a_pinned_day_that_is_none_of_those_worked_out_is_a_problem_that_names_them(tmp_path: Path) -> None:
    book = tmp_path / "garden-book.yaml"
    book.write_text(BOOK, encoding="utf-8")
    loaded = load(book)
    today = date(2026, 12, 1)
    with pytest.raises(BadDocumentError) as caught:
        plan_loaded(loaded, today=today, seed=1, progress=lambda _: None)
    (problem,) = caught.value.problems
    assert problem.where == "pins"
    ground = groundwork_of(loaded.book, loaded.record, loaded.catalogue, today=today)
    (carrot,) = ground.requests
    assert carrot.choices
    for choice in carrot.choices:
        assert choice.in_ground.isoformat() in problem.got
