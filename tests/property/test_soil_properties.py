"""What must hold for every soil report, bed and shed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.engine.soil import (
    SOIL_SOURCES,
    acidity_need,
    check_feeding,
    compost_need,
    earliest_harvest,
    feed_beds,
    heat_index_c,
    layer_volume_m3,
    lead_band,
    manure_cautions,
    read_figures,
)
from bedwright.engine.soil.feeding import stock_masses
from bedwright.engine.soil.rounding import two_figures, two_figures_down
from bedwright.model.book import Bed, Stock
from bedwright.model.problem import BadDocumentError
from bedwright.model.safety import EPA_2024, EPA_2025, ManureSpread
from bedwright.model.soil import LabFigure, LabReading
from tests.strategies import beds, soil_tests
from tests.unit.engine.soil.gardens import COMPOST, ROUND, planting

EXTRACTS = st.sampled_from(["Mehlich-3", "Modified Morgan", "", "Olsen"])
NAMES = st.sampled_from([material.name for material in ROUND])
STOCKS = st.lists(st.builds(Stock, NAMES, st.floats(0, 500), st.sampled_from(["kg", "L"])), max_size=4)
BUYABLE = st.lists(NAMES, unique=True)


@st.composite
def gardens(draw: st.DrawFn) -> list[Bed]:
    found = []
    for code in "ABC"[: draw(st.integers(1, 3))]:
        bed = draw(beds(code))
        test = draw(st.one_of(st.none(), soil_tests()))
        if test is not None:
            test = replace(test, extraction=draw(EXTRACTS))
        found.append(replace(bed, soil_test=test))
    return found


@settings(max_examples=60)
@given(garden=gardens(), stock=STOCKS, buyable=BUYABLE)
def test_no_feeding_plan_passes_a_cap_or_overdraws_the_shed(
    garden: list[Bed], stock: list[Stock], buyable: list[str]
) -> None:
    fed = feed_beds(garden, ROUND, stock, buyable=buyable)
    held, _ = stock_masses(stock, ROUND)
    assert check_feeding(fed, {material.name: material for material in ROUND}, held) == ()


@settings(max_examples=40)
@given(garden=gardens(), stock=STOCKS, buyable=BUYABLE)
def test_every_figure_of_a_feeding_plan_has_an_origin_that_is_listed(
    garden: list[Bed], stock: list[Stock], buyable: list[str]
) -> None:
    for feeding in feed_beds(garden, ROUND, stock, buyable=buyable):
        for origin in feeding.origins:
            assert set(origin.source_ids) <= SOIL_SOURCES.keys()


@settings(max_examples=40)
@given(garden=gardens(), stock=STOCKS)
def test_what_more_can_be_bought_never_leaves_a_bed_shorter_in_all(
    garden: list[Bed], stock: list[Stock]
) -> None:
    def short(buyable: list[str]) -> float:
        return sum(
            supplied.short_g_m2 / supplied.need_g_m2
            for feeding in feed_beds(garden, ROUND, stock, buyable=buyable)
            for supplied in feeding.supplied
            if supplied.need_g_m2 > 0
        )

    # Three nutrients of three beds, each rounded by up to a tenth when rounded down.
    assert short([material.name for material in ROUND]) <= short([]) + 0.9


@given(value=st.floats(1e-6, 1e9))
def test_two_figures_stay_within_a_twentieth(value: float) -> None:
    assert abs(two_figures(value) - value) <= 0.0500001 * value
    assert 0.9 * value <= two_figures_down(value) <= value * (1 + 1e-12)


PRINTED_NAMES = st.one_of(st.text(max_size=8), st.sampled_from(["P", "K2O", "pH", "Lead", "organic matter"]))
PRINTED_UNITS = st.one_of(st.text(max_size=8), st.sampled_from(["ppm", "lb/acre", "%", ""]))


@given(st.lists(st.builds(LabFigure, PRINTED_NAMES, st.floats(), PRINTED_UNITS), max_size=5))
def test_any_report_is_read_or_refused_in_words(figures: list[LabFigure]) -> None:
    said: list[str] = []
    readings: tuple[LabReading, ...] = ()
    try:
        readings = read_figures(figures)
    except BadDocumentError as refused:
        said = [problem.expected for problem in refused.problems]
    assert len(readings) == len(figures) or (said and all(said))


@given(ppm=st.floats(0, 2000))
def test_pounds_an_acre_and_parts_per_million_agree(ppm: float) -> None:
    one = read_figures([LabFigure("P", ppm, "ppm")])[0].value
    other = read_figures([LabFigure("P", 2 * ppm, "lb/acre")])[0].value
    assert abs(one - other) <= 1e-9 * max(1, one)


@given(ph=st.floats(4, 5.9), drop=st.floats(0, 1))
def test_sourer_soil_never_needs_less_lime(ph: float, drop: float) -> None:
    sourer, sour = acidity_need(max(3.0, ph - drop), "loam"), acidity_need(ph, "loam")
    assert sourer.low_g_m2 >= sour.low_g_m2
    assert sour.low_g_m2 <= sour.high_g_m2


@given(area_m2=st.floats(0.01, 500), depth_mm=st.floats(0.1, 100))
def test_what_is_fetched_is_enough(area_m2: float, depth_mm: float) -> None:
    need = compost_need(area_m2, depth_mm, COMPOST)
    settled_l = 1000 * layer_volume_m3(area_m2, depth_mm)
    assert need.n_barrows * need.barrow_l >= settled_l
    assert need.n_bags * need.bag_l >= settled_l
    assert need.delivery_m3 * 1000 >= settled_l - 1e-6


@given(temperature_c=st.floats(-20, 45), humidity_pct=st.floats(0, 90), more=st.floats(0, 10))
def test_damper_air_never_feels_much_cooler(temperature_c: float, humidity_pct: float, more: float) -> None:
    # The regression is a fit: at the seams of its adjustments it may step back a little.
    drier, damper = (
        heat_index_c(temperature_c, humidity_pct),
        heat_index_c(temperature_c, humidity_pct + more),
    )
    assert damper >= drier - 1.0


@given(lead=st.floats(0, 20000), more=st.floats(0, 1000))
def test_more_lead_is_never_a_milder_band(lead: float, more: float) -> None:
    order = ["below", "above several-sources level", "above screening level", "above removal level"]
    for rule in (EPA_2024, EPA_2025):
        worse = min(20000.0, lead + more)
        assert order.index(lead_band(lead, rule)) <= order.index(lead_band(worse, rule))


@given(day=st.integers(0, 600))
def test_a_planting_is_stopped_exactly_when_its_picking_meets_the_interval(day: int) -> None:
    spread = date(2026, 10, 1) + timedelta(days=day)
    crop = planting()
    free = earliest_harvest(spread, touching=True)
    meets = crop.dates.first_pick_early < free and crop.dates.last_pick >= spread
    assert bool(manure_cautions([ManureSpread("A", spread)], [crop])) is meets
