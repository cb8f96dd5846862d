"""The boxes of a form, made from the schema, with what stands in them and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Literal

from django.utils.formats import get_format
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.crop_words import as_shown
from bedwright.apps.web.gardens.entry.units import shown_key, shown_number, shown_unit
from bedwright.apps.web.gardens.entry.words import label_of, name_of
from bedwright.model.book import UnitSystem
from bedwright.model.bounds import plain_number
from bedwright.model.problem import Problem
from bedwright.store.book.kinds import (
    Choice,
    Day,
    Either,
    Field,
    Flag,
    Group,
    Kind,
    ListOf,
    MonthDay,
    Number,
    Position,
    Record,
    Text,
    in_unit,
    unit_of,
)
from bedwright.store.book.texts import BED_CODE

Shape = Literal[
    "text", "lines", "number", "choice", "flag", "yes_no", "day", "month_day", "ticks", "words", "places",
    "numbers", "number_list", "record", "rows", "amount", "one_of",
]  # fmt: skip
N_EMPTY_ROWS = 2
"""Empty rows at the end of a list of records, for new entries without any script."""


@dataclass(slots=True)
class Box:
    """One box, or a group of boxes, of a form.

    `name` is the path within the entry, as the reader writes it in `Problem.where`: so a
    problem finds its box without any table in between.
    """

    name: str
    shape: Shape
    label: str
    help: str = ""
    left_out: str = ""
    required: bool = False
    unit: str = ""
    value: str = ""
    values: tuple[str, ...] = ()
    options: tuple[tuple[str, str], ...] = ()
    suggestions: tuple[str, ...] = ()
    boxes: list[Box] = field(default_factory=list)
    rows: list[list[Box]] = field(default_factory=list)
    row_label: str = ""
    problems: list[Problem] = field(default_factory=list)
    kept: tuple[str, Any] | None = None
    """Key and value in the book, where `value` shows it converted or rounded: a number left as
    it was shown is saved as it was kept."""
    choice_name: str = ""
    """Of the box that says which of several is meant."""
    choice: str = ""

    @property
    def id(self) -> str:
        """Of the element; brackets and full stops would need escaping in selectors."""
        return "box-" + self.name.replace("[", "-").replace("]", "").replace(".", "-")

    @property
    def filled(self) -> bool:
        """Whether anything stands in it or below it."""
        inner = [*self.boxes, *(box for row in self.rows for box in row)]
        return bool(self.value or self.values or any(box.filled for box in inner))

    @property
    def faulty(self) -> bool:
        """Whether anything is wrong in it or below it."""
        inner = [*self.boxes, *(box for row in self.rows for box in row)]
        return bool(self.problems) or any(box.faulty for box in inner)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What the boxes of a form need to know of the garden."""

    units: UnitSystem
    beds: Sequence[tuple[str, str]] = ()
    """Code and name of each bed, for boxes that name one."""
    choices: Mapping[str, Sequence[tuple[str, str]]] = field(default_factory=dict)
    """Options for keys whose values are names of something in this garden."""
    suggestions: Mapping[str, Sequence[str]] = field(default_factory=dict)
    """Words offered for a key, where others are possible too."""


def boxes_of(
    record: Record,
    entry: Mapping[str, Any],
    around: Surroundings,
    prefix: str = "",
    *,
    skip: Iterable[str] = (),
) -> list[Box]:
    """The boxes of a record, filled with an entry.

    Parameters
    ----------
    record
        The record's schema.
    entry
        Values under the schema's keys, in SI, or as posted under keys in other units.
    around
        Units, codes and suggestions of this garden.
    prefix
        Path of the record, empty for the entry itself.
    skip
        Keys without a box.
    """
    grouped = {key: group for group in record.groups if _is_one_of(group, record) for key in group.keys}
    done: set[Group] = set()
    boxes: list[Box] = []
    for each in record.fields:
        if each.key in skip:
            continue
        group = grouped.get(each.key)
        if group is None:
            boxes.append(_box(each, entry, around, prefix))
        elif group not in done:
            done.add(group)
            boxes.append(_group_box(group, record, entry, around, prefix))
    return boxes


def _is_one_of(group: Group, record: Record) -> bool:
    """Groups shown as one box with a choice: exactly one amount, or exactly one shape."""
    kinds = [each.kind for each in record.fields if each.key in group.keys]
    alike = all(_is_amount(kind) for kind in kinds) or all(isinstance(kind, Record) for kind in kinds)
    return group.high == 1 and group.low == 1 and alike


