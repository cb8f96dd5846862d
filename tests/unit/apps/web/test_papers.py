from __future__ import annotations

import io
import zipfile
from collections.abc import Callable

import pypdf
from django.test import Client

from bedwright.apps.web.field.models import PegLink, new_token
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.papers.made import paper_file
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.models import SavedPlan

SignIn = Callable[[User | None], Client]


def labels(client: Client, garden: Garden, plan: SavedPlan) -> bytes:
    return client.get(f"/garden/{garden.pk}/papers/{plan.pk}/labels.pdf").content


def test_labels_among_the_papers_hold_the_gardens_peg_links_and_follow_new_ones(
    sign_in: SignIn, garden: Garden, saved_plan: SavedPlan, leader: User
) -> None:
    client = sign_in(leader)
    plain = labels(client, garden, saved_plan)
    link = PegLink.objects.create(garden=garden, public=True)
    linked = labels(client, garden, saved_plan)
    assert linked != plain
    base = f"http://testserver/p/{link.token}"
    kept = paper_file(saved_plan, "labels.pdf", "a4", "metric", base)
    assert kept is not None
    assert kept.read_bytes() == linked
    link.token = new_token()
    link.save()
    assert labels(client, garden, saved_plan) not in {plain, linked}
    packed = client.get(f"/garden/{garden.pk}/papers/{saved_plan.pk}/everything.zip").content
    with zipfile.ZipFile(io.BytesIO(packed)) as files:
        assert files.read("labels.pdf") == labels(client, garden, saved_plan)
        assert len(files.namelist()) == len(set(files.namelist()))


def test_one_bed_can_be_printed_alone_in_any_size(
    sign_in: SignIn, garden: Garden, saved_plan: SavedPlan, reader: User
) -> None:
    client = sign_in(reader)
    page = client.get(f"/garden/{garden.pk}/papers/").content.decode()
    assert "bed=A" in page
    address = f"/garden/{garden.pk}/papers/{saved_plan.pk}/bed-sheets.pdf"
    for paper, high_pt in (("a4", 842), ("letter", 792)):
        answer = client.get(address, {"bed": "A", "paper": paper})
        sheet = pypdf.PdfReader(io.BytesIO(answer.content))
        sides = {
            round(float(side)) for side in (sheet.pages[0].mediabox.height, sheet.pages[0].mediabox.width)
        }
        assert high_pt in sides, paper
        assert "carrot" in sheet.pages[0].extract_text()
        assert 'filename="bed-sheet-A.pdf"' in answer.headers["content-disposition"]
    assert client.get(address, {"bed": "Z"}).status_code == 404


def test_a_german_page_says_before_the_papers_that_they_are_english(
    sign_in: SignIn, garden: Garden, saved_plan: SavedPlan, reader: User
) -> None:
    client = sign_in(reader)

    def page(language: str) -> str:
        address = f"/garden/{garden.pk}/papers/"
        return client.get(address, headers={"accept-language": language}).content.decode()

    told = "gibt es bisher nur auf Englisch"
    assert page("de").index(told) < page("de").index("planting-plan.pdf")
    assert "data-english" not in page("en")


def test_papers_of_a_plan_that_the_book_has_left_behind_say_so(
    sign_in: SignIn, garden: Garden, saved_plan: SavedPlan, leader: User, reader: User
) -> None:
    told, again = "The book has changed since this plan was made", "Make the plan again"

    def pages(user: User) -> list[str]:
        addresses = (f"/garden/{garden.pk}/papers/", f"/garden/{garden.pk}/season/{saved_plan.pk}/")
        return [sign_in(user).get(address).content.decode() for address in addresses]

    assert not any(told in page for page in pages(leader))
    assert garden.head is not None
    keep(garden, f"{garden.head.text}# a line more\n", author=leader, follows=garden.head)
    assert all(told in page and again in page for page in pages(leader))
    assert all(told in page and again not in page for page in pages(reader))
