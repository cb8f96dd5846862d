"""What to do for each kind of job, in the reader's language and the garden's units."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from bedwright.apps.web.field.pictures import rows_apart
from bedwright.apps.web.sentences import in_language
from bedwright.model.season import Planting
from bedwright.papers.measures import Measures
from bedwright.papers.schedule import plant_distance_m, staggered

WORDS_OF_PAPERS = (
    gettext_noop("not to scale"),
    gettext_noop("bury to first leaves"),
    gettext_noop("level with the cell"),
    gettext_noop("crown level with the soil"),
)
"""Words that the drawings of the papers use."""


def instruction(kind: str, planting: Planting | None, measures: Measures, details: str) -> str:
    """How to do one job, in whole sentences; what the plan says of it where nothing better is known."""
    if planting is not None and kind in _WITH_PLANTING:
        return _WITH_PLANTING[kind](planting, measures)
    return _plain(kind) or in_language(details)


def _plain(kind: str) -> str:
    texts = {
        "weed": _("Hand-weed round the plants, roots and all; leave seedlings you are not sure of."),
        "water": _("Feel the soil a finger deep first; water low and slowly where it is dry."),
        "raise": _("Feel the mix in the trays, water from below where it is dry, turn them to the light."),
        "harden off": _(
            "Shade and one to two hours outside at first, longer each day; indoors below 7 °C (45 °F)."
        ),
        "cover": _("Have fleece or another cover at hand: on clear nights low plants may freeze."),
        "mulch": _("Mulch once the soil is warm and moist and plants stand clear; keep it off the stems."),
        "earth up": _(
            "Draw 10 to 13 cm (4 to 5 in) of soil round the stems when plants are about 23 cm (9 in) high."
        ),
        "cut down": _("Cut down before it sets seed; leave on the ground or dig in."),
    }
    return texts.get(kind, "")


def _ground(planting: Planting, measures: Measures) -> dict[str, str]:
    start_m, end_m = planting.along_m
    return {"bed": planting.bed_code, "start": measures.place(start_m), "end": measures.place(end_m)}


def _prepare(planting: Planting, measures: Measures) -> str:
    return _(
        "Clear what is left, spread compost, rake level: bed %(bed)s, %(start)s to %(end)s from the peg."
    ) % _ground(planting, measures)


def _clear(planting: Planting, measures: Measures) -> str:
    return _("Take the crop out: bed %(bed)s, %(start)s to %(end)s from the peg.") % _ground(
        planting, measures
    )


def _sow_under_cover(planting: Planting, measures: Measures) -> str:
    return _("%(depth)s deep, for %(n)d plants; label the tray at once.") % {
        "depth": measures.depth(planting.crop.sow_depth_mm),
        "n": planting.n_plants,
    }


def _spacing(planting: Planting, measures: Measures) -> str:
    spacing = measures.spacing(plant_distance_m(planting))
    apart = rows_apart(planting, measures)
    if apart:
        told = _("%(spacing)s from plant to plant, rows %(apart)s apart.") % {
            "spacing": spacing,
            "apart": apart,
        }
        if staggered(planting):
            told += " " + _("Staggered: begin every other row half a gap further on.")
        return told
    return _("%(spacing)s from plant to plant.") % {"spacing": spacing}


def _sow(planting: Planting, measures: Measures) -> str:
    crop = planting.crop
    if crop.sow_depth_mm == 0:
        deep = _("On the surface, not covered.")
    else:
        deep = _("%(depth)s deep.") % {"depth": measures.depth(crop.sow_depth_mm)}
    seeds = (
        _("%(n)d seeds where each plant will stay.") % {"n": crop.seeds_per_station}
        if crop.seeds_per_station > 1
        else ""
    )
    last = _("Peg in as soon as the row is done; water in.")
    return " ".join(part for part in (deep, _spacing(planting, measures), seeds, last) if part)


def _set_out(planting: Planting, measures: Measures) -> str:
    crop = planting.crop
    parts = [_spacing(planting, measures)]
    if crop.set_underground:
        depth = measures.depth(crop.sow_depth_mm)
        parts.append(_("Set %(depth)s deep, shoots or tips up.") % {"depth": depth})
    else:
        if crop.soak_cell:
            parts.append(_("Soak the cell before knocking out."))
        if crop.roots == "tease":
            parts.append(_("Tease the roots apart a little."))
        else:
            parts.append(_("Leave the roots undisturbed."))
        parts.append(
            {
                "bury to first leaves": _("Set deep, up to the first leaves."),
                "level with the cell": _("Set level with the top of the cell."),
                "crown level with the soil": _("Keep the crown level with the soil."),
            }[crop.stem_depth]
        )
    parts.append(_("Peg in as soon as the row is done; water in."))
    return " ".join(parts)


def _thin(planting: Planting, measures: Measures) -> str:
    return _("Thin to %(spacing)s: %(n)d plants stay. Firm the soil round them.") % {
        "spacing": measures.spacing(plant_distance_m(planting)),
        "n": planting.n_plants,
    }


def _support(planting: Planting, measures: Measures) -> str:
    texts = {
        "cane": _("Put up canes for %(n)d plants; cap their tops."),
        "netting": _("Put up netting for %(n)d plants."),
        "trellis": _("Put up a trellis for %(n)d plants."),
    }
    return texts.get(planting.crop.support, _("Put up supports for %(n)d plants.")) % {"n": planting.n_plants}


def _pick(planting: Planting, measures: Measures) -> str:
    if not planting.crop.edible_parts:
        return _("Weigh and write down each picking.")
    return _("Eaten: %(parts)s. Weigh and write down each picking.") % {
        "parts": ", ".join(_(part) for part in planting.crop.edible_parts)
    }


_WITH_PLANTING: Mapping[str, Callable[[Planting, Measures], str]] = {
    "prepare": _prepare,
    "sow under cover": _sow_under_cover,
    "sow": _sow,
    "set out": _set_out,
    "thin": _thin,
    "support": _support,
    "pick": _pick,
    "clear": _clear,
}
