"""Plans of a workday."""

import pytest

from bedwright.engine.work import SOURCES, blocks_of, plan_workday
from bedwright.engine.work.blocks import minutes_in
from bedwright.engine.work.traits import CAUTIONS, TRAITS
from bedwright.model.work import DayWeather, ShedTool, SpareHelper, ToolNeed
from tests.unit.engine.work.day import DAY, SESSION, TROWEL, at, crowd, helper, job, plan, why_left


def test_forty_five_minutes_of_work_are_followed_by_a_break() -> None:
    blocks = blocks_of(*SESSION)
    assert [(block.start_min, block.end_min) for block in blocks] == [(610, 655), (670, 710)]


def test_a_session_too_short_for_work_has_no_blocks() -> None:
    assert blocks_of(600, 630) == ()
    with pytest.raises(ValueError, match="ends after it starts"):
        blocks_of(600, 600)


def test_a_short_stay_in_a_block_counts_as_absence() -> None:
    first = blocks_of(*SESSION)[0]
    assert minutes_in(helper(arrives_min=640), first) == 15
    assert minutes_in(helper(arrives_min=641), first) == 0


def test_one_person_finishes_one_job() -> None:
    made = plan((job(),), (helper(),))
    assert at(made, "weed") == {1: ("Ilse",)}
    (outcome,) = made.outcomes
    assert (outcome.planned_min, outcome.finished) == (45, True)


def test_work_begins_as_soon_as_nothing_speaks_against_it() -> None:
    made = plan((job("weed"), job("sow"), job("tie", minutes=20)), crowd(4))
    assert {team.block for team in made.teams} == {1}


def test_the_more_pressing_job_is_done_first_where_hands_are_few() -> None:
    made = plan((job("later", 85, weight=1), job("now", 85, weight=9)), (helper(),))
    assert [team.task_code for team in made.teams] == ["now", "now"]
    assert why_left(made, "later") == "People and tools are at jobs that are more pressing."


def test_who_sits_is_given_a_job_that_can_be_done_sitting() -> None:
    made = plan((job("dig", sitting=False, weight=9), job("sow")), (helper(sitting_only=True),))
    assert at(made, "dig") == {}
    assert set(at(made, "sow")) == {1}
    assert why_left(made, "dig") == "For everyone who is there it cannot be done sitting."


def test_who_does_not_lift_is_given_nothing_to_lift() -> None:
    made = plan((job("barrow", lifting=True),), (helper(no_lifting=True), helper("Odo")))
    assert set(at(made, "barrow").values()) == {("Odo",)}


def test_who_needs_shade_is_kept_out_of_the_sun() -> None:
    made = plan((job("sun", shade=False), job("bench", weight=1)), (helper(shade_only=True),))
    assert at(made, "sun") == {}
    assert at(made, "bench")


def test_a_child_stays_beside_its_adult_at_a_job_for_children() -> None:
    child = helper("Odo", child=True, with_adult="Ilse")
    made = plan((job("canes", weight=9, child=False), job("sow", 300)), (helper(), child, helper("Wim")))
    assert all(("Odo" in names) == ("Ilse" in names) for names in at(made, "sow").values())
    assert set(at(made, "canes").values()) == {("Wim",)}


def test_a_child_adds_no_minutes() -> None:
    made = plan((job(minutes=80),), (helper(), helper("Odo", child=True, with_adult="Ilse")))
    assert [team.person_min for team in made.teams] == [45, 40]


def test_a_child_whose_adult_did_not_come_is_told() -> None:
    made = plan((job(),), (helper("Odo", child=True, with_adult="Ilse"), helper("Wim")))
    assert made.spare[0] == SpareHelper(0, "Odo", "Ilse is not there.")


def test_more_than_eight_children_in_a_group_are_asked_to_divide() -> None:
    children = tuple(helper(f"Child {k}", child=True, with_adult="Ilse") for k in range(9))
    made = plan((job(),), (helper(), *children))
    assert made.teams == ()
    assert "more than 8 children" in why_left(made, "weed")
    eight = plan((job(),), (helper(), *children[:8]))
    assert eight.teams


