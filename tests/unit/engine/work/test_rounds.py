"""Small jobs joined into rounds."""

from dataclasses import replace

from bedwright.engine.work.rounds import in_rounds
from tests.unit.engine.work.day import crowd, job, plan


def test_small_jobs_of_a_kind_make_a_round_of_at_most_a_block() -> None:
    small = tuple(job(f"weed:{bed}", 20, bed_code=bed) for bed in "ABC")
    found = in_rounds(small)
    assert [(each.parts, each.person_min) for each in found] == [(("weed:A", "weed:B"), 40), ((), 20)]
    assert found[0].title == "weed, beds A, B: 2 jobs"


def test_jobs_that_ask_different_things_of_people_stay_apart() -> None:
    assert len(in_rounds((job("a", 10), job("b", 10, sitting=False)))) == 2
    assert len(in_rounds((job("a", 10), replace(job("b", 10), kind="thin")))) == 2


def test_what_waits_for_a_job_waits_for_its_round() -> None:
    jobs = (job("a", 10), job("b", 10), replace(job("c", 60, after=("b",)), kind="mulch"))
    found = {each.kind: each for each in in_rounds(jobs)}
    assert found["mulch"].after == (found["weed"].code,)


def test_a_round_is_worth_the_mean_of_its_minutes() -> None:
    (found,) = in_rounds((job("a", 10, weight=9), job("b", 30, weight=1)))
    # (9 x 10 + 1 x 30) / 40 = 3
    assert found.weight == 3


def test_one_person_does_a_round_before_the_break() -> None:
    small = tuple(job(f"weed:{bed}", 9, bed_code=bed) for bed in "ABCDE")
    made = plan(in_rounds(small), crowd(1))
    assert [(each.finished, each.needed_min) for each in made.outcomes] == [(True, 45)]
    assert len(made.teams) == 1
