"""US EPA levels of lead in residential soil, of 17 January 2024 and 16 October 2025.

2024: screening level 200 ppm, 100 ppm where lead comes from several sources, removal management
level 200 ppm (read in Morgan Lewis, 26 January 2024, and a copy of the agency's questions and
answers). 2025: one screening level of 200 ppm for all, removal management level 600 ppm (read
in the Harvard EELP tracker of 20 October 2025 and on-edgenews.com; the directive itself was not
seen). The band words are ours; where a document sets both levels at one
figure the milder word is used. The levels ask for a closer look; they are no clean-up levels.
"""

from __future__ import annotations

from datetime import date

import pytest

from bedwright.engine.soil import lead_band
from bedwright.model.safety import EPA_2024, EPA_2025, LEAD_RULES, lead_rule_on


def test_the_levels_are_those_of_the_documents() -> None:
    assert (EPA_2024.screening_mg_kg, EPA_2024.several_sources_mg_kg, EPA_2024.removal_mg_kg) == (
        200,
        100,
        200,
    )
    assert (EPA_2025.screening_mg_kg, EPA_2025.several_sources_mg_kg, EPA_2025.removal_mg_kg) == (
        200,
        None,
        600,
    )


def test_each_level_holds_from_its_day() -> None:
    assert [rule.issued for rule in LEAD_RULES] == [date(2024, 1, 17), date(2025, 10, 16)]
    assert lead_rule_on(date(2024, 1, 17)) is EPA_2024
    assert lead_rule_on(date(2026, 1, 1)) is EPA_2025


@pytest.mark.parametrize(
    ("lead_ppm", "by_2024", "by_2025"),
    [
        (80, "below", "below"),
        (100, "below", "below"),
        (150, "above several-sources level", "below"),
        (200, "above several-sources level", "below"),
        (450, "above screening level", "above screening level"),
        (601, "above screening level", "above removal level"),
    ],
)
def test_bands_of_both_documents(lead_ppm: float, by_2024: str, by_2025: str) -> None:
    assert lead_band(lead_ppm, EPA_2024) == by_2024
    assert lead_band(lead_ppm, EPA_2025) == by_2025
