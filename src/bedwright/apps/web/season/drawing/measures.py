"""Lengths, harvests and water as the pages write them, in the units of the garden."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from bedwright.model import units as u
from bedwright.model.book import UnitSystem
from bedwright.papers.measures import Measures


@dataclass(frozen=True, slots=True)
class PageMeasures:
    """Writes values in one system of units and the number format of the person."""

    system: UnitSystem

    @property
    def us(self) -> bool:
        """True for feet, pounds and gallons."""
        return self.system == "us"

    def length(self, length_m: float) -> str:
        """A distance to be measured out."""
        if self.us:
            return Measures("us").place(length_m)
        return _("%(n)s m") % {"n": number_format(length_m, 2)}

    @property
    def length_unit(self) -> str:
        """Unit of number fields for lengths."""
        return _("ft") if self.us else _("m")

    def length_number(self, length_m: float) -> float:
        """A length in the unit of number fields."""
        return round(u.metres_to_feet(length_m) if self.us else length_m, 2)

    def length_m(self, number: float) -> float:
        """Back from a number field [m]."""
        return u.feet_to_metres(number) if self.us else number

    @staticmethod
    def amount(value: float) -> str:
        """A number with as many digits as a person needs."""
        digits = 0 if value >= 20 else 1 if value >= 1 else 2
        return number_format(value, digits, force_grouping=True)

    @property
    def harvest_unit(self) -> str:
        """Unit of harvests."""
        return _("lb") if self.us else _("kg")

    def harvest(self, mass_kg: float) -> float:
        """A harvest in its unit."""
        return u.kg_to_pounds(mass_kg) if self.us else mass_kg

    @property
    def water_unit(self) -> str:
        """Unit of water."""
        return _("US gal") if self.us else _("L")

    def water(self, volume_l: float) -> float:
        """Water in its unit."""
        return u.litres_to_us_gallons(volume_l) if self.us else volume_l
