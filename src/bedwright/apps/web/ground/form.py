"""Fields of things on the site as the page shows them: labels, units, bounds and choices."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, get_args

from django.utils.dates import MONTHS, MONTHS_3
from django.utils.translation import gettext as _

from bedwright.model import bounds
from bedwright.model.book import FeatureKind
from bedwright.model.bounds import Bounds

Field = dict[str, Any]
Choices = list[tuple[Any, str]]


def form_of_ground() -> dict[str, Any]:
    """Everything the page needs to build its fields, in the language of the person."""
    return {"bed": _bed_fields(), "feature": _feature_fields(), "kinds": dict(kinds())}


def kinds() -> Choices:
    """Outlines of beds, then kinds of features, with their names."""
    return [
        ("rectangle", _("bed with four corners")),
        ("polygon", _("bed of any shape")),
        ("circle", _("round bed")),
        *((kind, _kind_words(kind)) for kind in get_args(FeatureKind)),
    ]


def months() -> list[tuple[int, str]]:
    """The months by number."""
    return [(number, str(name)) for number, name in MONTHS.items()]


def _kind_words(kind: FeatureKind) -> str:
    words: dict[FeatureKind, str] = {
        "building": _("building"),
        "wall": _("wall"),
        "fence": _("fence"),
        "hedge": _("hedge"),
        "tree": _("tree"),
        "path": _("path"),
        "tap": _("tap"),
        "utility": _("buried or overhead utility"),
        "water butt": _("water butt"),
        "shed": _("shed"),
        "compost bay": _("compost bay"),
    }
    return words[kind]


def _sides() -> Choices:
    return [("north", _("north")), ("east", _("east")), ("south", _("south")), ("west", _("west"))]


def _textures() -> Choices:
    return [
        ("sand", _("sand")),
        ("loamy sand", _("loamy sand")),
        ("sandy loam", _("sandy loam")),
        ("loam", _("loam")),
        ("silt loam", _("silt loam")),
        ("silt", _("silt")),
        ("silty clay loam", _("silty clay loam")),
        ("silty clay", _("silty clay")),
        ("clay", _("clay")),
    ]


def _supports() -> Choices:
    return [
        ("trellis", _("trellis")),
        ("netting", _("netting")),
        ("canes", _("canes")),
        ("wall wires", _("wall wires")),
    ]


def _length(label: str, within: Bounds, *path: str, required: bool = False, **more: Any) -> Field:
    return _number(label, within, *path, required=required, quantity="length", **more)


def _number(label: str, within: Bounds, *path: str, required: bool = False, **more: Any) -> Field:
    return {
        "type": "number",
        "label": label,
        "path": list(path),
        "low": within.low,
        "high": within.high,
        "required": required,
        **more,
    }


def _text(label: str, key: str, **more: Any) -> Field:
    return {"type": "text", "label": label, "path": [key], **more}


def _choice(label: str, choices: Iterable[tuple[Any, str]], *path: str, **more: Any) -> Field:
    return {"type": "choice", "label": label, "path": list(path), "choices": list(choices), **more}


def _bearing(shape: str, *, required: bool) -> Field:
    return _number(
        _("Bearing of the string line"),
        bounds.BEARING_DEG,
        shape,
        "bearing_deg",
        required=required,
        shape=shape,
        unit="°",
        step=5,
        help=_("0 north, 90 east."),
    )


def _bed_fields() -> list[Field]:
    return [*_outline_fields(), *_soil_fields(), *_reach_fields()]


def _outline_fields() -> list[Field]:
    rectangle: dict[str, Any] = {"shape": "rectangle", "required": True}
    circle: dict[str, Any] = {"shape": "circle", "required": True}
    return [
        _length(_("Length"), bounds.BED_LENGTH_M, "rectangle", "length_m", **rectangle),
        _length(_("Width"), bounds.BED_WIDTH_M, "rectangle", "width_m", **rectangle),
        _length(_("Peg, east of the datum"), bounds.POSITION_M, "rectangle", "east_m", **rectangle),
        _length(_("Peg, north of the datum"), bounds.POSITION_M, "rectangle", "north_m", **rectangle),
        _length(_("Radius"), bounds.BED_RADIUS_M, "circle", "radius_m", **circle),
        _length(_("Centre, east of the datum"), bounds.POSITION_M, "circle", "east_m", **circle),
        _length(_("Centre, north of the datum"), bounds.POSITION_M, "circle", "north_m", **circle),
        _bearing("rectangle", required=True),
        _bearing("polygon", required=True),
        _bearing("circle", required=False),
        _corners("polygon", "vertices_m", shape="polygon", least=bounds.N_VERTICES.low),
        _text(_("Code"), "code", help=_("On plan, sheets and pegs: a letter first, at most six signs.")),
        _text(_("Name"), "name"),
        _text(_("Use"), "use", help=_("Such as school bed.")),
    ]


def _soil_fields() -> list[Field]:
    return [
        _choice(_("Soil type"), _textures(), "texture", required=True),
        _length(_("Raised by"), bounds.BED_HEIGHT_M, "raised_m"),
        _length(_("Depth roots can reach"), bounds.SOIL_DEPTH_M, "soil_depth_m"),
        _number(
            _("Sun seen there"),
            bounds.SUN_H,
            "sun_h",
            unit="h",
            help=_("A day in June (December in the south), if you watched it; overrules what is worked out."),
        ),
    ]


def _reach_fields() -> list[Field]:
    support_height = _length(_("Height"), bounds.SUPPORT_HEIGHT_M, "height_m", required=True)
    return [
        _choice(
            _("Water reaches it by"),
            [("can", _("can")), ("none", _("nothing"))],
            "watering",
            left_out=_("hose"),
        ),
        {
            "type": "several",
            "label": _("Worked from"),
            "path": ["reach"],
            "choices": _sides(),
            "all": True,
        },
        {
            "type": "supports",
            "label": _("Lasting supports"),
            "path": ["supports"],
            "one": _("Support"),
            "add": _("Add a support"),
            "columns": [
                _choice(_("Kind"), _supports(), "kind", required=True),
                _choice(_("Side"), _sides(), "side", required=True),
                support_height,
            ],
        },
    ]


def _corners(*path: str, least: float, **more: Any) -> Field:
    return {
        "type": "points",
        "label": _("Corners"),
        "path": list(path),
        "one": _("Corner"),
        "add": _("Add a corner"),
        "east": _("East"),
        "north": _("North"),
        "low": bounds.POSITION_M.low,
        "high": bounds.POSITION_M.high,
        "least": least,
        **more,
    }


def _feature_fields() -> list[Field]:
    upright = ["building", "wall", "fence", "hedge", "tree", "water butt", "shed", "compost bay"]
    broad = ["wall", "fence", "hedge", "path", "water butt"]
    standing = [kind for kind in get_args(FeatureKind) if kind not in {"tree", "tap"}]
    east, north = bounds.POSITION_M, bounds.POSITION_M
    return [
        _length(_("East of the datum"), east, "at_m", "0", key="at_m", required=True),
        _length(_("North of the datum"), north, "at_m", "1", key="at_m", required=True),
        _length(_("Height"), bounds.FEATURE_HEIGHT_M, "height_m", kinds=upright),
        _length(_("Crown radius"), bounds.CROWN_RADIUS_M, "crown_radius_m", kinds=["tree"]),
        _length(_("Height of the lowest leaves"), bounds.CROWN_BASE_M, "crown_base_m", kinds=["tree"]),
        _length(_("Width"), bounds.PATH_WIDTH_M, "width_m", kinds=broad),
        _text(_("Name"), "name"),
        _text(_("Code"), "code", help=_("Short, shown on the plan.")),
        {
            "type": "several",
            "label": _("Months without leaves"),
            "path": ["leafless_months"],
            "choices": [(number, str(name)) for number, name in MONTHS_3.items()],
            "kinds": ["tree", "hedge"],
        },
        _corners("vertices_m", least=2, kinds=standing, key="vertices_m"),
    ]
