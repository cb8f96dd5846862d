"""Blocks moved and pinned by hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse

from bedwright.apps.web.gardens.models import BookRevision, Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.drawing import table
from bedwright.apps.web.season.drawing.pins import freed, keeping, pinned_codes, settled
from bedwright.apps.web.season.making import make_plan
from bedwright.apps.web.season.models import PlanKind, PlanState, SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.book import Pin
from bedwright.model.season import Planting, SeasonPlan
from bedwright.store.season import season_from_text
from tests.unit.apps.web.conftest import SMALL_BOOK

SignIn = Callable[[User | None], Client]


@pytest.fixture
def plan(small_season: str) -> SeasonPlan:
    return season_from_text(small_season)


@pytest.fixture
def carrot(plan: SeasonPlan) -> Planting:
    return next(each for each in plan.plantings if each.crop.name == "carrot")


@pytest.fixture
def small_garden(garden: Garden, saved_plan: SavedPlan, coordinator: User) -> Garden:
    """The garden with the book that its plan was made from."""
    keep(garden, SMALL_BOOK, author=coordinator, follows=garden.head)
    return garden


def pins_now(garden: Garden) -> tuple[Pin, ...]:
    book = head_book(Garden.objects.get(pk=garden.pk))
    assert book is not None
    return book.pins


def post(
    client: Client, name: str, garden: Garden, saved_plan: SavedPlan, code: str, **data: object
) -> HttpResponse:
    url = reverse(f"season:{name}", args=[garden.pk, saved_plan.pk, code])
    answer = client.post(url, data, headers={"HX-Request": "true"})
    assert isinstance(answer, HttpResponse)
    return answer


def test_a_pin_holds_a_planting_where_and_when_it_is(plan: SeasonPlan, carrot: Planting) -> None:
    (pin,) = keeping(plan, carrot, ())
    assert pin == Pin(carrot.code, carrot.bed_code, carrot.along_m[0], carrot.dates.in_ground)
    assert pinned_codes(plan, (pin,)) == {carrot.code}


def test_pinning_again_replaces_the_pin_and_leaves_others(plan: SeasonPlan, carrot: Planting) -> None:
    other = Pin("lettuce-1", "A")
    pins = keeping(plan, carrot, (other,))
    pins = settled(plan, carrot, pins, bed_code="A", along_m=1.0, in_ground=None)
    assert pins == (other, Pin(carrot.code, "A", 1.0))
    assert freed(plan, carrot, pins) == (other,)


def test_each_place_of_a_split_planting_is_pinned_to_its_own(plan: SeasonPlan, carrot: Planting) -> None:
    second = replace(carrot, code=f"{carrot.code}-b", request_code=carrot.code, along_m=(3.0, 4.0))
    split = replace(plan, plantings=(*plan.plantings, second))
    pins = settled(split, second, (), bed_code="A", along_m=2.0, in_ground=None)
    assert [(pin.planting_code, pin.along_m, pin.n_plants) for pin in pins] == [
        (carrot.code, carrot.along_m[0], carrot.n_plants),
        (second.code, 2.0, second.n_plants),
    ]
    assert freed(split, carrot, pins) == ()


def test_pinning_and_unpinning_write_revisions_of_the_book(
    sign_in: SignIn, leader: User, small_garden: Garden, saved_plan: SavedPlan, carrot: Planting
) -> None:
    client = sign_in(leader)
    html = post(client, "pin", small_garden, saved_plan, carrot.code).content.decode()
    assert "Kept in the garden book" in html
    assert [pin.planting_code for pin in pins_now(small_garden)] == [carrot.code]
    post(client, "unpin", small_garden, saved_plan, carrot.code)
    assert pins_now(small_garden) == ()


def test_a_pin_can_be_undone_while_it_is_the_newest_revision(
    sign_in: SignIn, leader: User, small_garden: Garden, saved_plan: SavedPlan, carrot: Planting
) -> None:
    client = sign_in(leader)
    post(client, "pin", small_garden, saved_plan, carrot.code)
    number = BookRevision.objects.filter(garden=small_garden).latest("number").number
    html = post(client, "undo-pin", small_garden, saved_plan, carrot.code, base=number - 1).content.decode()
    assert "nothing was undone" in html
    html = post(client, "undo-pin", small_garden, saved_plan, carrot.code, base=number).content.decode()
    assert "Undone." in html
    assert pins_now(small_garden) == ()


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ({"bed": "Q"}, "Q is not one of the available choices"),
        ({"along": "far"}, "Enter a number"),
        ({"along": "-1"}, "greater than or equal to 0"),
        ({"day": "soon"}, "Enter a valid date"),
    ],
)
def test_numbers_that_are_none_are_told_at_their_field(
    sign_in: SignIn,
    leader: User,
    small_garden: Garden,
    saved_plan: SavedPlan,
    carrot: Planting,
    numbers: dict[str, str],
    words: str,
) -> None:
    sound = {"bed": "A", "along": "1", "day": carrot.dates.in_ground.isoformat(), "base": "2"}
    html = post(
        sign_in(leader), "move", small_garden, saved_plan, carrot.code, **{**sound, **numbers}
    ).content.decode()
    assert words in html
    assert pins_now(small_garden) == ()


def test_a_start_beyond_the_bed_is_refused_in_the_words_of_the_book(
    sign_in: SignIn, leader: User, small_garden: Garden, saved_plan: SavedPlan, carrot: Planting
) -> None:
    day = carrot.dates.in_ground.isoformat()
    html = post(
        sign_in(leader), "move", small_garden, saved_plan, carrot.code, bed="A", along="9", day=day, base=2
    ).content.decode()
    assert 'role="alert"' in html
    assert pins_now(small_garden) == ()


def test_a_reader_sees_no_numbers_to_move_by(
    sign_in: SignIn, reader: User, small_garden: Garden, saved_plan: SavedPlan, carrot: Planting
) -> None:
    url = reverse("season:why", args=[small_garden.pk, saved_plan.pk, carrot.code])
    assert "data-move" not in sign_in(reader).get(url).content.decode()


def test_the_first_plan_has_none_before_it(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan
) -> None:
    url = reverse("season:changes", args=[garden.pk, saved_plan.pk])
    assert "first plan" in sign_in(reader).get(url).content.decode()


def test_what_is_different_is_told_sentence_by_sentence(
    sign_in: SignIn, reader: User, garden: Garden, saved_plan: SavedPlan
) -> None:
    again = SavedPlan.objects.get(pk=saved_plan.pk)
    again.pk = None
    again.save()
    url = reverse("season:changes", args=[garden.pk, again.pk])
    html = sign_in(reader).get(url).content.decode()
    assert "No planting stands elsewhere" in html
    assert "worth the same" in html


@pytest.fixture
def movable(small_garden: Garden, saved_plan: SavedPlan, monkeypatch: pytest.MonkeyPatch) -> SavedPlan:
    """The plan as made from the newest book, on a day before anything went in."""
    for module in ("table", "views_moves"):
        name = f"bedwright.apps.web.season.drawing.{module}.day_now"
        monkeypatch.setattr(name, lambda saved: saved.today)
    saved_plan.revision = head_of(small_garden)
    saved_plan.save()
    return saved_plan


def head_of(garden: Garden) -> BookRevision:
    head = Garden.objects.get(pk=garden.pk).head
    assert head is not None
    return head


def test_a_move_is_tried_with_its_cost_and_nothing_is_kept(
    sign_in: SignIn, leader: User, small_garden: Garden, movable: SavedPlan, carrot: Planting
) -> None:
    day = carrot.dates.in_ground + timedelta(weeks=1)
    answer = post(
        sign_in(leader), "move", small_garden, movable, carrot.code, bed="A", along="1.02", day=day, base=2
    )
    html = answer.content.decode()
    assert "Tried, not kept" in html
    assert "This costs" in html
    assert 'id="trial-data"' in html
    assert pins_now(small_garden) == ()
    assert small_garden.plans.count() == 1


def test_a_move_that_changes_nothing_offers_nothing_to_keep(
    sign_in: SignIn, leader: User, small_garden: Garden, movable: SavedPlan, carrot: Planting
) -> None:
    day, along = carrot.dates.in_ground, carrot.along_m[0]
    html = post(
        sign_in(leader), "move", small_garden, movable, carrot.code, bed="A", along=along, day=day, base=2
    ).content.decode()
    assert "It stays where it is" in html
    assert "data-keep" not in html


def test_a_day_that_is_none_of_those_worked_out_is_refused_with_days_that_would_do(
    sign_in: SignIn, leader: User, small_garden: Garden, movable: SavedPlan, carrot: Planting
) -> None:
    html = post(
        sign_in(leader), "move", small_garden, movable, carrot.code, bed="A", along="1", day="2027-12-24",
        base=2,
    ).content.decode()  # fmt: skip
    assert "Days that would do" in html
    assert "data-refused" in html


def kept_move(client: Client, garden: Garden, saved: SavedPlan, planting: Planting) -> SavedPlan:
    """The plan with a planting kept 1 m along its bed, made."""
    day = planting.dates.in_ground.isoformat()
    post(client, "keep", garden, saved, planting.code, bed="A", along_m="1.0", day=day)
    made = garden.plans.exclude(pk=saved.pk).latest("pk")
    make_plan.call(made.pk)
    made.refresh_from_db()
    assert made.state == PlanState.DONE, made.problems
    return made


def test_a_kept_move_is_settled_in_the_book_and_a_whole_plan_follows(
    sign_in: SignIn, leader: User, small_garden: Garden, movable: SavedPlan, carrot: Planting
) -> None:
    made = kept_move(sign_in(leader), small_garden, movable, carrot)
    assert pins_now(small_garden) == (Pin(carrot.code, "A", 1.0),)
    plan = plan_of(made)
    now = next(each for each in plan.plantings if each.code == carrot.code)
    assert now.along_m[0] == pytest.approx(1.0)
    assert plan.care is not None
    assert plan.book.pins == pins_now(small_garden)
    assert (made.kind, made.follows) == (PlanKind.MOVED, movable)


def test_the_panel_waits_for_the_kept_plan_and_then_leads_to_it(
    sign_in: SignIn, leader: User, small_garden: Garden, movable: SavedPlan, carrot: Planting
) -> None:
    client = sign_in(leader)
    url = reverse("season:kept", args=[small_garden.pk, movable.pk, carrot.code])
    assert client.get(url).headers["Location"] == reverse("season:plan", args=[small_garden.pk, movable.pk])
    asked = {"HX-Request": "true"}
    assert "/drawing/?planting=carrot-1" in client.get(url, headers=asked).headers["HX-Redirect"]
    assert "/beds/?planting=carrot-1" in client.get(f"{url}?to=beds", headers=asked).headers["HX-Redirect"]
    SavedPlan.objects.filter(pk=movable.pk).update(state=PlanState.WORKING)
    assert client.get(url, headers=asked).status_code == 204
    SavedPlan.objects.filter(pk=movable.pk).update(state=PlanState.FAILED)
    assert client.get(url, headers=asked).headers["HX-Redirect"].endswith(f"/season/{movable.pk}/")


def test_a_kept_move_is_undone_with_book_and_plan_and_nothing_is_lost(
    sign_in: SignIn, leader: User, small_garden: Garden, movable: SavedPlan, carrot: Planting
) -> None:
    client = sign_in(leader)
    made = kept_move(client, small_garden, movable, carrot)
    client.post(reverse("season:undo-move", args=[small_garden.pk, made.pk]))
    back = small_garden.plans.latest("pk")
    assert back.kind == PlanKind.BACK
    assert plan_of(back) == plan_of(movable)
    assert pins_now(small_garden) == ()
    assert small_garden.plans.count() == 3
    client.post(reverse("season:undo-move", args=[small_garden.pk, made.pk]))
    assert small_garden.plans.count() == 3


def test_a_move_on_a_plan_that_was_overtaken_is_refused(
    sign_in: SignIn, leader: User, small_garden: Garden, movable: SavedPlan, carrot: Planting
) -> None:
    client = sign_in(leader)
    kept_move(client, small_garden, movable, carrot)
    day = carrot.dates.in_ground.isoformat()
    answer = post(client, "keep", small_garden, movable, carrot.code, bed="A", along_m="2.0", day=day)
    assert "newer plan" in answer.content.decode()
    assert pins_now(small_garden) == (Pin(carrot.code, "A", 1.0),)


def test_the_table_for_trying_is_laid_out_beforehand(
    sign_in: SignIn, leader: User, small_garden: Garden, movable: SavedPlan
) -> None:
    answer = sign_in(leader).post(reverse("season:ready", args=[small_garden.pk, movable.pk]))
    assert answer.status_code == 204


def test_nobody_waits_while_a_plan_is_made_ready_for_somebody_else(
    sign_in: SignIn, leader: User, garden: Garden, saved_plan: SavedPlan
) -> None:
    address = reverse("season:ready", args=[garden.pk, saved_plan.pk])
    with table._MAKING:
        assert sign_in(leader).post(address).status_code == 202
