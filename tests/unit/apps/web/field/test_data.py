from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.test import Client
from django.utils import timezone, translation

from bedwright.apps.web.field.season_data import season_data
from bedwright.apps.web.field.worker import MODULES, assets
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.accepting import accept
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.models import SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.engine.work.traits import CAUTIONS, TRAITS
from bedwright.papers import cautions as paper_cautions
from bedwright.papers.cautions import LOCAL_RULES
from tests.unit.apps.web.log.lines import line, sender

SignIn = Callable[[User | None], Client]


@pytest.fixture
def sowing_day(saved_plan: SavedPlan, monkeypatch: pytest.MonkeyPatch) -> date:
    """Today is the day on which the carrots go in."""
    day = next(each.start for each in plan_of(saved_plan).tasks if each.code == "carrot-1:sow")
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=ZoneInfo("Europe/London"))
    monkeypatch.setattr(timezone, "now", lambda: noon)
    return day


def data_of(garden: Garden, user: User) -> dict[str, Any]:
    told = season_data(garden, may_record=True, author_id=user.pk)
    read: dict[str, Any] = json.loads(json.dumps(told))
    return read


def job(data: dict[str, Any], code: str) -> dict[str, Any]:
    found: dict[str, Any] = next(each for each in data["jobs"] if each["code"] == code)
    return found


def test_without_a_plan_there_is_nothing_to_do(garden: Garden, volunteer: User) -> None:
    data = data_of(garden, volunteer)
    assert (data["plan"], data["jobs"]) == (None, [])


def test_a_job_says_how_it_is_done_with_picture_measures_tools_and_cautions(
    garden: Garden, volunteer: User, sowing_day: date
) -> None:
    data = data_of(garden, volunteer)
    sow = job(data, "carrot-1:sow")
    assert sow["start"] == sowing_day.isoformat()
    assert "deep" in sow["words"]
    assert "from plant to plant" in sow["words"]
    assert data["pictures"][sow["picture"]].startswith("<svg")
    assert "string line" in sow["tools"]
    assert all(each["text"] and each["source"] for each in sow["cautions"])
    assert any("Wash hands" in each["text"] for each in sow["cautions"])
    (bed,) = data["beds"]
    assert data["walk"] == ["A"]
    assert 'data-planting="carrot-1"' in bed["plan"]
    assert " style=" not in bed["plan"] + data["pictures"][sow["picture"]]


def test_care_of_the_week_is_among_the_jobs(garden: Garden, volunteer: User, sowing_day: date) -> None:
    assert any(each["kind"] == "weed" for each in data_of(garden, volunteer)["jobs"])


def test_what_others_ticked_is_known_without_their_names_or_notes(
    garden: Garden, volunteer: User, leader: User, sowing_day: date
) -> None:
    leader.name = "Zephyrine"
    leader.save()
    tick = line(kind="sown", quantity=30, unit="plants", task="carrot-1:sow", note="a private word")
    accept(garden, sender(garden, leader), [tick])
    data = data_of(garden, volunteer)
    sow = job(data, "carrot-1:sow")
    assert sow["state"] == "done"
    assert [(each["quantity"], each["mine"]) for each in sow["lines"]] == [(30.0, False)]
    text = json.dumps(data)
    assert "private" not in text
    assert "Zephyrine" not in text
    assert job(data_of(garden, leader), "carrot-1:sow")["lines"][0]["mine"]


def test_a_late_sowing_moves_the_jobs_after_it(garden: Garden, volunteer: User, sowing_day: date) -> None:
    late = sowing_day + timedelta(days=4)
    tick = line(
        timezone.now(), kind="sown", quantity=None, unit="", task="carrot-1:sow", day=late.isoformat()
    )
    accept(garden, sender(garden, volunteer), [tick])
    data = data_of(garden, volunteer)
    assert data["plantings"]["carrot-1"]["late"] == 4
    planned = plan_of(garden.plans.get())
    first_pick = next(each for each in planned.plantings if each.code == "carrot-1").dates.first_pick
    assert data["plantings"]["carrot-1"]["pick"][0] == (first_pick + timedelta(days=4)).isoformat()


def test_the_page_names_nobody_since_phones_keep_it(garden: Garden, volunteer: User, sign_in: SignIn) -> None:
    page = sign_in(volunteer).get(f"/garden/{garden.pk}/field/").content.decode()
    assert "Vela" not in page
    assert "csrf" not in page
    assert "<style" not in page


def test_the_worker_lists_every_script_and_changes_with_language(garden: Garden, sign_in: SignIn) -> None:
    client = sign_in(None)
    text = client.get(f"/garden/{garden.pk}/field/worker.js").content.decode()
    assert all(asset in text for asset in assets())
    german = client.get(f"/garden/{garden.pk}/field/worker.js", headers={"Accept-Language": "de"})
    assert german.content.decode() != text
    assert german["Content-Type"].startswith("text/javascript")


def test_every_script_that_a_script_imports_is_kept_for_use_without_a_network() -> None:
    from importlib.resources import files  # noqa: PLC0415 - used here alone

    folder = files("bedwright.apps.web.field") / "static" / "field"
    scripts = {each.name.removesuffix(".js") for each in folder.iterdir() if each.name.endswith(".js")}
    assert scripts == set(MODULES)


def test_every_word_of_engine_and_papers_on_the_field_pages_is_german_too() -> None:
    keys = {key for traits in TRAITS.values() for key in traits.cautions} | {"hands"}
    texts = [CAUTIONS[key].text for key in keys]
    texts += [tool.tool for traits in TRAITS.values() for tool in traits.tools]
    texts += [each.text for each in (paper_cautions.UTILITIES, paper_cautions.POISONOUS)]
    texts += [paper_cautions.BROAD_BEAN.text, LOCAL_RULES, "not to scale", "level with the cell"]
    texts += ["bury to first leaves", "crown level with the soil"]
    with translation.override("de"):
        assert [text for text in texts if translation.gettext(text) == text] == []


def test_texts_of_the_scripts_are_all_there() -> None:
    import re  # noqa: PLC0415 - used here alone
    from importlib.resources import files  # noqa: PLC0415 - same

    from bedwright.apps.web.field.words import words  # noqa: PLC0415 - same

    folder = files("bedwright.apps.web.field") / "static" / "field"
    used: set[str] = set()
    for name in MODULES:
        source = (folder / f"{name}.js").read_text(encoding="utf-8")
        used |= set(re.findall(r'\bt\("([^"]+)"', source))
    assert used - set(words()) == set()


def test_every_kind_of_job_has_a_word_and_an_instruction(
    garden: Garden, volunteer: User, saved_plan: SavedPlan
) -> None:
    from bedwright.apps.web.field.words import words  # noqa: PLC0415 - used here alone

    kinds = {task.kind for task in plan_of(saved_plan).tasks} - {"order"}
    assert kinds
    assert {f"kind {kind}" for kind in kinds | set(TRAITS)} - set(words()) == set()
