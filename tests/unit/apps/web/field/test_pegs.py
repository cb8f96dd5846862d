from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from django.test import Client

from bedwright.apps.web.field.models import PegLink
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.accepting import accept
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.models import SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.papers import PaperName, default_label_sheet, write_papers
from bedwright.papers.labels import scan_text
from bedwright.store.season import season_from_text
from tests.unit.apps.web.log.lines import line, sender

SignIn = Callable[[User | None], Client]


@pytest.fixture
def row_code(saved_plan: SavedPlan) -> str:
    return next(each.label_code for each in plan_of(saved_plan).plantings if each.code == "carrot-1")


@pytest.fixture
def peg(garden: Garden) -> PegLink:
    return PegLink.objects.create(garden=garden, public=True)


def test_a_visitor_sees_what_grows_what_is_eaten_and_what_was_done_for_the_soil(
    garden: Garden, volunteer: User, peg: PegLink, row_code: str, sign_in: SignIn
) -> None:
    done = [
        line(kind="work", quantity=None, unit="", task="carrot-1:prepare", note="a private word"),
        line(kind="sown", quantity=30, unit="plants", task="carrot-1:sow"),
    ]
    accept(garden, sender(garden, volunteer), done)
    answer = sign_in(None).get(f"/p/{peg.token}/{row_code}")
    page = answer.content.decode()
    assert answer.status_code == 200
    assert "Daucus carota" in page
    assert "What is eaten" in page
    assert "What is not eaten" in page
    assert "compost spread" in page
    assert "Sown here on" in page
    for private in ("private word", "Vela", "Corin", "52.3", f"/garden/{garden.pk}/"):
        assert private not in page


def test_a_member_comes_to_the_row_and_may_look_at_the_card(
    garden: Garden, volunteer: User, outsider: User, peg: PegLink, row_code: str, sign_in: SignIn
) -> None:
    client = sign_in(volunteer)
    answer = client.get(f"/p/{peg.token}/{row_code}")
    assert answer["Location"] == f"/garden/{garden.pk}/field/#row={row_code}"
    assert client.get(f"/p/{peg.token}/{row_code}?card=1").status_code == 200
    assert sign_in(outsider).get(f"/p/{peg.token}/{row_code}").status_code == 200


def test_cards_that_are_not_public_are_for_members_alone(
    volunteer: User, peg: PegLink, row_code: str, sign_in: SignIn
) -> None:
    PegLink.objects.update(public=False)
    assert sign_in(None).get(f"/p/{peg.token}/{row_code}").status_code == 404
    assert sign_in(volunteer).get(f"/p/{peg.token}/{row_code}").status_code == 302


def test_an_unknown_row_is_said_to_be_unknown_and_an_unknown_link_is_no_page(
    peg: PegLink, saved_plan: SavedPlan, sign_in: SignIn
) -> None:
    answer = sign_in(None).get(f"/p/{peg.token}/Z99")
    assert answer.status_code == 404
    assert "earlier plan" in answer.content.decode()
    assert sign_in(None).get("/p/zzzzzzzzzz/A1").status_code == 404


def test_links_are_made_hidden_shown_and_renewed(
    garden: Garden, coordinator: User, saved_plan: SavedPlan, sign_in: SignIn
) -> None:
    client = sign_in(coordinator)
    address = f"/garden/{garden.pk}/field/pegs/"
    assert client.get(f"{address}labels.pdf").status_code == 404
    assert "Put links on labels" in client.get(address).content.decode()
    for _ in range(2):
        client.post(address, {"do": "make"})
    link = PegLink.objects.get()
    assert link.public
    assert f"/p/{link.token}/" in client.get(address).content.decode()
    client.post(address, {"do": "close"})
    assert not PegLink.objects.get().public
    client.post(address, {"do": "open"})
    client.post(address, {"do": "renew"})
    assert PegLink.objects.get().token != link.token
    client.post(address, {"do": "nonsense"})
    labels = client.get(f"{address}labels.pdf")
    assert labels.content.startswith(b"%PDF")


def test_a_label_holds_the_codes_or_with_a_base_the_address(small_season: str) -> None:
    planting = season_from_text(small_season).plantings[0]
    row = planting.rows[0]
    assert scan_text(planting, row) == f"{row.code} {planting.code}"
    assert (
        scan_text(planting, row, "https://garden.example/p/abc/")
        == f"https://garden.example/p/abc/{row.code}"
    )


def test_labels_change_with_a_base_and_are_the_same_bytes_without(small_season: str, tmp_path: Path) -> None:
    plan = season_from_text(small_season)
    only: tuple[PaperName, ...] = ("labels",)

    def labels(name: str, base: str | None) -> bytes:
        (tmp_path / name).mkdir()
        sheet = default_label_sheet("a4").name
        (file,) = write_papers(
            plan, tmp_path / name, paper="a4", units="metric", label_sheet=sheet, only=only, link_base=base
        )
        return file.read_bytes()

    assert labels("one", None) == labels("two", None)
    assert labels("three", "https://garden.example/p/abc") != labels("four", None)


def test_the_worker_of_pegs_is_the_same_for_every_token(client: Client, db: None) -> None:
    texts = {client.get(f"/p/{token}/worker.js").content for token in ("abc", "def")}
    assert len(texts) == 1
