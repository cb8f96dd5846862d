from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from bedwright.engine.work import tasks_of
from bedwright.model.log import LoggedSeason, LogRecord
from bedwright.model.season import SeasonPlan
from bedwright.service.replan_from_log import what_is_left, what_stands
from bedwright.service.season_log import (
    conflicts_by_season,
    records_by_season,
    season_as_logged,
    standing_records,
    totals_of,
)
from tests.plantings import DATES, planting, season_plan

TODAY = date(2027, 6, 1)
PLANNED = DATES.in_ground
START = datetime(2027, 5, 1, 8, 0, tzinfo=UTC)


def record(number: int, kind: str = "sown", day: date = PLANNED, **fields: object) -> LogRecord:
    base = LogRecord(
        id=f"{number:08}",
        day=day,
        kind=kind,  # type: ignore[arg-type]
        at=START + timedelta(minutes=number),
        planting_code="carrot-1",
        crop="carrot",
        bed_code="A",
    )
    return replace(base, **fields)  # type: ignore[arg-type]


def plan() -> SeasonPlan:
    carrot = planting()
    return season_plan(carrot, tasks=tasks_of((carrot,), ()))


def logged(*records: LogRecord) -> LoggedSeason:
    return season_as_logged(plan(), records, today=TODAY)


def state_of(season: LoggedSeason, code: str) -> str:
    return next(each.state for each in season.tasks if each.task.code == code)


def test_without_a_log_nothing_moves_and_past_jobs_are_overdue() -> None:
    season = logged()
    assert [each.late_days for each in season.plantings] == [0]
    assert state_of(season, "carrot-1:sow") == "overdue"
    assert state_of(season, "carrot-1:clear") == "open"


def test_a_sowing_five_days_late_moves_all_that_follows_by_five_days() -> None:
    season = logged(record(1, day=PLANNED + timedelta(days=5), task_code="carrot-1:sow"))
    (carrot,) = season.plantings
    assert carrot.late_days == 5
    assert carrot.dates.in_ground == PLANNED + timedelta(days=5)
    assert carrot.dates.first_pick == DATES.first_pick + timedelta(days=5)
    thin = next(each for each in season.tasks if each.task.kind == "thin")
    planned = next(task for task in plan().tasks if task.kind == "thin")
    assert thin.task.start == planned.start + timedelta(days=5)
    assert thin.moved_days == 5
    assert state_of(season, "carrot-1:sow") == "done"


def test_a_sowing_in_good_time_moves_nothing_forward() -> None:
    season = logged(record(1, day=PLANNED - timedelta(days=4), task_code="carrot-1:sow"))
    assert season.plantings[0].late_days == 0
    assert season.plantings[0].dates.first_pick == DATES.first_pick


def test_a_line_without_a_task_counts_for_the_job_of_its_kind() -> None:
    assert state_of(logged(record(1)), "carrot-1:sow") == "done"


def test_a_job_done_in_part_is_not_done_and_its_parts_add_up() -> None:
    first = record(1, partly=True, quantity=10.0, unit="plants", task_code="carrot-1:sow")
    second = record(2, partly=True, quantity=15.0, unit="plants", task_code="carrot-1:sow")
    season = logged(first, second)
    sow = next(each for each in season.tasks if each.task.kind == "sow")
    assert (sow.state, sow.quantity) == ("partly", 25.0)
    assert season.plantings[0].in_ground_on is None


def test_two_reports_of_one_job_with_different_counts_are_a_conflict_and_both_are_kept() -> None:
    ours = record(1, quantity=38.0, unit="plants", task_code="carrot-1:sow")
    theirs = record(2, quantity=40.0, unit="plants", task_code="carrot-1:sow")
    (conflict,) = logged(ours, theirs).conflicts
    assert {each.id for each in conflict.records} == {ours.id, theirs.id}


def test_the_same_report_twice_or_one_without_a_count_is_no_conflict() -> None:
    one = record(1, quantity=40.0, unit="plants", task_code="carrot-1:sow")
    same = record(2, quantity=40.0, unit="plants", task_code="carrot-1:sow")
    uncounted = record(3, task_code="carrot-1:sow")
    assert logged(one, same, uncounted).conflicts == ()


def test_a_correction_takes_the_place_of_its_line() -> None:
    old = record(1, day=PLANNED + timedelta(days=9))
    new = record(2, day=PLANNED + timedelta(days=2), corrects=old.id)
    assert logged(old, new).plantings[0].late_days == 2
    assert standing_records([new, old]) == (new,)


def test_a_line_taken_away_counts_no_longer() -> None:
    old = record(1)
    assert standing_records([old, record(2, corrects=old.id, struck=True)]) == ()


def test_of_two_corrections_of_one_line_the_later_holds_alone() -> None:
    old = record(1)
    first, second = record(2, corrects=old.id), record(3, corrects=old.id)
    assert standing_records([second, old, first]) == (second,)
    further = record(4, corrects=first.id)
    assert standing_records([old, first, second, further]) == (further,)


def test_a_correction_by_a_phone_whose_clock_is_behind_still_holds() -> None:
    old = record(1)
    new = replace(record(2, corrects=old.id), at=START - timedelta(days=365))
    assert standing_records([old, new]) == (new,)


def test_a_correction_may_come_before_the_line_it_corrects() -> None:
    new = record(2, corrects="00000001")
    assert standing_records([new]) == (new,)


def test_lost_plants_are_counted_down_and_none_left_is_a_failure() -> None:
    sown = record(1)
    lost = record(2, "failed", PLANNED + timedelta(days=20), quantity=12.0, unit="plants")
    (carrot,) = logged(sown, lost).plantings
    assert (carrot.n_plants, carrot.failed_on) == (28, None)
    gone = record(3, "failed", PLANNED + timedelta(days=25))
    season = logged(sown, lost, gone)
    assert season.plantings[0].failed_on == PLANNED + timedelta(days=25)
    assert state_of(season, "carrot-1:mulch") == "dropped"
    assert what_stands(season) == ()


