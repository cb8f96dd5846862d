from dataclasses import replace
from datetime import date

from bedwright.papers.measures import Measures
from bedwright.papers.order_list import order_list_data
from bedwright.papers.sources_pages import sources_data, used_sources
from bedwright.papers.typesetting import typeset
from bedwright.papers.week_list import weeks_of
from tests.plans import demo_plan
from tests.unit.papers.pdf_reading import words_of


def test_every_job_starts_once_in_the_week_list() -> None:
    plan = demo_plan()
    listed = [
        job["title"]
        for week in weeks_of(plan, Measures("metric"))
        for part in week["beds"]
        for job in part["jobs"]
    ]
    assert sorted(listed) == sorted(task.title for task in plan.tasks)


def test_a_job_that_lasts_is_named_in_every_week_it_goes_on() -> None:
    plan = demo_plan()
    pick = next(task for task in plan.tasks if task.code == "kale-pick-1")
    n_weeks = sum(
        1
        for week in weeks_of(plan, Measures("metric"))
        for words in week["going_on"]
        if words.startswith(pick.title)
    )
    assert n_weeks == (pick.end - pick.start).days // 7 + (pick.end.weekday() < pick.start.weekday())


def test_weeks_start_on_monday() -> None:
    assert weeks_of(demo_plan(), Measures("metric"))[0]["heading"] == "Week of Monday 9 February 2026"
    assert date(2026, 2, 9).isoweekday() == 1


def test_the_drawer_and_its_doubt_stand_beside_what_is_left_to_buy() -> None:
    plan = demo_plan()
    words = words_of(typeset("parts", order_list_data(plan, "a4", "metric"), plan.made_on))
    assert "40 from lot-1: 82 % (74 to 88 %), own test, 100 sown" in words
    assert "152 seeds (about 3.2 g)" in words
    assert "federal minimum standard" in words


def test_what_fell_short_is_told_in_plain_words() -> None:
    plan = demo_plan()
    words = words_of(typeset("sources", sources_data(plan, "a4", "metric"), plan.made_on))
    assert "10 of 20 plants placed, 10 short; 3.20 m of row have no place for 14 weeks." in words
    assert "Bed E is taken by sweet corn until 5 September." in words
    assert "Bed D has had no soil test" in words


def test_every_source_used_is_listed_even_one_the_plan_does_not_know() -> None:
    plan = demo_plan()
    assert set(used_sources(plan)) == {"TRIAL_A", "TRIAL_B", "MEMORY"}
    orphan = replace(plan, sources={})
    words = words_of(typeset("sources", sources_data(orphan, "a4", "metric"), plan.made_on))
    assert "not in the plan's list of sources" in words


def test_a_season_that_meets_every_wish_says_so() -> None:
    plan = replace(demo_plan(), shortfalls=(), warnings=())
    words = words_of(typeset("sources", sources_data(plan, "letter", "us"), plan.made_on))
    assert "Every wish is met in full." in words
