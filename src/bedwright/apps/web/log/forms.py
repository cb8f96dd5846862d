"""The form in which a line is written or corrected."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from bedwright.apps.web.gardens.crop_words import crop_word
from bedwright.apps.web.log.amounts import amount_words, shown, to_si
from bedwright.apps.web.log.models import Kind, LogEntry
from bedwright.apps.web.log.wire import MOST_MINUTES, MOST_QUANTITY, moment
from bedwright.model.book import GardenBook, UnitSystem
from bedwright.model.log import UNITS_OF_KIND
from bedwright.model.season import Planting, SeasonPlan

_UNITS = {
    "metric": [
        ("", _("no amount")), ("plants", _("plants")), ("kg", "kg"), ("L", "L"), ("mm", "mm"),
        ("row m", _("m of row")),
    ],
    "us": [
        ("", _("no amount")), ("plants", _("plants")), ("lb", "lb"), ("US gal", "US gal"), ("in", "in"),
        ("row ft", _("ft of row")),
    ],
}  # fmt: skip


class LineForm(forms.Form):
    """One line; its id is made with the page, so that sending it twice writes one line."""

    client_id = forms.UUIDField(widget=forms.HiddenInput)
    written_at = forms.CharField(widget=forms.HiddenInput)
    day = forms.DateField(label=_("Day"), widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"))
    kind = forms.ChoiceField(label=_("What happened"), choices=Kind.choices)
    planting = forms.ChoiceField(label=_("Row and crop"), required=False)
    bed = forms.ChoiceField(label=_("Bed, if no row"), required=False)
    quantity = forms.FloatField(label=_("Amount"), required=False, min_value=0)
    unit = forms.ChoiceField(label=_("Unit"), required=False)
    hours = forms.FloatField(
        label=_("Hours of work, all people added up"),
        required=False,
        min_value=0,
        max_value=MOST_MINUTES // 60,
    )
    partly = forms.BooleanField(label=_("Not finished yet"), required=False)
    note = forms.CharField(
        label=_("Note"), required=False, max_length=4000, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(
        self, *args: Any, book: GardenBook | None, plan: SeasonPlan | None, units: UnitSystem, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.plan_revision = plan.revision if plan else ""
        self.plantings: dict[str, Planting] = {each.code: each for each in plan.plantings} if plan else {}
        self.units = units
        self.kept: LogEntry | None = None
        _choose(self.fields["planting"], [("", "–"), *((p.code, _planting_words(p)) for p in _walk(plan))])
        beds = [(bed.code, f"{bed.code} {bed.name}") for bed in _beds(book)]
        _choose(self.fields["bed"], [("", "–"), *beds])
        _choose(self.fields["unit"], _UNITS[units])

    def correct(self, entry: LogEntry) -> None:
        """Keep a planting or bed that the plan no longer has."""
        self.kept = entry
        if entry.planting_code and entry.planting_code not in self.plantings:
            words = f"{entry.row_code} {crop_word(entry.crop)} ({entry.planting_code})"
            self._also("planting", entry.planting_code, words)
        if entry.bed_code:
            self._also("bed", entry.bed_code, entry.bed_code)

    def _also(self, name: str, value: str, words: str) -> None:
        field = self.fields[name]
        assert isinstance(field, forms.ChoiceField)  # noqa: S101 - narrows for the type checker
        choices = list(field.choices)  # type: ignore[arg-type]
        if value not in {known for known, _words in choices}:
            field.choices = [*choices, (value, words)]

    def clean_written_at(self) -> str:
        """Only a moment as the page gave it."""
        text: str = self.cleaned_data["written_at"]
        try:
            moment(text)
        except ValueError as error:
            raise forms.ValidationError(_("Open the page again.")) from error
        return text

    def clean(self) -> dict[str, Any]:
        """Amount and unit belong together, and the unit to what happened."""
        given: dict[str, Any] = super().clean() or self.cleaned_data
        quantity, unit = given.get("quantity"), given.get("unit", "")
        if (quantity is None) != (not unit):
            self.add_error("quantity", _("Give an amount with its unit, or neither."))
        elif quantity is not None and unit and given.get("kind"):
            amount, si = to_si(quantity, unit)
            if si not in UNITS_OF_KIND[given["kind"]]:
                self.add_error("unit", _("This unit does not belong to what happened."))
            elif amount > (most := MOST_QUANTITY[si]):
                words = {"most": amount_words(most, si, self.units)}
                self.add_error("quantity", _("More than %(most)s in one line is taken for a slip.") % words)
        return given

    def item(self, *, corrects: LogEntry | None = None) -> dict[str, Any]:
        """The line as a phone would send it."""
        given = self.cleaned_data
        planting = self.plantings.get(given["planting"])
        item: dict[str, Any] = {
            "id": str(given["client_id"]),
            "written_at": given["written_at"],
            "day": given["day"].isoformat(),
            "kind": given["kind"],
            "bed": planting.bed_code if planting else given["bed"],
            "planting": given["planting"],
            "row": planting.label_code if planting else "",
            "crop": planting.crop.name if planting else "",
            "partly": given["partly"],
            "note": given["note"],
            "plan": self.plan_revision,
        }
        if given["quantity"] is not None:
            item["quantity"], item["unit"] = to_si(given["quantity"], given["unit"])
        if given["hours"] is not None:
            item["person_min"] = round(given["hours"] * 60)
        if corrects is not None:
            item |= {"corrects": str(corrects.client_id), "n_people": corrects.n_people}
            if corrects.ends is not None:
                item["ends"] = str(corrects.ends)
            if corrects.planting_code == given["planting"]:
                item |= {"row": corrects.row_code, "crop": corrects.crop, "task": corrects.task_code}
                item |= {"plan": corrects.plan_digest}
        return item


def fresh() -> dict[str, Any]:
    """Hidden fields of a new line."""
    return {"client_id": uuid.uuid4(), "written_at": timezone.now().isoformat()}


def initial_of(entry: LogEntry, units: UnitSystem) -> dict[str, Any]:
    """A line as the form shows it."""
    amount: tuple[float | None, str] = (None, "")
    if entry.quantity is not None:
        value, unit = shown(entry.quantity, entry.unit, units)
        amount = (float(f"{value:.6g}"), unit)
    return fresh() | {
        "day": entry.day,
        "kind": entry.kind,
        "planting": entry.planting_code,
        "bed": entry.bed_code,
        "quantity": amount[0],
        "unit": amount[1],
        "hours": None if entry.person_min is None else round(entry.person_min / 60, 2),
        "partly": entry.partly,
        "note": entry.note,
    }


def _choose(field: forms.Field, choices: list[tuple[Any, Any]]) -> None:
    assert isinstance(field, forms.ChoiceField)  # noqa: S101 - narrows for the type checker
    field.choices = choices


def _beds(book: GardenBook | None) -> Any:
    return book.beds if book is not None else ()


def _walk(plan: SeasonPlan | None) -> list[Planting]:
    if plan is None:
        return []
    return [planting for bed in plan.book.beds for planting in plan.in_bed(bed.code)]


def _planting_words(planting: Planting) -> str:
    rows = planting.rows
    span = rows[0].code if len(rows) == 1 else f"{rows[0].code} – {rows[-1].code}"
    return f"{span} {crop_word(planting.crop.name)} {planting.variety}".strip()
