"""Machine code of an earlier version."""

from __future__ import annotations

from pathlib import Path

from bedwright.service.machine_code import STAMP, forget_outdated_machine_code

# The answer is kept for a folder as long as a process lives; each look here is a new one.
look = forget_outdated_machine_code.__wrapped__


def _kept(folder: Path) -> Path:
    (folder / "part").mkdir()
    (folder / "part" / "search.py").write_text("first = 1\n")
    code = folder / "part" / "__pycache__" / "search.first-1.py311.nbi"
    code.parent.mkdir()
    code.write_bytes(b"code")
    return code


def test_machine_code_of_unknown_or_changed_sources_is_deleted(tmp_path: Path) -> None:
    code = _kept(tmp_path)
    assert look(tmp_path)
    assert not code.exists()
    code.write_bytes(b"code")
    (tmp_path / "part" / "search.py").write_text("first = 2\n")
    assert look(tmp_path)
    assert not code.exists()


def test_machine_code_of_the_same_sources_is_kept(tmp_path: Path) -> None:
    code = _kept(tmp_path)
    look(tmp_path)
    code.write_bytes(b"code")
    assert not look(tmp_path)
    assert code.exists()
    assert (tmp_path / "__pycache__" / STAMP).is_file()
