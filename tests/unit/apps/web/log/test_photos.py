from __future__ import annotations

import io
import uuid
from collections.abc import Callable

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log import photos
from bedwright.apps.web.log.photos import BadPhotoError, keep_photo
from bedwright.apps.web.people.models import User


def picture(form: str = "JPEG", size: tuple[int, int] = (2400, 1200), *, place: bool = True) -> bytes:
    image = Image.new("RGB", size, (90, 140, 60))
    out = io.BytesIO()
    exif = Image.Exif()
    if place:
        exif[0x0112] = 6  # turned a quarter
        exif[0x010F] = "Invented Camera Works"
        exif.get_ifd(0x8825)[1] = "N"
        exif.get_ifd(0x8825)[2] = (52.0, 18.0, 36.0)
    image.save(out, form, exif=exif)
    return out.getvalue()


def test_a_photograph_is_made_small_set_upright_and_freed_of_its_place(garden: Garden) -> None:
    content = picture()
    assert b"Invented Camera Works" in content
    client_id = uuid.uuid4()
    assert keep_photo(garden, client_id, uuid.uuid4(), content) == "kept"
    kept = garden.log_photos.get()
    written = kept.path.read_bytes()
    assert b"Invented" not in written
    with Image.open(io.BytesIO(written)) as opened:
        assert opened.format == "JPEG"
        assert opened.size == (800, 1600) == (kept.width_px, kept.height_px)
        assert dict(opened.getexif()) == {}
        assert "exif" not in opened.info


def test_a_photograph_sent_twice_is_kept_once(garden: Garden) -> None:
    client_id, entry_id = uuid.uuid4(), uuid.uuid4()
    assert keep_photo(garden, client_id, entry_id, picture("PNG")) == "kept"
    assert keep_photo(garden, client_id, entry_id, picture("WEBP")) == "had"
    assert garden.log_photos.count() == 1


@pytest.mark.parametrize(
    "content", [b"", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"GIF89a" + bytes(30), picture()[:900]]
)
def test_what_is_no_photograph_by_its_content_is_refused(garden: Garden, content: bytes) -> None:
    with pytest.raises(BadPhotoError):
        keep_photo(garden, uuid.uuid4(), uuid.uuid4(), content)
    assert not garden.log_photos.exists()


def test_a_photograph_with_too_many_bytes_or_pixels_is_refused(
    garden: Garden, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photos, "MOST_PIXELS", 1000)
    with pytest.raises(BadPhotoError, match="pixels"):
        keep_photo(garden, uuid.uuid4(), uuid.uuid4(), picture())
    monkeypatch.setattr(photos, "MOST_BYTES", 100)
    with pytest.raises(BadPhotoError, match="MB"):
        keep_photo(garden, uuid.uuid4(), uuid.uuid4(), picture())


def test_the_file_goes_with_its_garden(garden: Garden) -> None:
    keep_photo(garden, uuid.uuid4(), uuid.uuid4(), picture())
    path = garden.log_photos.get().path
    assert path.is_file()
    garden.delete()
    assert not path.exists()


def test_a_photograph_is_shown_to_members_only(
    garden: Garden, volunteer: User, outsider: User, sign_in: Callable[[User | None], Client]
) -> None:
    client_id = str(uuid.uuid4())
    sent = {
        "id": client_id,
        "entry": str(uuid.uuid4()),
        "file": SimpleUploadedFile("x.exe", picture(), content_type="application/x-msdownload"),
    }
    answer = sign_in(volunteer).post(f"/garden/{garden.pk}/field/photo/", sent)
    assert answer.json() == {"id": client_id, "state": "kept"}
    address = f"/garden/{garden.pk}/log/photo/{client_id}.jpg"
    shown = sign_in(volunteer).get(address)
    assert (shown.status_code, shown["Content-Type"]) == (200, "image/jpeg")
    assert sign_in(outsider).get(address).status_code == 404
    assert sign_in(None).get(address).status_code == 302


def test_a_file_that_is_no_photograph_is_answered_with_the_reason(
    garden: Garden, volunteer: User, sign_in: Callable[[User | None], Client]
) -> None:
    address = f"/garden/{garden.pk}/field/photo/"
    ids = {"id": str(uuid.uuid4()), "entry": str(uuid.uuid4())}
    client = sign_in(volunteer)
    refused = client.post(address, ids | {"file": SimpleUploadedFile("x.jpg", b"no picture")})
    assert refused.status_code == 422
    assert "no photograph" in refused.json()["problems"][0]
    assert client.post(address, ids).status_code == 422
    assert client.post(address, {"id": "7", "entry": "8"}).status_code == 422
