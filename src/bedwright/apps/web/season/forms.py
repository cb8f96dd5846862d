"""The form that asks for a plan."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _


class AskForm(forms.Form):
    """As of which day, and from which seed."""

    today = forms.DateField(
        label=_("As of"),
        help_text=_("No job is planned before this day."),
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        input_formats=["%Y-%m-%d"],
    )
    name = forms.CharField(
        label=_("Name"), max_length=80, required=False, help_text=_("To tell plans apart; may stay empty.")
    )
    seed = forms.IntegerField(
        label=_("Seed"),
        min_value=0,
        max_value=2**31 - 1,
        initial=1,
        help_text=_("Starts the search for places: another number gives another plan as good."),
    )
