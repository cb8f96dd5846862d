"""What was posted from the boxes of a form, as an entry under the schema's keys.

Nothing is checked here: a text where a number belongs is passed on, and the reader tells
what is wrong with it in the words of the command line.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from django.http import QueryDict
from django.utils.dates import MONTHS
from django.utils.translation import get_language, override

from bedwright.apps.web.gardens.crop_words import as_in_book
from bedwright.apps.web.gardens.entry.boxes import Box

_NUMBER = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)")
_DAY_MONTH = re.compile(r"(?P<day>[0-9]{1,2})\.? *(?P<month>[^\W\d]{3,})\.?")
_MONTH_DAY = re.compile(r"(?P<month>[^\W\d]{3,})\.? *(?P<day>[0-9]{1,2})\.?")
_DECIMAL_COMMA = re.compile(r"[-+]?[0-9]+,[0-9]+")


def entry_of(boxes: Iterable[Box], data: QueryDict, language: str) -> dict[str, Any]:
    """The entry that was posted.

    Parameters
    ----------
    boxes
        The boxes as they were shown, filled with what stood in the book: a box left as it
        was keeps the value of the book to the last digit.
    data
        What was posted.
    language
        Of the page; in German a comma is a decimal point.
    """
    entry: dict[str, Any] = {}
    for box in boxes:
        key, value = _value(box, data, language)
        untouched = box.kept is not None and value == box.kept[1]
        if untouched or not _is_empty(value) or (value is False and box.shape == "yes_no"):
            entry[key] = value
    return entry


def _is_empty(value: Any) -> bool:
    # 0 is a value, though Python takes it for the same as False.
    return value is None or value is False or (isinstance(value, str | tuple | dict) and not value)


def _value(box: Box, data: QueryDict, language: str) -> tuple[str, Any]:
    key = box.name.rpartition(".")[2]
    text = data.get(box.name, "").replace("\r\n", "\n").strip()
    if box.kept is not None and box.shape != "amount" and text == box.value:
        return box.kept
    if box.shape in {"amount", "one_of"}:
        return _one_of(box, data, language)
    if box.shape == "record":
        return key, _record(box, data, language)
    if box.shape == "rows":
        return key, _rows(box, data, language)
    if box.shape == "ticks":
        return key, tuple(data.getlist(box.name))
    read = _READ.get(box.shape)
    return key, as_in_book(key, read(text, language) if read else _word(key, text, language))


def _word(key: str, text: str, language: str) -> Any:
    if key == "at_m" and text:
        return _place(text, language)
    # A number of sowings may also be words.
    return _number(text, language) if key == "successions" else text


def _record(box: Box, data: QueryDict, language: str) -> Any:
    entry = entry_of(box.boxes, data, language)
    first = box.boxes[0].name.rpartition(".")[2]
    if box.name.rpartition(".")[2] == "variety" and set(entry) == {first}:
        return entry[first]
    return entry


def _rows(box: Box, data: QueryDict, language: str) -> tuple[Any, ...]:
    entries: list[dict[str, Any]] = []
    for row in box.rows:
        entry = entry_of(row, data, language)
        if entry:
            entries.append(entry)
    return tuple(entries)


def _one_of(box: Box, data: QueryDict, language: str) -> tuple[str, Any]:
    names = [name for name, _label in box.options]
    chosen = data.get(box.choice_name, "")
    name = chosen if chosen in names else names[0]
    key = name.rpartition(".")[2]
    if box.shape == "amount":
        if name == box.choice and data.get(box.name, "").strip() == box.value and box.kept is not None:
            return box.kept
        return key, _numbers(data.get(box.name, "").strip(), language)
    inner = next(each for each in box.boxes if each.name == name)
    return key, entry_of(inner.boxes, data, language)


def _numbers(text: str, language: str) -> Any:
    """One number, or several with commas between."""
    parts = [part.strip() for part in text.split(",") if part.strip()]
    if len(parts) < 2 or (language == "de" and _DECIMAL_COMMA.fullmatch(text)):
        return _number(text, language)
    return tuple(_number(part, language) for part in parts)


def _place(text: str, language: str) -> tuple[Any, ...]:
    # With decimal commas, places are parted by semicolons or spaces.
    parts = re.split(
        r"\s*;\s*|\s+" if language == "de" and re.search(r";|\d,\d+\s+\S", text) else r"\s*[,;]\s*|\s+",
        text.strip(),
    )
    return tuple(_number(part, language) for part in parts if part)


def _number(text: str, language: str) -> Any:
    if language == "de" and _DECIMAL_COMMA.fullmatch(text):
        text = text.replace(",", ".")
    if not _NUMBER.fullmatch(text):
        return text
    return float(text) if "." in text else int(text)


def _month_day(text: str, _language: str) -> str:
    """A day of the year as people write it, 5 May or May 5, as the book has it; else as it stands."""
    found = _DAY_MONTH.fullmatch(text) or _MONTH_DAY.fullmatch(text)
    if found is None:
        return text
    written, day = found["month"].casefold(), int(found["day"])
    for language in ("en", get_language() or "en"):
        with override(language):
            for number, name in MONTHS.items():
                if str(name).casefold().startswith(written):
                    return f"{number:02}-{day:02}"
    return text


_READ: Mapping[str, Callable[[str, str], Any]] = {
    "number": _number,
    "numbers": _numbers,
    "number_list": lambda text, language: tuple(
        _number(part.strip(), language) for part in text.split(",") if part.strip()
    ),
    "month_day": _month_day,
    "flag": lambda text, _language: text == "true",
    "yes_no": lambda text, _language: {"true": True, "false": False}.get(text),
    "words": lambda text, _language: tuple(word.strip() for word in text.split(",") if word.strip()),
    "places": lambda text, language: tuple(
        _place(line, language) for line in text.splitlines() if line.strip()
    ),
}
"""How the text of a box is read, by its shape; all other texts are words."""
