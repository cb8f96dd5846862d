"""Files that people send are judged by size and content; for photographs see log/test_photos.py."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.models import User
from bedwright.model.bounds import BOOK_BYTES

SignIn = Callable[[User | None], Client]


def test_a_weather_record_that_is_too_large_is_refused_and_not_kept(
    garden: Garden, coordinator: User, sign_in: SignIn, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bedwright.apps.web.gardens.weather.MOST_BYTES", 1000)
    monkeypatch.setattr("bedwright.apps.web.gardens.views_weather.MOST_BYTES", 1000)
    file = SimpleUploadedFile("large.csv", b"date,tmin_c\n" * 100)
    answer = sign_in(coordinator).post(f"/garden/{garden.pk}/book/weather/upload/", {"file": file})
    assert answer.status_code == 422
    assert "at most" in answer.content.decode()
    assert not garden.weather_files.filter(name="large.csv").exists()


@pytest.mark.parametrize("content", [b"\x89PNG\r\n\x1a\n" + b"\0" * 100, b"", b"\xff\xfe" * 50])
def test_what_is_no_weather_record_by_its_content_is_refused_whatever_its_name(
    garden: Garden, coordinator: User, sign_in: SignIn, content: bytes
) -> None:
    file = SimpleUploadedFile("record.csv", content, content_type="text/csv")
    answer = sign_in(coordinator).post(f"/garden/{garden.pk}/book/weather/upload/", {"file": file})
    assert answer.status_code == 422
    assert garden.weather_files.count() == 1


@pytest.mark.parametrize(
    "content",
    [b"#" * (int(BOOK_BYTES.high) + 1), b"\x89PNG\r\n\x1a\n", b"\0\0\0"],
    ids=["large", "png", "zeros"],
)
def test_a_book_that_is_too_large_or_no_text_makes_no_revision(
    garden: Garden, coordinator: User, sign_in: SignIn, content: bytes
) -> None:
    file = SimpleUploadedFile("book.yaml", content)
    answer = sign_in(coordinator).post(
        f"/garden/{garden.pk}/book/text/", {"base": "1", "text": "", "file": file}
    )
    assert answer.status_code == 422
    assert garden.revisions.count() == 1


def test_a_name_that_leads_elsewhere_is_kept_as_a_plain_name(
    garden: Garden, coordinator: User, sign_in: SignIn
) -> None:
    content = garden.weather_files.get().content
    file = SimpleUploadedFile("record.csv", content)
    file.name = "..\\..\\etc/../record one.csv"
    answer = sign_in(coordinator).post(f"/garden/{garden.pk}/book/weather/upload/", {"file": file})
    assert answer.status_code == 302, answer.content.decode()
    names = set(garden.weather_files.values_list("name", flat=True))
    assert all("/" not in name and "\\" not in name and ".." not in name for name in names)
