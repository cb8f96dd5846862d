"""A folder that appears whole or not at all."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bedwright.model.problem import BadDocumentError, Problem

MARK = "season.json"
"""A folder that holds this file was written here and may be replaced."""


@contextmanager
def whole_folder(target: Path, mark: str = MARK) -> Iterator[Path]:
    """A new empty folder to write into; it becomes `target` only when the block ends well.

    The work is done in a hidden folder beside the target, so that the last step is a
    rename. On any error or interruption the hidden folder is removed and the target
    stays as it was. A folder that is there already is replaced only if it holds `mark`.

    Raises
    ------
    BadDocumentError
        If the target exists and is not an empty folder or an earlier season's folder,
        or if nothing can be written beside it.
    """
    target = target.absolute()
    refuse_foreign_folder(target, mark)
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        work = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=target.parent))
    except OSError as error:
        raise _unwritable(target, error) from error
    try:
        work.chmod(0o755)
        yield work
        _put_in_place(work, target)
    finally:
        shutil.rmtree(work, ignore_errors=True)


def refuse_foreign_folder(target: Path, mark: str = MARK) -> None:
    """Raise BadDocumentError if a folder holds anything but what was written here earlier."""
    if not target.exists():
        return
    if not target.is_dir():
        raise BadDocumentError((_problem(target, "a file", "a new or empty folder"),))
    if any(target.iterdir()) and not (target / mark).is_file():
        got = "a folder with other things in it"
        raise BadDocumentError((_problem(target, got, f"a new or empty folder, or one with a {mark}"),))


def _put_in_place(work: Path, target: Path) -> None:
    if not target.exists():
        work.rename(target)
        return
    old = Path(tempfile.mkdtemp(prefix=f".{target.name}-old-", dir=target.parent))
    target.rename(old / "season")
    try:
        work.rename(target)
    except BaseException:
        (old / "season").rename(target)
        raise
    finally:
        shutil.rmtree(old, ignore_errors=True)


def _problem(target: Path, got: str, expected: str) -> Problem:
    return Problem(str(target), None, None, "output folder", got, expected, "Nothing was changed.")


def _unwritable(target: Path, error: OSError) -> BadDocumentError:
    reason = error.strerror or "no access"
    return BadDocumentError((_problem(target, reason, "a place that can be written to"),))
