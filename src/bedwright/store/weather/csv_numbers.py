"""Numbers of CSV files: decimal point or comma, empty fields, missing-value codes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from bedwright.model.weather import FloatArray
from bedwright.store.weather.quantities import MISSING_CODE

MISSING_TEXTS = frozenset({"", "nan", "na", "n/a", "null", "none", "m", "-", "--"})
TRACE = "t"
"""Rain too little to measure, in NOAA files; counts as 0."""


def parse_numbers(texts: Sequence[str], *, decimal_comma: bool, trace: bool) -> tuple[FloatArray, list[int]]:
    """Numbers of shape (n_texts,), nan where missing, and the indices of texts that are no numbers."""
    values = np.full(len(texts), np.nan)
    bad: list[int] = []
    for index, text in enumerate(texts):
        try:
            values[index] = float(text)
        except ValueError:
            word = text.strip().lower()
            if word in MISSING_TEXTS:
                continue
            if trace and word == TRACE:
                values[index] = 0.0
                continue
            if decimal_comma and word.count(",") == 1 and "." not in word:
                try:
                    values[index] = float(word.replace(",", "."))
                except ValueError:
                    bad.append(index)
                continue
            bad.append(index)
    values[values == MISSING_CODE] = np.nan
    return values, bad


def number_hint(text: str) -> str:
    """What may be wrong with a text that is not a number."""
    if "," in text:
        return "Write decimals with a point, or separate the columns with semicolons."
    if any(unit in text for unit in "CF°mi"):
        return "Write the unit in the column name only."
    return ""
