"""The labour table and the rates learnt from own records."""

from datetime import date
from pathlib import Path

import pytest

from bedwright.engine.work import (
    RATES,
    SOURCES,
    TASK_SOURCES,
    own_rates_of,
    rates_in_use,
    tasks_of,
    with_own_rates,
)
from bedwright.engine.work.amounts import portions_of
from bedwright.model.book import JOB_UNITS, WEEKLY_JOBS, StatedRate
from bedwright.model.season import Task
from bedwright.model.work import OwnRate, WorkRecord
from tests.plantings import planting

DAY = date(2027, 5, 1)


def test_every_bound_of_every_rate_has_an_origin_whose_sources_are_listed() -> None:
    for rate in RATES.values():
        assert len(rate.origins) == 3
        assert [origin.value for origin in rate.origins] == [rate.low_min, rate.likely_min, rate.high_min]
        for origin in rate.origins:
            assert set(origin.source_ids) <= SOURCES.keys()
            assert origin.source_ids


def test_what_was_remembered_says_that_it_is_a_first_guess() -> None:
    remembered = [o for rate in RATES.values() for o in rate.origins if o.standing == "memory"]
    assert remembered
    assert all("first guess" in origin.rule for origin in remembered)


def test_low_likely_and_high_rise() -> None:
    for rate in RATES.values():
        assert 0 <= rate.low_min <= rate.likely_min <= rate.high_min
        assert rate.likely_min > 0


def test_the_list_of_sources_holds_those_of_tasks() -> None:
    assert TASK_SOURCES.items() <= SOURCES.items()


# Expected minutes are the arithmetic of the figures printed in the source named; a square foot
# is 0.09290304 m2 and a cubic yard 0.764555 m3 (NIST SP 811, B.8).
@pytest.mark.parametrize(
    ("name", "bound", "minutes"),
    [
        ("prepare", "low", 10.09),  # cityrootsandfruits: 75 min for 80 ft2 = 7.432 m2
        ("prepare", "likely", 20.0),  # getgrowing.online: half a day, 4 h, for 12 m2
        ("prepare", "high", 38.75),  # naturespaceorganics: 6 h for 100 ft2 = 9.290 m2
        ("water", "likely", 1.99),  # Robbins Farm Garden: 10 min for 54 ft2 = 5.017 m2
        ("mulch", "likely", 3.92),  # landscapearchitect.com 2009: 1 h for 1 yd3, at 5 cm 15.29 m2
        ("pick", "low", 0.93),  # Food Bank Farm: 35 h for 5000 lb = 2268 kg
        ("pick by ground", "low", 2.09),  # Puerto Rico: 28 percent of 1247 h/ha
        ("pick by ground", "high", 7.42),  # Puerto Rico: 63 percent of 1964 h/ha
    ],
)
def test_published_times_give_these_minutes_in_metric_units(name: str, bound: str, minutes: float) -> None:
    # The table keeps two decimals.
    assert getattr(RATES[name], f"{bound}_min") == pytest.approx(minutes, abs=0.005)


def test_an_own_rate_overwrites_the_table_and_is_not_multiplied() -> None:
    rate = with_own_rates([OwnRate("sow", 1.0, 3.0, 5.0, 4)])["sow"]
    assert (rate.low_min, rate.likely_min, rate.high_min) == (1.0, 3.0, 5.0)
    assert not rate.practised
    assert {origin.standing for origin in rate.origins} == {"own"}
    assert RATES["sow"].practised


def test_three_records_give_their_own_range() -> None:
    records = [WorkRecord("sow", DAY, *pair) for pair in ((10.0, 20.0), (10.0, 40.0), (20.0, 60.0))]
    assert own_rates_of(records) == (OwnRate("sow", 2.0, 3.0, 4.0, 3),)


def test_one_record_keeps_the_spread_of_the_table() -> None:
    (own,) = own_rates_of([WorkRecord("sow", DAY, 10.0, 60.0)])
    # The table has 1, 2, 4 minutes a metre: half and double the likely figure.
    assert (own.low_min, own.likely_min, own.high_min) == (3.0, 6.0, 12.0)


def test_the_book_states_rates_for_the_jobs_and_units_of_the_table() -> None:
    assert {name: rate.per for name, rate in RATES.items()} == dict(JOB_UNITS)
    assert {name for name, rate in RATES.items() if rate.weekly} == WEEKLY_JOBS


def test_a_stated_rate_goes_before_the_table_and_own_records_before_it() -> None:
    stated = (StatedRate("sow", 3.0), StatedRate("thin", 2.0, 1.0, 9.0))
    rates = rates_in_use(stated, (OwnRate("thin", 4.0, 4.0, 4.0, 3),))
    # Without a stated range the table's is kept: half and double.
    assert (rates["sow"].low_min, rates["sow"].likely_min, rates["sow"].high_min) == (1.5, 3.0, 6.0)
    assert rates["sow"].origins[0].rule == "stated in the garden book"
    assert rates["thin"].likely_min == 4.0
    assert rates_in_use(stated, ())["thin"].high_min == 9.0


def test_the_guide_prints_the_table_as_it_is() -> None:
    guide = (Path(__file__).parents[4] / "docs" / "hours.md").read_text(encoding="utf-8")
    for rate in RATES.values():
        figures = f"| {rate.low_min:g} | {rate.likely_min:g} | {rate.high_min:g} |"
        line = next(line for line in guide.splitlines() if line.startswith(f"| {rate.name} |"))
        assert figures in line
        for origin in rate.origins:
            assert origin.source_ids[0] in line
            assert ("first guess" in line) or origin.standing != "memory"


@pytest.mark.parametrize("bad", [OwnRate("sewing", 1, 1, 1, 1), OwnRate("sow", 3, 2, 4, 1)])
def test_own_rates_that_cannot_be_are_refused(bad: OwnRate) -> None:
    with pytest.raises(ValueError, match=r"no labour rate|must rise"):
        with_own_rates([bad])


@pytest.mark.parametrize("bad", [WorkRecord("sewing", DAY, 1, 1), WorkRecord("sow", DAY, 0, 1)])
def test_records_that_cannot_be_are_refused(bad: WorkRecord) -> None:
    with pytest.raises(ValueError, match=r"no labour rate|above 0"):
        own_rates_of([bad])


def test_every_kind_of_job_of_a_plan_has_a_rate() -> None:
    carrot = planting()
    plan_kinds = {task.kind for task in tasks_of((carrot,), ())} | {"cover", "side dress"}
    for kind in plan_kinds:
        portions = portions_of(Task(kind, kind, DAY, DAY, "A", carrot.code, kind, "", ()), carrot, 1)
        assert portions, kind
        assert all(RATES[portion.rate_name].kind == kind for portion in portions)