def _is_amount(kind: Kind) -> bool:
    return isinstance(kind, Number) or (isinstance(kind, Either) and isinstance(kind.short, Number))


def _path(prefix: str, key: str) -> str:
    return f"{prefix}.{key}" if prefix else key


def _group_box(
    group: Group, record: Record, entry: Mapping[str, Any], around: Surroundings, prefix: str
) -> Box:
    fields = [each for each in record.fields if each.key in group.keys]
    inner = [_box(each, entry, around, prefix) for each in fields]
    given = next((box for box in inner if box.filled), inner[0])
    is_amount = _is_amount(fields[0].kind)
    name = _path(prefix, "-or-".join(group.keys))
    options = tuple(
        (box.name, _option(each, box) if is_amount else box.label)
        for each, box in zip(fields, inner, strict=True)
    )
    return Box(
        name=name,
        shape="amount" if is_amount else "one_of",
        label=_("Amount") if is_amount else _("Shape"),
        required=group.low > 0,
        value=given.value if is_amount else "",
        options=options,
        boxes=[] if is_amount else inner,
        choice_name=f"{name}?",
        choice=given.name,
        kept=given.kept if is_amount else None,
    )


def _option(each: Field, box: Box) -> str:
    """What an amount counts: its unit, and of what."""
    words = {"row_m": _("%(unit)s of row"), "harvest_kg": _("%(unit)s to harvest")}
    return words.get(each.key, "%(unit)s") % {"unit": box.unit or box.label}


def _box(each: Field, entry: Mapping[str, Any], around: Surroundings, prefix: str) -> Box:
    key = shown_key(each, around.units)
    unit, shown = unit_of(each), shown_unit(each, around.units)
    value = as_shown(each.key, entry.get(key, entry.get(each.key)))
    kept: tuple[str, Any] | None = None
    if isinstance(value, int | float) and not isinstance(value, bool) and each.key in entry:
        kept = (each.key, value)
        value = shown_number(value, unit, shown)
    elif isinstance(value, tuple) and not value:
        # An empty list that is written out says something: that nothing stood there.
        kept = (each.key, value)
    box = Box(
        name=_path(prefix, key),
        shape="text",
        label=_(label_of(each)),
        help=_(each.meaning),
        left_out=_left_out(each),
        required=each.required,
        kept=kept,
    )
    if shown is not None:
        box.unit = shown.symbol
    elif (
        isinstance(each.kind, Number) and each.kind.bounds.unit and not each.kind.bounds.unit.startswith("(")
    ):
        box.unit = _(each.kind.bounds.unit)
    box.suggestions = tuple(around.suggestions.get(each.key, ()))
    _fill(box, each.kind, value, each, around)
    return box


def _left_out(each: Field) -> str:
    if not each.left_out:
        return ""
    return each.left_out if each.left_out.replace(".", "").isdigit() else _(each.left_out)


def _fill(box: Box, kind: Kind, value: Any, each: Field, around: Surroundings) -> None:  # noqa: C901, PLR0912 - one short branch for each kind
    match kind:
        case Number():
            box.shape, box.value = "number", _text(value)
            bounds = in_unit(kind.bounds, shown_unit(each, around.units))
            if bounds.low < bounds.high:
                limits = {"low": _in_language(bounds.low), "high": _in_language(bounds.high)}
                box.help = f"{box.help} {_('%(low)s to %(high)s.') % limits}"
        case Text() if options := _options(kind, each, around):
            box.shape, box.value, box.options = "choice", _text(value), options
        case Text():
            box.shape, box.value = ("lines" if kind.lines else "text"), _text(value)
        case Choice():
            box.shape, box.value = "choice", _text(value)
            box.options = tuple((option, _(option)) for option in kind.options)
        case Flag() if each.left_out not in {"", "false"}:
            # Yes, no and not known are three things: a tick could not tell the last two apart.
            box.shape, box.value = "yes_no", _text(value)
            box.options = (("true", _("yes")), ("false", _("no")))
        case Flag():
            box.shape, box.value = "flag", "true" if value is True or value == "true" else ""
        case Day():
            box.shape, box.value = "day", _text(value)
        case MonthDay():
            box.shape, box.value = "month_day", _text(value)
        case Position():
            box.shape, box.value = "text", ", ".join(_text(part) for part in value or ())
            box.kept = (each.key, value) if value else None
        case Either():
            _fill_either(box, kind, value, each, around)
        case Record():
            box.shape = "record"
            box.boxes = boxes_of(kind, value if isinstance(value, Mapping) else {}, around, box.name)
        case ListOf():
            _fill_list(box, kind, value or (), each, around)


