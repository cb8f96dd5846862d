from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable
from pathlib import Path

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.people.models import User
from bedwright.service.load import load
from tests.unit.apps.web.conftest import SMALL_BOOK

SignIn = Callable[[User | None], Client]


def text_of(garden: Garden) -> str:
    garden.refresh_from_db()
    assert garden.head is not None
    return garden.head.text


def test_a_book_taken_out_is_the_book_to_the_letter(sign_in: SignIn, garden: Garden, reader: User) -> None:
    answer = sign_in(reader).get(f"/garden/{garden.pk}/book/download/")
    assert answer.content.decode() == text_of(garden)


def test_all_of_a_garden_taken_out_can_be_planned_from_the_command_line(
    sign_in: SignIn, garden: Garden, coordinator: User, tmp_path: Path
) -> None:
    answer = sign_in(coordinator).get(f"/garden/{garden.pk}/take-out/")
    with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
        packed.extractall(tmp_path)
    loaded = load(tmp_path / "garden-book.yaml")
    assert loaded.book == book_of(text_of(garden))
    assert loaded.record is not None
    assert (tmp_path / "log.csv").is_file()


def test_a_book_brought_in_comes_back_to_the_letter(sign_in: SignIn, outsider: User) -> None:
    client = sign_in(outsider)
    file = SimpleUploadedFile("book.yaml", SMALL_BOOK.encode())
    answer = client.post("/new/book/", {"file": file})
    assert answer.status_code == 302
    assert text_of(Garden.objects.get()) == SMALL_BOOK


def test_a_faulty_book_brought_in_makes_no_garden_and_tells_each_line(
    sign_in: SignIn, outsider: User
) -> None:
    answer = sign_in(outsider).post("/new/book/", {"text": SMALL_BOOK.replace("loam", "lome")})
    assert answer.status_code == 422
    assert "line 8" in answer.content.decode()
    assert "loam" in answer.content.decode()
    assert not Garden.objects.exists()


def test_a_garden_from_a_few_questions(sign_in: SignIn, outsider: User) -> None:
    form = {
        "site.name": "Corner plot", "site.latitude_deg": "51.5", "site.longitude_deg": "-0.1",
        "site.elevation_m": "12", "site.time_zone": "Europe/London", "season.start": "2027-01-01",
        "weather.stated_frost.last_spring": "05-01", "weather.stated_frost.first_autumn": "10-20",
        "beds[1].code": "A", "beds[1].rectangle-or-polygon-or-circle?": "beds[1].rectangle",
        "beds[1].rectangle.length_m": "4", "beds[1].rectangle.width_m": "1.2",
        "beds[1].rectangle.east_m": "0", "beds[1].rectangle.north_m": "0",
        "beds[1].rectangle.bearing_deg": "0", "beds[1].texture": "loam",
    }  # fmt: skip
    client = sign_in(outsider)
    wrong = client.post("/new/", {**form, "site.latitude_deg": "151"})
    assert wrong.status_code == 422
    assert "swapped" in wrong.content.decode()
    assert client.post("/new/", form).status_code == 302
    assert Garden.objects.get().name == "Corner plot"


def test_the_whole_text_with_faults_stays_in_its_box_and_is_not_kept(
    sign_in: SignIn, garden: Garden, leader: User
) -> None:
    before = text_of(garden)
    changed = before.replace("units: metric", "units: cubits")
    answer = sign_in(leader).post(f"/garden/{garden.pk}/book/text/", {"base": "1", "text": changed})
    assert answer.status_code == 422
    assert "units: cubits" in answer.content.decode()
    assert "one of metric, us" in answer.content.decode()
    assert text_of(garden) == before


def test_a_weather_record_is_known_by_its_content_and_named_in_the_book(
    sign_in: SignIn, garden: Garden, leader: User
) -> None:
    record = garden.weather_files.get().content
    client = sign_in(leader)
    upload = f"/garden/{garden.pk}/book/weather/upload/"
    wrong = client.post(upload, {"file": SimpleUploadedFile("x.csv", b"\x89PNG\r\n\x1a\n....")})
    assert wrong.status_code == 422
    kept = client.post(upload, {"file": SimpleUploadedFile("../../etc/My record.txt", record)})
    assert kept.status_code == 302
    assert book_of(text_of(garden)).weather_file == "My-record.txt"
    assert garden.weather_files.get(name="My-record.txt").content == record


