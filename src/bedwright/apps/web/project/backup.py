"""All gardens in one file, and back."""

from __future__ import annotations

import json
import shutil
import sqlite3
import tempfile
import zipfile
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import django
from django.conf import settings
from django.core.management import call_command

from bedwright import __version__
from bedwright.model.problem import BadDocumentError, Problem

FORMAT = "bedwright backup"
_DATABASE = "bedwright.sqlite3"
_ABOUT = "about.json"
_MEDIA = "media"


def backup(file: Path) -> int:
    """Write all that is kept into one file; works while the application is in use.

    The secret is left out: it guards sessions, not gardens, and a new one is made.

    Parameters
    ----------
    file
        Written whole or not at all; an earlier one is replaced.

    Returns
    -------
    int
        Number of gardens in it.

    Raises
    ------
    BadDocumentError
        If there is nothing to keep, or gardens are in another database than SQLite.
    OSError
        If the file cannot be written.
    """
    source = _sqlite_file(str(file))
    if not source.is_file():
        raise BadDocumentError((_problem(str(source), "no such file", "a database with gardens"),))
    with tempfile.TemporaryDirectory(dir=file.absolute().parent, prefix=".backup-") as folder:
        copy, packed = Path(folder) / _DATABASE, Path(folder) / "whole.zip"
        n_gardens = _copy_database(source, copy)
        about = {"format": FORMAT, "version": __version__, "made_at": datetime.now(tz=UTC).isoformat()}
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as out:
            out.writestr(_ABOUT, json.dumps(about, indent=1))
            out.write(copy, _DATABASE)
            # After the database: a photograph is on the disk before its row, so none is missing.
            _pack_media(out, Path(settings.MEDIA_ROOT))
        packed.chmod(0o600)
        packed.replace(file)
    return n_gardens


def restore(file: Path, *, replace: bool) -> Path | None:
    """Put a kept file in place; the application must not be running.

    Parameters
    ----------
    file
        As `backup` wrote it.
    replace
        Whether gardens that are there may give way; they are moved, never deleted.

    Returns
    -------
    Path or None
        Folder into which what was there was moved; None if nothing was.

    Raises
    ------
    BadDocumentError
        If the file is no backup or damaged, or gardens are there and `replace` is False.
        Nothing is changed then.
    """
    target = _sqlite_file(str(file))
    if target.exists() and not replace:
        hint = "Add --replace to move them aside and put the backup in their place."
        raise BadDocumentError((_problem(str(target), "gardens that are there", "no gardens yet", hint),))
    with tempfile.TemporaryDirectory(dir=settings.DATA, prefix=".restore-") as folder:
        work = Path(folder)
        _unpack(file, work)
        beside = _move_aside(target)
        (work / _DATABASE).replace(target)
        if (work / _MEDIA).is_dir():
            (work / _MEDIA).replace(settings.MEDIA_ROOT)
    shutil.rmtree(settings.MADE_PAPERS, ignore_errors=True)
    django.setup()
    call_command("migrate", interactive=False, verbosity=0)
    return beside


def _sqlite_file(file: str) -> Path:
    described = settings.DATABASES["default"]
    if described["ENGINE"] != "django.db.backends.sqlite3":
        hint = "Use pg_dump and pg_restore, and keep the folder media; docs/web.md tells how."
        raise BadDocumentError((_problem(file, "a PostgreSQL database", "SQLite", hint),))
    return Path(described["NAME"])


def _copy_database(source: Path, copy: Path) -> int:
    """SQLite's online backup: one consistent state, whatever is being written meanwhile."""
    with closing(sqlite3.connect(source)) as live, closing(sqlite3.connect(copy)) as out:
        live.backup(out)
        out.execute("PRAGMA journal_mode=DELETE")
        # Sessions let people in; they have no place in a file that is passed around.
        out.execute("DELETE FROM django_session")
        out.commit()
        out.execute("VACUUM")
        (n_gardens,) = out.execute("SELECT count(*) FROM gardens_garden").fetchone()
    return int(n_gardens)


def _pack_media(out: zipfile.ZipFile, media: Path) -> None:
    for path in sorted(media.rglob("*")):
        # A file that begins with a dot is still being written.
        if path.name.startswith(".") or not path.is_file():
            continue
        try:
            content = path.read_bytes()
        except FileNotFoundError:
            # Deleted meanwhile, with its row.
            continue
        out.writestr(f"{_MEDIA}/{path.relative_to(media).as_posix()}", content)


def _unpack(file: Path, folder: Path) -> None:
    try:
        with zipfile.ZipFile(file) as packed:
            about = json.loads(packed.read(_ABOUT))
            if about.get("format") != FORMAT:
                raise BadDocumentError((_problem(str(file), "another kind of file", "a backup"),))
            packed.extractall(folder)
    except (OSError, zipfile.BadZipFile, KeyError, ValueError) as error:
        got = getattr(error, "strerror", None) or "a file that is not a backup, or a damaged one"
        raise BadDocumentError((_problem(str(file), got, "a file that backup wrote"),)) from error
    with closing(sqlite3.connect(folder / _DATABASE)) as database:
        try:
            sound = database.execute("PRAGMA integrity_check").fetchone()[0] == "ok"
        except sqlite3.DatabaseError:
            sound = False
    if not sound:
        raise BadDocumentError((_problem(str(file), "a damaged database", "a file that backup wrote"),))


def _move_aside(target: Path) -> Path | None:
    if not target.exists():
        return None
    stamp = datetime.now(tz=UTC).strftime("%Y-%m-%d-%H%M%S")
    beside = Path(settings.DATA) / f"before-restore-{stamp}"
    beside.mkdir()
    for path in (*target.parent.glob(f"{target.name}*"), Path(settings.MEDIA_ROOT)):
        if path.exists():
            path.rename(beside / path.name)
    return beside


def _problem(file: str, got: str, expected: str, hint: str = "") -> Problem:
    return Problem(file, None, None, "gardens", got, expected, hint)
