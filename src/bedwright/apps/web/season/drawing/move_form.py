"""The numbers by which a block is moved."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _

from bedwright.apps.web.season.drawing.measures import PageMeasures
from bedwright.model.book import GardenBook
from bedwright.model.season import Planting


class MoveForm(forms.Form):
    """Bed, start along the string line, and day."""

    bed = forms.ChoiceField()
    along = forms.FloatField(min_value=0)
    day = forms.DateField(
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"), input_formats=["%Y-%m-%d"]
    )
    base = forms.IntegerField(min_value=0, widget=forms.HiddenInput)

    def __init__(self, data: Any, *, book: GardenBook, planting: Planting, base: int) -> None:
        measures = PageMeasures(book.site.units)
        start = {
            "bed": planting.bed_code,
            "along": measures.length_number(planting.along_m[0]),
            "day": planting.dates.in_ground,
            "base": base,
        }
        super().__init__(data, initial=start, auto_id="move-%s")
        self._measures = measures
        bed, along, day = (self.fields[name] for name in ("bed", "along", "day"))
        if isinstance(bed, forms.ChoiceField):
            bed.choices = [(each.code, f"{each.code} {each.name}".strip()) for each in book.beds]
        bed.label = _("Bed")
        along.label = _("Start along the string line, in %(unit)s") % {"unit": measures.length_unit}
        along.widget.attrs["step"] = "0.25" if measures.us else "0.05"
        day.label = _("Day in the ground")

    @property
    def along_m(self) -> float:
        """Start along the baseline [m], to the nearest 5 cm."""
        return round(self._measures.length_m(self.cleaned_data["along"]) * 20) / 20


class KeepForm(forms.Form):
    """A move that was tried, in metres, as it is sent to be kept."""

    bed = forms.CharField(max_length=80, widget=forms.HiddenInput)
    along_m = forms.FloatField(min_value=0, localize=False, widget=forms.HiddenInput)
    # A day that nobody reads is not written as the reader's language has it.
    day = forms.DateField(
        widget=forms.DateInput({"type": "hidden"}, format="%Y-%m-%d"), input_formats=["%Y-%m-%d"]
    )

    def __init__(self, data: Any = None, *, initial: Any = None) -> None:
        super().__init__(data, initial=initial, auto_id="keep-%s")