def _options(kind: Kind, each: Field, around: Surroundings) -> tuple[tuple[str, str], ...]:
    """What a text can only be one of in this garden; empty where anything goes."""
    if kind == BED_CODE and each.key != "code":
        return tuple(around.beds)
    return tuple(around.choices.get(each.key, ()))


def _in_language(value: float) -> str:
    """A number as the language of the page writes it."""
    return plain_number(value).replace(".", str(get_format("DECIMAL_SEPARATOR")))


def _fill_either(box: Box, kind: Either, value: Any, each: Field, around: Surroundings) -> None:
    if isinstance(kind.full, Record):
        # Short words stand for a record with nothing but its first key.
        entry = value if isinstance(value, Mapping) else {kind.full.fields[0].key: value}
        box.shape, box.boxes = "record", boxes_of(kind.full, entry, around, box.name)
        return
    box.value = ", ".join(_text(part) for part in value) if isinstance(value, tuple | list) else _text(value)
    if isinstance(kind.full, ListOf):
        box.shape = "numbers"
        if isinstance(value, tuple):
            box.kept = (each.key, value)
    if isinstance(kind.full, Choice):
        box.suggestions = kind.full.options


def _fill_list(box: Box, kind: ListOf, value: Sequence[Any], each: Field, around: Surroundings) -> None:
    item = kind.item
    if isinstance(item, Record):
        box.shape = "rows"
        entries = [*value, *({} for _number in range(N_EMPTY_ROWS))]
        box.row_label = _(name_of(item))
        box.rows = [
            boxes_of(item, entry, around, f"{box.name}[{number}]") for number, entry in enumerate(entries, 1)
        ]
    elif isinstance(item, Position):
        box.shape = "places"
        box.value = "\n".join(", ".join(_text(part) for part in place) for place in value)
        box.kept = (each.key, value) if value else None
        box.help = f"{box.help} {_('One place a line: east, north, in metres.')}"
    elif isinstance(item, Choice):
        box.shape, box.values = "ticks", tuple(str(word) for word in value)
        box.options = tuple((option, _(option)) for option in item.options)
    elif options := _options(item, each, around):
        box.shape, box.values, box.options = "ticks", tuple(str(word) for word in value), options
    else:
        box.shape = "number_list" if isinstance(item, Number) else "words"
        box.value = ", ".join(_text(word) for word in value)
        box.help = f"{box.help} {_('Put commas between several.')}"


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, int | float):
        return shown_number(value, None, None)
    return str(value)


def every_box(boxes: Iterable[Box]) -> Iterable[Box]:
    """The boxes and all below them."""
    for box in boxes:
        yield box
        yield from every_box(box.boxes)
        for row in box.rows:
            yield from every_box(row)


def place_problems(boxes: list[Box], problems: Iterable[Problem], prefix: str) -> list[Problem]:
    """Put each problem into its box; those of other entries come back.

    Parameters
    ----------
    boxes
        Boxes of one entry.
    problems
        As the reader found them in the whole book.
    prefix
        Path of the entry in the book, such as `wishes[3]`.
    """
    named: dict[str, Box] = {}
    for box in every_box(boxes):
        named.setdefault(box.name, box)
        if box.shape == "amount":
            named.update({name: box for name, _label in box.options})
    elsewhere: list[Problem] = []
    for problem in problems:
        inside = _inside(problem.where, prefix)
        if inside is None:
            elsewhere.append(problem)
            continue
        while inside and inside not in named:
            # The nearest box around it: an entry of a list that is one box, a group.
            inside = inside.rpartition("[")[0] if inside.endswith("]") else inside.rpartition(".")[0]
        if inside in named:
            named[inside].problems.append(problem)
        else:
            _first_of_group(boxes, problem, elsewhere)
    return elsewhere


def _inside(where: str, prefix: str) -> str | None:
    if not prefix:
        return where
    if where == prefix:
        return ""
    return where[len(prefix) + 1 :] if where.startswith((f"{prefix}.",)) else None


def _first_of_group(boxes: list[Box], problem: Problem, elsewhere: list[Problem]) -> None:
    """A problem of the entry as a whole belongs to the group whose keys it names."""
    for box in every_box(boxes):
        if box.shape in {"amount", "one_of"} and any(
            f"`{name}`" in problem.expected for name, _l in box.options
        ):
            box.problems.append(problem)
            return
    elsewhere.append(problem)
