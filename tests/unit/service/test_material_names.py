"""A supplier's pack is matched with what the season needs, whatever either is called."""

from __future__ import annotations

import pytest

from bedwright.catalogue import load_catalogue
from bedwright.service.material_names import material_names

NAMES = material_names(load_catalogue())


@pytest.mark.parametrize(
    ("written", "reckoned_with"),
    [
        ("garden compost", "compost"),
        ("compost", "compost"),
        ("seed compost", "potting mix"),
        ("bamboo canes", "canes"),
        ("72-cell trays", "trays, 72 cells"),
        ("leaf mulch", "leaf mulch"),
        ("dried blood", "blood meal"),
        ("straw", "straw"),
    ],
)
def test_a_synonym_stands_for_the_name_of_the_calculations(written: str, reckoned_with: str) -> None:
    assert NAMES[written] == reckoned_with


def test_every_name_of_the_calculations_stands_for_itself() -> None:
    assert all(NAMES[name] == name for name in NAMES.values())
