"""Words, codes, days and times as every part of the book writes them."""

from __future__ import annotations

from bedwright.model import bounds
from bedwright.store.book.kinds import Day, Text

NAME = Text(bounds.NAME_LENGTH)
NOTE = Text(bounds.NOTE_LENGTH, lines=True)
BED_CODE = Text(
    bounds.BED_CODE_LENGTH,
    pattern=r"[A-Za-z][A-Za-z0-9-]*",
    form="a short code: a letter, then letters, digits or hyphens, 1 to 6 characters",
)
CODE = Text(
    bounds.CODE_LENGTH,
    pattern=r"[A-Za-z0-9][A-Za-z0-9 ._-]*",
    form="a code: letters, digits, spaces, full stops, hyphens or underscores, 1 to 40 characters",
)
PLANTING_CODE = Text(
    bounds.PLANTING_CODE_LENGTH,
    pattern=r"[A-Za-z0-9][A-Za-z0-9 ._/-]*",
    form="the code of a planting, such as tomato-1, carrot-1/2 (its second sowing) or tomato-1-b (a place)",
)
CROP = NAME
DAY = Day(bounds.YEAR)
TIME = Text(
    bounds.TIME_LENGTH,
    pattern=r"(?:[01]?[0-9]|2[0-3]):[0-5][0-9]",
    form="a time of day such as 9:30 or 14:00",
)
CURRENCY = Text(
    bounds.CURRENCY_LENGTH,
    pattern=r"[A-Z]{3}",
    form="a currency code of ISO 4217, three capitals such as GBP, USD or EUR",
)