def test_a_count_goes_before_what_was_planned() -> None:
    counted = record(2, "counted", quantity=33.0, unit="plants")
    assert logged(record(1), counted).plantings[0].n_plants == 33


def test_what_is_picked_is_summed_by_crop() -> None:
    crates = [
        record(n, "picked", DATES.first_pick, quantity=2.5, unit="kg", task_code="carrot-1:pick")
        for n in (1, 2)
    ]
    season = logged(record(9), *crates)
    assert season.plantings[0].picked_kg == 5.0
    assert state_of(season, "carrot-1:pick") == "going on"
    (carrots,) = season.totals.harvest
    assert (carrots.crop, carrots.picked_kg, carrots.n_picks) == ("carrot", 5.0, 2)
    assert season.conflicts == ()


def test_hours_rain_and_water_are_summed() -> None:
    totals = totals_of(
        [
            record(1, "left", person_min=90.0),
            record(2, "work", person_min=30.0),
            record(3, "rain", quantity=7.5, unit="mm"),
            record(4, "watered", quantity=40.0, unit="L"),
        ]
    )
    assert (totals.hours_h, totals.rain_mm, totals.watered_l) == (2.0, 7.5, 40.0)


def test_a_late_planting_that_runs_into_the_next_on_its_ground_is_told() -> None:
    carrot = planting()
    after = replace(DATES, in_ground=DATES.clear_by + timedelta(days=3))
    leek = replace(planting("leek-1", row_code="A2", dates=after), wish_code="leek-1")
    both = season_plan(carrot, leek)
    late = record(1, day=PLANNED + timedelta(days=10))
    (squeeze,) = season_as_logged(both, [late], today=TODAY).squeezes
    assert (squeeze.planting_code, squeeze.next_code, squeeze.overlap_days) == ("carrot-1", "leek-1", 8)


def test_lines_about_plantings_of_an_earlier_plan_are_kept_apart() -> None:
    stray = record(1, planting_code="beet-1", crop="beet")
    assert logged(stray).strays == (stray,)


def test_what_stands_keeps_code_rows_and_place_with_its_true_days() -> None:
    season = logged(record(1, day=PLANNED + timedelta(days=3)))
    (stands,) = what_stands(season)
    original = plan().plantings[0]
    assert (stands.code, stands.rows, stands.along_m) == (original.code, original.rows, original.along_m)
    assert stands.dates.in_ground == PLANNED + timedelta(days=3)
    cleared = record(2, "cleared", PLANNED + timedelta(days=60))
    assert what_stands(logged(record(1), cleared)) == ()


STARTS = {"one": date(2027, 1, 1), "moved": date(2027, 2, 1), "two": date(2028, 1, 1)}


def test_codes_that_come_again_each_year_are_told_apart_by_the_plan_of_their_lines() -> None:
    first = record(1, plan_revision="one")
    made_again = record(2, plan_revision="moved")
    # Before its own season begins: onions are sown in the last days of December.
    early = record(3, "sown under cover", day=date(2027, 12, 28), plan_revision="two")
    found = records_by_season((first, made_again, early), STARTS)
    assert found == {2027: (first, made_again), 2028: (early,)}


def test_lines_without_a_plan_or_a_code_go_by_their_day() -> None:
    rain = record(1, "rain", date(2028, 1, 2), planting_code="", plan_revision="one")
    unknown = record(2, day=date(2028, 5, 1), plan_revision="deleted")
    before_all = record(3, day=date(2026, 12, 3))
    found = records_by_season((rain, unknown, before_all), STARTS)
    assert found == {2027: (before_all,), 2028: (rain, unknown)}
    assert records_by_season((rain,), {}) == {2028: (rain,)}


def test_a_correction_stays_in_the_season_of_its_line() -> None:
    first = record(1, plan_revision="one")
    struck = record(2, day=date(2028, 5, 1), plan_revision="two", corrects=first.id, struck=True)
    assert records_by_season((struck, first), STARTS) == {2027: (struck, first)}


def test_the_same_job_in_two_years_is_no_contradiction() -> None:
    one = record(1, task_code="carrot-1:sow", plan_revision="one")
    two = record(2, task_code="carrot-1:sow", day=date(2028, 4, 6), plan_revision="two")
    assert conflicts_by_season((one, two), STARTS) == ()
    again = record(3, task_code="carrot-1:sow", day=date(2028, 4, 9), plan_revision="two")
    (conflict,) = conflicts_by_season((one, two, again), STARTS)
    assert conflict.records == (two, again)


def test_what_stands_from_the_season_before_is_in_the_ground_without_a_line() -> None:
    carrot = planting()
    before = carrot.dates.in_ground - timedelta(days=300)
    stands = replace(carrot, dates=replace(carrot.dates, in_ground=before))
    season = season_as_logged(season_plan(stands), (), today=TODAY)
    assert season.plantings[0].in_ground_on == before
    assert what_stands(season) == (stands,)


def test_what_failed_or_was_cleared_is_not_left() -> None:
    assert what_is_left(plan(), logged()) == plan()
    late = logged(record(1, day=PLANNED + timedelta(days=5)))
    (left,) = what_is_left(plan(), late).plantings
    assert left.dates.in_ground == PLANNED + timedelta(days=5)
    assert what_is_left(plan(), logged(record(1, "failed"))).plantings == ()
    assert what_is_left(plan(), logged(record(1, "cleared"))).plantings == ()
