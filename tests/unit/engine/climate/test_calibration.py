from __future__ import annotations

from collections.abc import Callable

import pytest

from bedwright.engine.climate.calibration import (
    Verdict,
    frost_verdicts,
    leave_one_out_verdicts,
    markdown_table,
)
from bedwright.model.weather import WeatherRecord

MakeRecord = Callable[..., WeatherRecord]


def test_judged_years_are_counted_against_fitted_dates(make_record: MakeRecord) -> None:
    # fitted: last frosts on 1 to 11 April; judged: two early, two late, so that 10 April is passed by two
    cold = {f"{2000 + k}-04-{k:02d}": -1.0 for k in range(1, 12)}
    cold |= {"2012-03-20": -1.0, "2013-03-25": -1.0, "2014-04-25": -1.0, "2015-04-28": -1.0}
    record = make_record("2001-01-01", "2015-12-31", cold)
    verdicts = frost_verdicts(record, "Here", southern=False, fitted=(2001, 2011), judged=(2012, 2015))
    at_ten = next(v for v in verdicts if v.season == "spring" and v.threshold_c == 0 and v.chance_pct == 10)
    assert (at_ten.happened, at_ten.judged) == (2, 4)


def test_overlapping_spans_are_refused(make_record: MakeRecord) -> None:
    with pytest.raises(ValueError, match="overlap"):
        frost_verdicts(
            make_record("2001-01-01", "2005-12-31"),
            "Here",
            southern=False,
            fitted=(2001, 2003),
            judged=(2003, 2005),
        )


def test_chances_that_cannot_be_stated_are_left_out(make_record: MakeRecord) -> None:
    record = make_record("2001-01-01", "2005-12-31")
    assert frost_verdicts(record, "Here", southern=False, fitted=(2001, 2003), judged=(2004, 2005)) == ()
    assert leave_one_out_verdicts(record, "Here", southern=False) == ()


def test_each_year_is_judged_by_the_others(make_record: MakeRecord) -> None:
    cold = {f"{2000 + k}-04-{k:02d}": -1.0 for k in range(1, 12)}
    record = make_record("2001-01-01", "2011-12-31", cold)
    verdicts = leave_one_out_verdicts(record, "Here", southern=False)
    at_half = next(v for v in verdicts if v.season == "spring" and v.threshold_c == 0 and v.chance_pct == 50)
    # by hand: leaving out k, the median of the rest is 6.5 (rounded to 7) for k < 7, else 5.5 (6)
    assert (at_half.happened, at_half.judged) == (5, 11)


def test_a_table_pools_its_lines() -> None:
    verdicts = [
        Verdict("Here", "spring", 0.0, 10, 1, 10),
        Verdict("Here", "autumn", 0.0, 10, 2, 10),
        Verdict("There", "spring", 0.0, 10, 3, 10),
    ]
    lines = markdown_table(verdicts).splitlines()
    assert lines[2] == "| Here | spring | 0.0 °C | 1 of 10 | – | – | – | – |"
    assert "| Here | both | all | 3 of 20 | – | – | – | – |" in lines
    assert lines[-1] == "| all | both | all | 6 of 30 (20%) | – | – | – | – |"
