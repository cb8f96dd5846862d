"""Kept files and what comes back from them; each in a process of its own, as people run them."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import threading
import zipfile
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

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


def run(*words: str, data: Path) -> subprocess.CompletedProcess[str]:
    variables = {key: value for key, value in os.environ.items() if not key.startswith("BEDWRIGHT_")}
    variables |= {
        "BEDWRIGHT_DATA": str(data),
        "DJANGO_SETTINGS_MODULE": "bedwright.apps.web.project.settings",
    }
    return subprocess.run(
        [sys.executable, *words], env=variables, capture_output=True, text=True, check=False, timeout=120
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


@pytest.fixture
def busy(data: Path) -> Iterator[None]:
    """Somebody who writes all the time."""
    ending = threading.Event()

    def write() -> None:
        with closing(sqlite3.connect(data / "bedwright.sqlite3", timeout=20)) as database:
            while not ending.is_set():
                database.execute("UPDATE gardens_garden SET name = name || ''")
                database.commit()

    thread = threading.Thread(target=write)
    thread.start()
    yield
    ending.set()
    thread.join()


def test_a_backup_made_while_somebody_writes_comes_back_whole(data: Path, busy: None, tmp_path: Path) -> None:
    kept = tmp_path / "kept.zip"
    made = bedwright("backup", str(kept), data=data)
    assert made.returncode == 0, made.stderr
    assert "1 garden." in made.stdout
    fresh = tmp_path / "fresh"
    back = bedwright("restore", str(kept), data=fresh)
    assert back.returncode == 0, back.stderr
    with closing(sqlite3.connect(fresh / "bedwright.sqlite3")) as database:
        assert database.execute("SELECT name FROM gardens_garden").fetchall() == [
            ("Lantern Field learning garden",)
        ]
        assert database.execute("SELECT count(*) FROM gardens_bookrevision").fetchone() == (1,)
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
    variables = {"BEDWRIGHT_HTTPS": "1", "BEDWRIGHT_HOSTS": "garden.example.org"}
    checked = subprocess.run(
        [sys.executable, "-m", "django", "check", "--deploy", "--fail-level", "WARNING"],
        env=os.environ
        | variables
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
