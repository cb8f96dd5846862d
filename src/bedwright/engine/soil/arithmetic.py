"""Arithmetic of the fertiliser bag, as extension bulletins teach it."""

from __future__ import annotations

from bedwright.model.soil import NUTRIENTS, Nutrient


def mass_for_nutrient(nutrient_mass: float, nutrient_pct: float) -> float:
    """Mass of a material that holds a mass of a nutrient, same unit: nutrient / (percent / 100).

    Raises
    ------
    ValueError
        If the mass is negative or the percentage not above 0 and up to 100.

    Source
    ------
    University of Maine Cooperative Extension, Bulletin 2287.
    """
    if not nutrient_mass >= 0 or not 0 < nutrient_pct <= 100:
        raise ValueError(
            f"expected a mass of 0 or more and 0 to 100 percent; got {nutrient_mass} and {nutrient_pct}"
        )
    return nutrient_mass * 100 / nutrient_pct


def mass_of_other_grade(recommended_mass: float, recommended_pct: float, own_pct: float) -> float:
    """Mass of one's own grade in place of a recommended one, equal in the nutrient, same unit.

    Source
    ------
    University of Maine Cooperative Extension, Bulletin 2287: mass1 x percent1 / percent2.
    """
    return mass_for_nutrient(recommended_mass * recommended_pct / 100, own_pct)


def nutrients_in(mass: float, grade_pct: tuple[float, float, float]) -> dict[Nutrient, float]:
    """Nitrogen, phosphate and potash in a mass of a grade such as (5, 10, 15), same unit.

    Raises
    ------
    ValueError
        If the mass is negative, or the percentages are negative or come to more than 100.
    """
    if not mass >= 0 or min(grade_pct) < 0 or sum(grade_pct) > 100:
        raise ValueError(
            f"expected a mass of 0 or more and a grade of at most 100 percent; got {mass}, {grade_pct}"
        )
    return {nutrient: mass * pct / 100 for nutrient, pct in zip(NUTRIENTS, grade_pct, strict=True)}