def test_two_groups_of_children_do_not_make_one_of_more_than_eight() -> None:
    people = tuple(
        each
        for adult in ("Ilse", "Wim")
        for each in (
            helper(adult),
            *(helper(f"{adult} {k}", child=True, with_adult=adult) for k in range(5)),
        )
    )
    made = plan((job(minutes=500),), people)
    assert all(len(team.children) == 5 for team in made.teams)


def test_a_team_stays_together() -> None:
    people = (helper("Ilse", team="Blue"), helper("Wim", team="Blue"), helper("Yara"))
    made = plan((job("a", 80), job("b", 40)), people)
    for team in made.teams:
        assert ("Ilse" in team.helpers) == ("Wim" in team.helpers)


def test_no_job_has_more_adults_than_it_has_room_for() -> None:
    made = plan((job(minutes=400, max_people=2),), crowd(5))
    assert [len(team.helpers) for team in made.teams] == [2, 2]
    assert {each.reason for each in made.spare} == {"Every job they can do has enough hands."}
    idle = made.spare_by_reason(made.blocks[0].ordinal)
    assert [len(names) for names in idle.values()] == [3]


def test_a_team_larger_than_a_job_may_fill_it_alone() -> None:
    people = tuple(helper(name, team="Blue") for name in ("Ilse", "Wim", "Yara"))
    made = plan((job(minutes=400, max_people=2),), (*people, helper("Odo")))
    assert set(at(made, "weed").values()) == {("Ilse", "Wim", "Yara")}


def test_a_job_for_two_is_not_done_by_one() -> None:
    made = plan((job(min_people=2),), (helper(),))
    assert why_left(made, "weed") == "It takes 2 adults who can do it."
    assert plan((job(min_people=2),), crowd(2)).teams


def test_tools_are_shared_out_and_never_used_twice_at_once() -> None:
    made = plan((job("a", 400, tools=TROWEL), job("b", 400, tools=TROWEL)), crowd(8))
    for block in (1, 2):
        assert sum(len(team.helpers) for team in made.teams if team.block == block) == 4


def test_a_job_whose_tool_is_not_in_the_shed_says_so() -> None:
    made = plan((job(tools=(ToolNeed("hoe", each=False),)),), crowd(2))
    assert why_left(made, "weed") == "There is no hoe in the shed."


def test_a_job_waits_for_the_one_before_it() -> None:
    made = plan((job("prepare", 80), job("sow", 40, after=("prepare",))), crowd(2))
    assert set(at(made, "prepare")) == {1}
    assert set(at(made, "sow")) == {2}


def test_a_job_whose_forerunner_cannot_be_finished_is_left_with_the_reason() -> None:
    made = plan((job("prepare", 900), job("sow", 40, after=("prepare",))), crowd(2))
    assert why_left(made, "sow") == "Not finished before it: prepare."


def test_a_forerunner_that_is_not_due_is_taken_as_done() -> None:
    assert plan((job("sow", 40, after=("prepare",)),), crowd(1)).teams


def test_newcomers_are_shown_a_job_and_the_minutes_are_taken_off() -> None:
    shown = job(minutes=200, demonstration_min=5)
    made = plan((shown,), (helper(first_time=True),))
    assert [(team.person_min, team.shown_by) for team in made.teams] == [(40, "Maren"), (40, "Maren")]
    both = plan((shown,), (helper(first_time=True), helper("Wim")))
    assert {team.shown_by for team in both.teams} == {"Wim"}


def test_newcomers_are_spread_over_those_who_have_been_before() -> None:
    jobs = (job("a", 90, demonstration_min=5, max_people=2), job("b", 90, demonstration_min=5, max_people=2))
    people = (*(helper(f"New {k}", first_time=True) for k in range(2)), *crowd(2))
    made = plan(jobs, people)
    assert "Maren" not in {team.shown_by for team in made.teams}


def test_in_the_wet_only_jobs_under_cover_are_done() -> None:
    jobs = (job("out", weight=9), job("bench", under_cover=True))
    made = plan(jobs, crowd(1), wet=True)
    assert at(made, "bench")
    assert why_left(made, "out") == "It is not under cover."
    assert "trodden soil" in made.notes[0]


