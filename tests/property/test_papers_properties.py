"""Properties of the papers that hold for any input."""

from __future__ import annotations

import itertools
from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from bedwright.papers import calendar_bytes
from bedwright.papers.bed_sheets import spread
from bedwright.papers.callouts import Callout, place_callouts
from bedwright.papers.measures import Measures, code_runs, inch_words
from bedwright.papers.phases import season_phases
from bedwright.papers.scale import fitting_scale
from bedwright.store.season import season_from_text, season_json
from tests.plans import demo_plan, plantings

MARKS = {"⅛": 1, "¼": 2, "⅜": 3, "½": 4, "⅝": 5, "¾": 6, "⅞": 7}


@given(st.floats(0, 500))
def test_inches_on_paper_are_within_half_the_finest_mark(length_in: float) -> None:
    words = inch_words(length_in, 8)
    eighths = MARKS.get(words[-1], 0)
    whole = words[:-1] if eighths else words
    shown = Fraction(int(whole or 0)) + Fraction(eighths, 8)
    assert abs(float(shown) - length_in) <= 1 / 16 + 1e-9


@given(st.floats(0, 100))
def test_metric_places_are_within_half_a_centimetre(length_m: float) -> None:
    number, unit = Measures("metric").place(length_m).split()
    shown_m = float(number) / (100 if unit == "cm" else 1)
    assert abs(shown_m - length_m) <= 0.005 + 1e-9


@given(st.lists(st.integers(1, 40), unique=True))
def test_shortened_row_codes_name_the_first_and_last_row(numbers: list[int]) -> None:
    codes = [f"C{n}" for n in sorted(numbers)]
    words = code_runs(codes)
    if codes:
        assert words.startswith(codes[0])
        assert words.endswith(codes[-1])
    spelt = []
    for part in filter(None, words.split(", ")):
        ends = [int(code[1:]) for code in part.split(" to ")]
        spelt += [f"C{n}" for n in range(ends[0], ends[-1] + 1)]
    assert spelt == codes


@given(st.lists(st.tuples(st.floats(0, 200), st.floats(1, 9)), max_size=15))
def test_spread_words_never_overlap_where_there_is_room(pairs: list[tuple[float, float]]) -> None:
    ordered = sorted(pairs)
    places, sizes = [p for p, _ in ordered], [s for _, s in ordered]
    centres = spread(places, sizes, 0.0, 200.0)
    for (one, size), (other, next_size) in itertools.pairwise(zip(centres, sizes, strict=True)):
        assert other - one >= (size + next_size) / 2 - 1e-6
    assert all(size / 2 - 1e-6 <= c <= 200 - size / 2 + 1e-6 for c, size in zip(centres, sizes, strict=True))


@given(st.floats(0.3, 400), st.floats(0.2, 400), st.sampled_from(["metric", "us"]))
def test_what_is_drawn_at_the_chosen_scale_fits_its_room(
    width_m: float, height_m: float, system: str
) -> None:
    room = (200.0, 140.0)
    scale = fitting_scale((width_m, height_m), room, system)  # type: ignore[arg-type]
    assert scale.paper_mm(width_m) <= room[0]
    assert scale.paper_mm(height_m) <= room[1]


@settings(max_examples=25)
@given(st.lists(st.tuples(st.integers(0, 14), st.integers(0, 5)), min_size=1, max_size=14, unique=True))
def test_labels_that_are_placed_never_touch(cells: list[tuple[int, int]]) -> None:
    callouts, beds = [], []
    for i, j in cells:
        x, y = 20.0 + i * 11.0, 20.0 + j * 17.0
        corners = ((x, y), (x + 10.0, y), (x + 10.0, y + 10.0), (x, y + 10.0))
        callouts.append(Callout(f"{i}/{j}", (f"{i} BET", f"A{j}"), corners))
        beds.append(corners)
    placed = place_callouts(callouts, beds, (0.0, 0.0, 205.0, 140.0))
    for one, other in itertools.combinations(placed.values(), 2):
        assert not one.box.intersects(other.box)
        if one.leader and other.leader:
            assert not LineString(one.leader).intersects(LineString(other.leader))
    for place in placed.values():
        if place.leader:
            assert not any(place.box.intersects(Polygon(bed)) for bed in beds)


@settings(max_examples=25)
@given(st.text(max_size=120).filter(lambda text: "\r" not in text and "\x00" not in text))
def test_no_text_makes_a_calendar_line_too_long_or_unreadable(details: str) -> None:
    plan = demo_plan()
    plan = replace(plan, tasks=(replace(plan.tasks[0], details=details),))
    for line in calendar_bytes(plan).split(b"\r\n"):
        assert len(line) <= 75
        line.decode("utf-8")


@given(st.sets(st.integers(0, 10)))
def test_any_choice_of_plantings_is_drawn_whole(kept: set[int]) -> None:
    chosen = [p for k, p in enumerate(plantings()) if k in kept]
    phases = season_phases(chosen)
    assert {p.code for phase in phases for p in phase.standing} == {p.code for p in chosen}


@settings(max_examples=25)
@given(st.text(max_size=40), st.floats(allow_nan=False, allow_infinity=False), st.integers(0, 2**40))
def test_a_season_file_keeps_any_text_and_number(text: str, value: float, seed: int) -> None:
    plan = demo_plan()
    short = replace(plan.shortfalls[0], why=text, missing_weeks=value)
    plan = replace(plan, seed=seed, shortfalls=(short,), warnings=(text,))
    assert season_from_text(season_json(plan)) == plan