def test_an_entry_is_removed_and_what_named_it_is_told(sign_in: SignIn, garden: Garden, leader: User) -> None:
    client = sign_in(leader)
    path = f"/garden/{garden.pk}/book/section"
    refused = client.post(f"{path}/beds/entry/K/", {"base": "1", "remove": "1"})
    assert refused.status_code == 422
    assert "history" in refused.content.decode()
    removed = client.post(f"{path}/wishes/entry/dill-1/", {"base": "1", "remove": "1"})
    assert removed.status_code == 302
    assert "dill-1" not in {wish.code for wish in book_of(text_of(garden)).wishes}


def test_the_catalogue_is_searched_by_other_names_too(sign_in: SignIn, garden: Garden, reader: User) -> None:
    client = sign_in(reader)
    page = client.get(f"/garden/{garden.pk}/book/crops/", {"q": "aubergine"}, headers={"HX-Request": "true"})
    assert "eggplant" in page.content.decode()
    assert "<html" not in page.content.decode()
    facts = client.get(f"/garden/{garden.pk}/book/crops/carrot/").content.decode()
    assert "FAO" in facts or "Seen:" in facts


def test_a_garden_closes_only_when_its_name_is_typed(
    sign_in: SignIn, garden: Garden, coordinator: User
) -> None:
    client = sign_in(coordinator)
    client.post(f"/garden/{garden.pk}/close/", {"name": "something else"})
    assert Garden.objects.filter(pk=garden.pk).exists()
    client.post(f"/garden/{garden.pk}/close/", {"name": garden.name})
    assert not Garden.objects.filter(pk=garden.pk).exists()


def test_the_web_meets_the_engine_only_through_the_use_cases() -> None:
    web = Path(__file__).parents[4] / "src" / "bedwright" / "apps" / "web"
    sources = {path: path.read_text(encoding="utf-8") for path in web.rglob("*.py")}
    assert [str(path) for path, text in sources.items() if "bedwright.engine" in text] == []


def test_the_estimate_follows_what_a_form_holds_and_keeps_nothing(
    sign_in: SignIn, garden: Garden, leader: User
) -> None:
    client = sign_in(leader)
    before = text_of(garden)
    page = f"/garden/{garden.pk}/book/estimate/?section=wishes&entry=carrot-1"
    entry = client.get(f"/garden/{garden.pk}/book/section/wishes/entry/carrot-1/").content.decode()
    found = re.search(r'name="([^"]*row_m[^"]*)\?"', entry)
    assert found is not None
    amount = found[1]
    form = {"base": 1, "crop": "carrot", amount: "2000", f"{amount}?": "row_m"}
    asked = client.post(page, form, headers={"hx-request": "true"}).content.decode()
    assert "Not enough." in asked
    assert "This wish:" in asked
    assert "<html" not in asked
    unfinished = client.post(page, {**form, amount: "many"}).content.decode()
    assert "The estimate follows as soon as" in unfinished
    assert text_of(garden) == before


def test_lists_show_days_and_numbers_in_the_language_of_the_page(
    sign_in: SignIn, garden: Garden, reader: User
) -> None:
    page = f"/garden/{garden.pk}/book/section/people/"
    english = sign_in(reader).get(page, headers={"accept-language": "en"}).content.decode()
    german = sign_in(reader).get(page, headers={"accept-language": "de"}).content.decode()
    assert "<td>1 Jan 2027</td>" in english
    assert "<td>01.01.2027</td>" in german


def test_wishes_are_a_page_of_their_own_in_the_navigation(
    sign_in: SignIn, garden: Garden, reader: User
) -> None:
    client = sign_in(reader)
    for path in ("section/wishes/", "crops/", "estimate/"):
        page = client.get(f"/garden/{garden.pk}/book/{path}").content.decode()
        assert 'aria-current="page">Wishes</a>' in page, path
    book = client.get(f"/garden/{garden.pk}/book/").content.decode()
    assert 'aria-current="page">Garden book</a>' in book
