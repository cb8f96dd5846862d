from __future__ import annotations

from datetime import date

from bedwright.engine.water import reading_problems, supply_problems, watering_problems
from bedwright.model.water import RainReading, Watering, WaterSupply

TODAY = date(2027, 6, 10)


def test_a_clean_log_has_no_problem() -> None:
    readings = [RainReading(date(2027, 6, 9), 0.0, 2), RainReading(TODAY, 12.5, 3)]
    assert reading_problems(readings, file="rain.csv", today=TODAY) == ()
    assert watering_problems([Watering(TODAY, "P", 20.0)], ["P"], file="log.csv", today=TODAY) == ()
    assert supply_problems(WaterSupply(15.0), file="garden.yaml") == ()


def test_all_faults_of_a_rain_log_are_found_at_once() -> None:
    readings = [
        RainReading(date(2027, 6, 8), -3.0, 2),
        RainReading(date(2027, 6, 9), 4.0, 3),
        RainReading(date(2027, 6, 9), 5.0, 4),
        RainReading(date(2027, 6, 11), 1.0, 5),
        RainReading(date(2027, 6, 7), 820.0, 6),
        RainReading(date(2027, 6, 6), float("nan"), 7),
    ]
    problems = reading_problems(readings, file="rain.csv", today=TODAY)
    assert [problem.line for problem in problems] == [2, 4, 5, 6, 7]
    assert str(problems[0]) == (
        "rain.csv:2: readings[1].rain_mm: got -3; expected 0 to 500 mm. "
        "Rain is never negative; 0 for a dry gauge."
    )
    assert "Read twice" in problems[1].hint
    assert "line 3 too" in problems[1].hint
    assert "forecast" in problems[2].hint
    assert "Tenths" in problems[3].hint
    assert problems[4].got == "nan"


def test_all_faults_of_a_watering_log_are_found_at_once() -> None:
    waterings = [
        Watering(TODAY, "P", -1.0),
        Watering(TODAY, "Q", 5.0),
        Watering(TODAY, "P", 5.0),
        Watering(date(2027, 7, 1), "P", 5.0),
    ]
    problems = watering_problems(waterings, ["P"], file="log.csv", today=TODAY)
    assert [problem.where for problem in problems] == [
        "waterings[1].water_l",
        "waterings[2].planting",
        "waterings[3]",
        "waterings[4].day",
    ]
    assert problems[1].expected == "one of: P"


def test_a_hose_that_gives_nothing_is_named() -> None:
    problems = supply_problems(WaterSupply(0.0, 0.0), file="garden.yaml")
    assert str(problems[0]) == (
        "garden.yaml: supply.tap_flow_l_min: got 0; expected 0.5 to 100 L/min. "
        "Time a bucket: 10 L in 40 seconds are 15 L/min."
    )
    assert problems[1].where == "supply.can_l"
