"""The text of a people file, or what is wrong with the file as a whole."""

from __future__ import annotations

from pathlib import Path

from bedwright.model import bounds
from bedwright.model.problem import BadDocumentError, Problem


def text_of(path: Path) -> str:
    """The text of a file.

    Raises
    ------
    BadDocumentError
        If there is no such file, it is too large, cannot be read or is not UTF-8.
    """
    file = str(path)
    try:
        if path.is_dir():
            raise _whole_file(file, "a folder", "the people file inside it", "Add the name of the file.")
        if path.is_file() and path.stat().st_size > bounds.BOOK_BYTES.high:
            raise _whole_file(file, "a larger file", f"at most {bounds.BOOK_BYTES.high / 1e6:g} MB of text")
        content = path.read_bytes()
    except FileNotFoundError:
        raise _whole_file(file, "no such file", "a people file", "Check the path.") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _whole_file(file, f"a file that cannot be read ({reason})", "a people file") from None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        hint = "Save the file as plain text in UTF-8; word-processor files cannot be read."
        got = "bytes that are not UTF-8 text"
        raise BadDocumentError((Problem(file, line, None, "the file", got, "UTF-8 text", hint),)) from None


def refuse_empty(text: str, file: str) -> None:
    """Raise BadDocumentError for a text without any values."""
    lines = (line.strip() for line in text.splitlines())
    if all(not line or line.startswith("#") for line in lines):
        raise _whole_file(file, "no values", "a people file", "Start with the key `workday:`.")


def _whole_file(file: str, got: str, expected: str, hint: str = "") -> BadDocumentError:
    return BadDocumentError((Problem(file, None, None, "the file", got, expected, hint),))
