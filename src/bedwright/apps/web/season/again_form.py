"""The form that asks for the rest of a season to be planned again."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from bedwright.apps.web.season.asking import AgainAsked
from bedwright.apps.web.season.drawing.plan_data import name_of
from bedwright.model.season import Planting, SeasonPlan
from bedwright.service.replan import Happened


class AgainForm(forms.Form):
    """As of which day, what to think of what nobody wrote down, and what happened beside the log."""

    today = forms.DateField(
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"), input_formats=["%Y-%m-%d"]
    )
    unlogged = forms.ChoiceField()
    lost_beds = forms.MultipleChoiceField(required=False, widget=forms.CheckboxSelectMultiple)
    closed_beds = forms.MultipleChoiceField(required=False, widget=forms.CheckboxSelectMultiple)
    not_delivered = forms.MultipleChoiceField(required=False, widget=forms.CheckboxSelectMultiple)
    hours_pct = forms.IntegerField(required=False, min_value=0, max_value=300)

    def __init__(self, data: Any, *, plan: SeasonPlan, today: date) -> None:
        super().__init__(data, initial={"today": today, "unlogged": "stand"}, auto_id="again-%s")
        beds = [(bed.code, f"{bed.code} {bed.name}".strip()) for bed in plan.book.beds]
        to_begin = [each for each in plan.plantings if _begins(each) >= today]
        self._choices(
            "unlogged", [("stand", _("they went in as planned")), ("not gone in", _("they did not go in"))]
        )
        self._choices("lost_beds", beds)
        self._choices("closed_beds", beds)
        self._choices("not_delivered", [(each.code, _named(each)) for each in to_begin])
        if not plan.book.people:
            del self.fields["hours_pct"]
        labels = {
            "today": _("From this day on"),
            "unlogged": _("Plantings due before it that nobody wrote down"),
            "lost_beds": _("Beds that are lost, with what stands in them"),
            "closed_beds": _("Beds into which nothing more goes; what stands there stays"),
            "not_delivered": _("Seed or plants that did not come"),
            "hours_pct": _("Share of the promised hours that is left, in percent"),
        }
        for name, field in self.fields.items():
            field.label = labels[name]
        self.fields["today"].help_text = _("What went into the ground before it stands.")

    def _choices(self, name: str, choices: list[tuple[str, str]]) -> None:
        field = self.fields[name]
        if isinstance(field, forms.ChoiceField):
            field.choices = choices

    def asked(self) -> AgainAsked:
        """What is asked for; only of a form without a fault."""
        data = self.cleaned_data
        share = data.get("hours_pct")
        return AgainAsked(
            "not gone in" if data["unlogged"] == "not gone in" else "stand",
            Happened(
                lost_beds=tuple(data["lost_beds"]),
                closed_beds=tuple(data["closed_beds"]),
                not_delivered=dict.fromkeys(data["not_delivered"]),
                hours_share=None if share is None else share / 100,
            ),
        )


def _begins(planting: Planting) -> date:
    return planting.dates.sow_under_cover or planting.dates.in_ground


def _named(planting: Planting) -> str:
    day = date_format(_begins(planting), "SHORT_DATE_FORMAT")
    return f"{planting.label_code} {name_of(planting)}, {day}"
