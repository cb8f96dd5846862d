import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from bedwright.model.problem import BadDocumentError
from bedwright.model.season import SeasonPlan
from bedwright.store.season import read_season, season_from_text, season_json, season_schema
from tests.demo import demo_plan as whole_plan
from tests.plans import big_plan, demo_plan


@pytest.mark.parametrize("plan", [demo_plan(), big_plan()], ids=["demo", "sixty plantings"])
def test_a_season_plan_comes_back_equal(plan: SeasonPlan, tmp_path: Path) -> None:
    path = tmp_path / "season.json"
    path.write_text(season_json(plan), encoding="utf-8")
    assert read_season(path) == plan


def test_a_plan_without_a_record_comes_back_equal() -> None:
    plan = replace(demo_plan(), climate=None, plantings=(), orders=())
    assert season_from_text(season_json(plan)) == plan


def test_the_same_plan_gives_the_same_text() -> None:
    assert season_json(demo_plan()) == season_json(demo_plan())


def test_sources_and_warnings_are_inside_and_the_version_stands_first() -> None:
    document = json.loads(season_json(demo_plan()))
    assert list(document)[:2] == ["format", "schema_version"]
    assert "TRIAL_A" in document["plan"]["sources"]
    assert document["plan"]["warnings"]


def test_the_file_fits_its_schema() -> None:
    schema = season_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(json.loads(season_json(demo_plan())), schema)


def test_a_crop_with_packet_values_is_kept_apart_from_the_plain_one() -> None:
    plan = demo_plan()
    packed = replace(plan.plantings[0].crop, sow_depth_mm=20.0)
    plan = replace(plan, plantings=(*plan.plantings, replace(plan.plantings[0], code="beet/9", crop=packed)))
    assert season_from_text(season_json(plan)).plantings[-1].crop.sow_depth_mm == 20.0


def _faults(change: Any) -> dict[str, str]:
    document = json.loads(season_json(demo_plan()))
    change(document)
    with pytest.raises(BadDocumentError) as caught:
        season_from_text(json.dumps(document))
    return {problem.where: problem.expected for problem in caught.value.problems}


def test_all_faults_are_told_at_once_with_their_places() -> None:
    def spoil(document: dict[str, Any]) -> None:
        document["plan"]["made_on"] = "soon"
        document["plan"]["plantings"][0]["way"] = "throw"
        document["plan"]["plantings"][1]["rows"][0]["n_plants"] = 2.5
        document["plan"]["plantings"][2]["crop"] = "weeds"
        document["plan"]["book"]["beds"][0]["outline"]["shape"] = "star"
        del document["plan"]["seed"]
        document["plan"]["colour"] = "green"

    faults = _faults(spoil)
    assert set(faults) == {
        "plan.made_on", "plan.plantings[0].way", "plan.plantings[1].rows[0].n_plants",
        "plan.plantings[2].crop",
        "plan.book.beds[0].outline.shape", "plan.seed", "plan.colour",
    }  # fmt: skip
    assert faults["plan.made_on"] == "a day, YYYY-MM-DD"


@pytest.mark.parametrize("text", ["", "{", "[]", '{"format": "other"}', "null"])
def test_a_file_that_is_no_season_plan_is_told_so(text: str) -> None:
    with pytest.raises(BadDocumentError):
        season_from_text(text, "season.json")


def test_another_version_is_refused_with_a_way_out() -> None:
    document = json.loads(season_json(demo_plan()))
    document["schema_version"] = 99
    with pytest.raises(BadDocumentError, match="garden book"):
        season_from_text(json.dumps(document))


def test_a_number_that_is_not_finite_is_never_written() -> None:
    plan = demo_plan()
    with pytest.raises(ValueError, match="JSON compliant"):
        season_json(replace(plan, shortfalls=(replace(plan.shortfalls[0], missing_row_m=float("nan")),)))


def test_a_whole_season_with_all_it_asks_for_comes_back_equal() -> None:
    plan = whole_plan()
    assert plan.care is not None
    text = season_json(plan)
    assert season_from_text(text) == plan
    jsonschema.validate(json.loads(text), season_schema())


def test_an_origin_that_many_numbers_share_is_written_once() -> None:
    document = json.loads(season_json(whole_plan()))
    written = [json.dumps(origin) for origin in document["origins"]]
    assert len(written) == len(set(written))


def test_records_written_as_arrays_are_checked_too() -> None:
    document = json.loads(season_json(whole_plan()))
    document["plan"]["care"]["hours"]["shares"][3].pop()
    document["plan"]["care"]["hours"]["origins"][0] = 10**6
    with pytest.raises(BadDocumentError) as caught:
        season_from_text(json.dumps(document))
    assert {problem.where for problem in caught.value.problems} == {
        "plan.care.hours.shares[3]", "plan.care.hours.origins[0]",
    }  # fmt: skip
