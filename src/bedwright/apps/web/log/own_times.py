"""What jobs took here, as rows of the page on what was planned and done."""

from __future__ import annotations

from collections.abc import Iterable

from django.utils.translation import gettext as _

from bedwright.model.book import UnitSystem
from bedwright.model.work import OwnRate
from bedwright.service.own_times import in_units_of


def own_time_rows(
    own: Iterable[OwnRate], units: UnitSystem
) -> list[tuple[str, str, tuple[float, float, float], int]]:
    """Job, what its minutes are for, low, likely and high, times written down."""
    words = {
        "m2": _("m² of bed"),
        "ft2": _("ft² of bed"),
        "plant": _("plant"),
        "row_m": _("m of row"),
        "row_ft": _("ft of row"),
        "kg": _("kg"),
        "lb": _("lb"),
        "tray": _("tray"),
        "visit": _("visit"),
        "order": _("order"),
    }
    rows = []
    for rate in own:
        unit, minutes = in_units_of(rate, units)
        rows.append((rate.rate_name, words[unit], minutes, rate.n_records))
    return rows
