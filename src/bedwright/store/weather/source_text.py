"""Opens a weather file: size, kind of content, encoding."""

from __future__ import annotations

import codecs
from pathlib import Path

from bedwright.store.weather.faults import Faults

MAX_BYTES = 50_000_000
"""A daily record of 200 years with all elements stays well below this."""

MAX_LINE_LENGTH = 10_000
"""Far above any row of a day or month; longer lines are no table of weather."""

SIGNATURES: tuple[tuple[bytes, str], ...] = (
    (b"PK\x03\x04", "This is a spreadsheet or zip archive: save the sheet as CSV, or unpack the archive."),
    (b"\x1f\x8b", "This is a gzip archive: unpack it first."),
    (b"\xd0\xcf\x11\xe0", "This is an old spreadsheet file: save the sheet as CSV."),
    (b"\xff\xfe", "This is UTF-16 text: save it as CSV in UTF-8."),
    (b"\xfe\xff", "This is UTF-16 text: save it as CSV in UTF-8."),
    (b"%PDF", "This is a PDF: ask for the record as CSV or .dly."),
)

EXPECTED = "a text file with a daily weather record"


def read_text(path: Path, faults: Faults) -> str | None:
    """Text of a file without byte order mark, lines ended by a line feed, or None after adding a problem.

    Text that is not UTF-8 is taken as Latin-1: only names and degree signs differ.
    """
    try:
        size = path.stat().st_size
        if path.is_dir():
            faults.add("file", "whole file", "a folder", EXPECTED)
            return None
        if size > MAX_BYTES:
            megabytes = f"{size / 1e6:.0f} MB"
            hint = "Cut the file down to one station."
            faults.add("file", "whole file", megabytes, f"at most {MAX_BYTES / 1e6:.0f} MB", hint)
            return None
        content = path.read_bytes()
    except FileNotFoundError:
        faults.add("file", "whole file", "no such file", EXPECTED, "Check the path in the garden book.")
        return None
    except OSError as error:
        faults.add("file", "whole file", error.strerror or "an unreadable file", EXPECTED)
        return None
    return _decoded(content, faults)


def _decoded(content: bytes, faults: Faults) -> str | None:
    for signature, hint in SIGNATURES:
        if content.startswith(signature):
            faults.add("file", "whole file", "not plain text", EXPECTED, hint)
            return None
    if b"\x00" in content:
        faults.add("file", "whole file", "binary content", EXPECTED)
        return None
    if not content.removeprefix(codecs.BOM_UTF8).strip():
        faults.add("file", "whole file", "an empty file", EXPECTED)
        return None
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    longest = max(map(len, text.split("\n")))
    if longest > MAX_LINE_LENGTH:
        faults.add("file", "whole file", f"a line of {longest} characters", EXPECTED)
        return None
    return text
