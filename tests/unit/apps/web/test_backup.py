"""Kept files and what comes back from them; each in a process of its own, as people run them."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import threading
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from bedwright.apps.web.project.environment import SECRET_FILE

PREPARE = """
import django; django.setup()
from django.core.management import call_command
call_command("migrate", verbosity=0)
from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.people.models import User
load_demo(User.objects.create_user("a@example.org", "long enough to pass", name="A"))
"""


def variables(data: Path) -> dict[str, str]:
    told = {key: value for key, value in os.environ.items() if not key.startswith("BEDWRIGHT_")}
    return told | {
        "BEDWRIGHT_DATA": str(data),
        "DJANGO_SETTINGS_MODULE": "bedwright.apps.web.project.settings",
    }


def run(*words: str, data: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *words],
        env=variables(data),
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


def bedwright(*words: str, data: Path) -> subprocess.CompletedProcess[str]:
    return run("-c", "import sys; from bedwright.apps.cli import main; sys.exit(main())", *words, data=data)


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with the demonstration garden."""
    folder = tmp_path_factory.mktemp("kept")
    made = run("-c", PREPARE, data=folder)
    assert made.returncode == 0, made.stderr
    (folder / "media").mkdir()
    (folder / "media" / "photograph.jpg").write_bytes(b"a picture")
    return folder


WRITE = """
import sys, uuid; from datetime import date
import django; django.setup()
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.saving import save_text
from bedwright.apps.web.log.models import LogEntry, LogPhoto
from bedwright.apps.web.people.models import User
garden, author = Garden.objects.get(), User.objects.get()
for number in range(1, 100_000):
    line = LogEntry.objects.create(
        garden=garden, day=date(2027, 5, 4), kind="seen", author=author, device_count=number
    )
    photo = LogPhoto(garden=garden, client_id=line.client_id, entry_id_of_client=line.client_id,
                     n_bytes=4, width_px=1, height_px=1)
    photo.path.parent.mkdir(parents=True, exist_ok=True)
    (photo.path.parent / ".photo-half").write_bytes(b"ha")
    photo.path.write_bytes(b"whole")
    photo.save()
    if number % 3 == 0:
        LogPhoto.objects.order_by("pk").first().delete()
    garden.refresh_from_db()
    head = garden.head
    text = head.text.rstrip("\\n") + f"\\n# revision {number}\\n"
    save_text(garden, base_number=head.number, text=text, author=author)
    print(number, flush=True)
"""
"""Somebody who writes all the time: lines, photographs that come and go, and the book."""


@pytest.fixture
def busy(data: Path) -> Iterator[Callable[[int], int]]:
    """Somebody who writes all the time; tells the last line that they know to be kept."""
    last = [0]
    with subprocess.Popen(
        [sys.executable, "-c", WRITE], env=variables(data), stdout=subprocess.PIPE, text=True
    ) as writing:

        def listen() -> None:
            assert writing.stdout is not None
            for said in writing.stdout:
                last[0] = int(said)

        thread = threading.Thread(target=listen)
        thread.start()

        def known(more_than: int) -> int:
            """The last line known to be kept; more than so many, as soon as there are, if writing goes on."""
            while last[0] <= more_than and writing.poll() is None:
                time.sleep(0.05)
            return last[0]

        yield known
        writing.kill()
        thread.join()


def test_a_backup_made_while_somebody_writes_comes_back_whole(
    data: Path, busy: Callable[[int], int], tmp_path: Path
) -> None:
    kept = tmp_path / "kept.zip"
    known_before = busy(3)
    made = bedwright("backup", str(kept), data=data)
    assert made.returncode == 0, made.stderr
    assert "1 garden." in made.stdout
    assert busy(known_before) > known_before
    fresh = tmp_path / "fresh"
    back = bedwright("restore", str(kept), data=fresh)
    assert back.returncode == 0, back.stderr
    with closing(sqlite3.connect(fresh / "bedwright.sqlite3")) as database:

        def ask(question: str) -> list[tuple[Any, ...]]:
            return database.execute(question).fetchall()

        assert ask("PRAGMA integrity_check") == [("ok",)]
        assert ask("SELECT name FROM gardens_garden") == [("Lantern Field learning garden",)]
        lines = [number for (number,) in ask("SELECT device_count FROM log_logentry ORDER BY id")]
        assert lines == list(range(1, len(lines) + 1))
        assert len(lines) >= known_before
        revisions = ask("SELECT number, text FROM gardens_bookrevision ORDER BY number")
        assert [number for number, _ in revisions] == list(range(1, len(revisions) + 1))
        assert revisions[-1][1].rstrip().endswith(f"# revision {len(revisions) - 1}")
        assert len(lines) - len(revisions) + 1 in {0, 1}
        photos = ask("SELECT client_id FROM log_logphoto")
    files = {each.stem.replace("-", ""): each for each in (fresh / "media" / "log").rglob("*.jpg")}
    # One that was deleted between the two may be missing; none is cut short.
    assert len({photo for (photo,) in photos} - set(files)) <= 1 + len(lines) // 3
    assert {each.read_bytes() for each in files.values()} == {b"whole"}
    assert not list((fresh / "media").rglob(".photo-*"))
    assert (fresh / "media" / "photograph.jpg").read_bytes() == b"a picture"


def test_a_backup_carries_no_secret_and_lets_nobody_in(data: Path, tmp_path: Path) -> None:
    kept = tmp_path / "kept.zip"
    bedwright("backup", str(kept), data=data)
    secret = (data / SECRET_FILE).read_text(encoding="ascii").strip().encode()
    with zipfile.ZipFile(kept) as packed:
        assert all(secret not in packed.read(name) for name in packed.namelist())
    assert kept.stat().st_mode & 0o077 == 0


def test_gardens_that_are_there_are_moved_aside_and_never_overwritten(data: Path, tmp_path: Path) -> None:
    kept, there = tmp_path / "kept.zip", tmp_path / "there"
    bedwright("backup", str(kept), data=data)
    bedwright("restore", str(kept), data=there)
    refused = bedwright("restore", str(kept), data=there)
    assert refused.returncode == 2
    assert "--replace" in refused.stderr
    replaced = bedwright("restore", str(kept), "--replace", data=there)
    assert replaced.returncode == 0, replaced.stderr
    (beside,) = there.glob("before-restore-*")
    assert (beside / "bedwright.sqlite3").is_file()


@pytest.mark.parametrize("content", [b"", b"not a zip at all", b"PK\x05\x06" + b"\0" * 18])
def test_a_file_that_is_no_backup_is_refused_in_words(content: bytes, tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.zip"
    wrong.write_bytes(content)
    refused = bedwright("restore", str(wrong), data=tmp_path / "data")
    assert refused.returncode == 2
    assert "a file that backup wrote" in refused.stderr
    assert "Traceback" not in refused.stderr
    assert not (tmp_path / "data" / "bedwright.sqlite3").exists()


def test_a_deployment_over_https_passes_djangos_own_checks(tmp_path: Path) -> None:
    https = {"BEDWRIGHT_HTTPS": "1", "BEDWRIGHT_HOSTS": "garden.example.org"}
    checked = subprocess.run(
        [sys.executable, "-m", "django", "check", "--deploy", "--fail-level", "WARNING"],
        env=os.environ
        | https
        | {
            "BEDWRIGHT_DATA": str(tmp_path),
            "BEDWRIGHT_SECRET_KEY": "",
            "DJANGO_SETTINGS_MODULE": "bedwright.apps.web.project.settings",
        },
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert checked.returncode == 0, checked.stderr