def test_the_wet_list_is_there_on_dry_days_too() -> None:
    made = plan((job("bench", under_cover=True), job("out")), crowd(1))
    assert made.wet_list[0] == "bench"
    assert "clean, oil and count the tools" in made.wet_list
    assert "out" not in made.wet_list


def test_hands_are_washed_whatever_is_done_and_cautions_come_with_their_jobs() -> None:
    made = plan((job(cautions=("canes",)), job("b", 400, cautions=("lifting",), lifting=True)),
                (helper(no_lifting=True),))  # fmt: skip
    assert [caution.key for caution in made.cautions] == ["hands", "canes", "allergy", "local rules"]


def test_heat_is_cautioned_from_the_index_osha_calls_moderate() -> None:
    # OSHA, Using the Heat Index: moderate risk from 91 °F = 32.8 °C.
    def keys(index_c: float) -> set[str]:
        weather = DayWeather(heat_index_c=index_c)
        made = plan_workday((job(),), crowd(1), (), day=DAY, session=SESSION, weather=weather)
        return {caution.key for caution in made.cautions}

    assert "heat" in keys(32.8)
    assert "heat" not in keys(32.7)


def test_a_long_session_and_unknown_humidity_are_noted() -> None:
    made = plan_workday((job(),), (), (), day=DAY, session=(600, 780), weather=DayWeather(hottest_c=32.0))
    assert "more than two hours" in made.notes[0]
    assert "humidity is not known" in made.notes[1]


def test_the_same_people_and_jobs_give_the_same_plan_in_any_order() -> None:
    jobs = tuple(job(f"T{k}", 30 + 5 * k, weight=1 + k % 4) for k in range(8))
    people = crowd(7)
    first = plan(jobs, people)
    assert plan(tuple(reversed(jobs)), tuple(reversed(people))) == first


def test_the_search_is_never_worse_than_the_quick_plan() -> None:
    tools = (ShedTool("trowel", 1),)
    jobs = (job("a", 45, weight=5, tools=TROWEL), job("b", 45, weight=5, tools=TROWEL), job("c", 60))
    quick, searched = (plan(jobs, crowd(3), tools, work_limit=limit) for limit in (0.0, 0.5))
    assert quick.method == "greedy"
    assert quick.value <= searched.value <= searched.value_bound


def test_who_came_keeps_the_job_they_were_told_when_others_do_not_come() -> None:
    jobs = tuple(job(f"T{k}", 85, max_people=1) for k in range(6))
    people = crowd(6)
    first = plan(jobs, people)
    again = plan(jobs, people[::2], earlier=first)
    came = {person.name for person in people[::2]}
    before = {(team.block, name): team.task_code for team in first.teams for name in team.helpers}
    after = {(team.block, name): team.task_code for team in again.teams for name in team.helpers}
    assert after == {key: code for key, code in before.items() if key[1] in came}


def test_nobody_and_nothing_give_an_empty_plan() -> None:
    empty = plan_workday((), (), (), day=DAY)
    assert empty.teams == ()
    assert empty.blocks == ()
    nobody = plan((job(),), ())
    assert why_left(nobody, "weed") == "Nobody is there."
    nothing = plan((), crowd(1))
    assert {each.reason for each in nothing.spare} == {
        "No job that is due suits them: see the jobs under cover."
    }


def test_names_and_codes_that_repeat_are_refused() -> None:
    with pytest.raises(ValueError, match="two people"):
        plan((job(),), (helper(), helper()))
    with pytest.raises(ValueError, match="code of its own"):
        plan((job(), job()), (helper(),))


def test_every_caution_and_origin_names_a_listed_source() -> None:
    for caution in CAUTIONS.values():
        assert caution.source_ids
        assert set(caution.source_ids) <= SOURCES.keys()
    for traits in TRAITS.values():
        assert set(traits.cautions) <= CAUTIONS.keys()
    for origin in plan((job(),), crowd(1)).origins:
        assert set(origin.source_ids) <= SOURCES.keys()
