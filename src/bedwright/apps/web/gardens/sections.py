"""The sections of a garden book as pages: where each lies in the book, and what its list shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from django.utils.formats import date_format, get_format
from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from bedwright.apps.web.gardens.crop_words import crop_word
from bedwright.apps.web.gardens.entry.units import shown_number, shown_unit
from bedwright.apps.web.gardens.entry.words import label_of
from bedwright.model.book import UnitSystem
from bedwright.store.book import schema
from bedwright.store.book.kinds import Field, ListOf, Record, unit_of
from bedwright.store.weaving import names_of

Entry = Mapping[str, Any]
Cell = Callable[[Entry, UnitSystem], str]


@dataclass(frozen=True, slots=True)
class Section:
    """One section of the book."""

    slug: str
    path: tuple[str, ...]
    label: str | Promise
    record: Record
    is_list: bool
    columns: tuple[tuple[str | Promise, Cell], ...] = ()
    intro: str | Promise = ""
    skip: frozenset[str] = field(default_factory=frozenset)
    """Keys that have a page of their own."""

    def value_in(self, document: Mapping[str, Any]) -> Any:
        """The section's value: a tuple of entries, or one record."""
        if not self.path:
            return {key: document[key] for key in self._keys if key in document}
        value: Any = document
        for key in self.path:
            value = value.get(key) if isinstance(value, Mapping) else None
        if value is None:
            return () if self.is_list else {}
        return value

    def put_into(self, document: Mapping[str, Any], value: Any) -> dict[str, Any]:
        """The document with another value for the section; empty optional sections are left out."""
        if not self.path:
            return {key: below for key, below in document.items() if key not in self._keys} | dict(value)
        return _put(document, self.path, value)

    @property
    def _keys(self) -> frozenset[str]:
        return frozenset(each.key for each in self.record.fields)

    def names(self, document: Mapping[str, Any]) -> tuple[str, ...]:
        """Names of the entries."""
        return names_of(self.path, self.value_in(document))


def _put(document: Mapping[str, Any], path: tuple[str, ...], value: Any) -> dict[str, Any]:
    changed = dict(document)
    if len(path) > 1:
        value = _put(changed.get(path[0], {}), path[1:], value)
    elif value in ((), {}, "") and path[0] not in {"beds", "wishes"}:
        changed.pop(path[0], None)
        return changed
    changed[path[0]] = value
    return changed


def plain(key: str) -> Cell:
    """A cell with a value as it stands in the book."""
    return lambda entry, _units: "" if entry.get(key) is None else _shown(entry[key])


def word(key: str) -> Cell:
    """A cell with a word of the schema, translated."""
    return lambda entry, _units: _(str(entry[key])) if entry.get(key) else ""


def _shown(value: Any) -> str:
    if isinstance(value, Mapping):
        return ", ".join(_shown(each) for each in value.values())
    if isinstance(value, tuple):
        return ", ".join(_shown(each) for each in value)
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, int | float):
        return localize(shown_number(value, None, None))
    if isinstance(value, date):
        return date_format(value, "SHORT_DATE_FORMAT")
    return str(value)


def localize(number: str) -> str:
    """A number as it stands in the book, with the decimal sign of the page's language."""
    return number.replace(".", get_format("DECIMAL_SEPARATOR"))


def with_unit(record: Record, key: str, value: float, units: UnitSystem) -> str:
    """A number of a record's field, with its unit."""
    each = _field(record, key)
    shown = shown_unit(each, units)
    number = shown_number(round(value, 6), unit_of(each), shown)
    return f"{_short(number)} {shown.symbol if shown else ''}".strip()


def _short(number: str) -> str:
    """At most two decimals, for a list."""
    return localize(f"{float(number):.2f}".rstrip("0").rstrip(".") if "." in number else number)


def _field(record: Record, key: str) -> Field:
    return next(each for each in record.fields if each.key == key)


def _size(entry: Entry, units: UnitSystem) -> str:
    if shape := entry.get("rectangle"):
        return " × ".join(
            with_unit(schema.RECTANGLE, key, shape[key], units) for key in ("length_m", "width_m")
        )
    if shape := entry.get("circle"):
        radius = with_unit(schema.CIRCLE, "radius_m", shape["radius_m"], units)
        return _("circle, radius %(radius)s") % {"radius": radius}
    return _("polygon, %(n)s corners") % {"n": len(entry.get("polygon", {}).get("vertices_m", ()))}


def amount_words(entry: Entry, units: UnitSystem) -> str:
    """How much of a wish is wanted, with its unit."""
    if "plants" in entry:
        return _("%(n)s plants") % {"n": _shown(entry["plants"])}
    key = "row_m" if "row_m" in entry else "harvest_kg"
    amount = with_unit(schema.WISH, key, entry[key], units)
    return _("%(length)s of row") % {"length": amount} if key == "row_m" else amount


def _variety(entry: Entry, _units: UnitSystem) -> str:
    variety = entry.get("variety", "")
    return str(variety.get("name", "")) if isinstance(variety, Mapping) else str(variety)


def _where(entry: Entry, _units: UnitSystem) -> str:
    beds = entry.get("beds", {})
    parts = []
    if beds.get("only"):
        parts.append(", ".join(beds["only"]))
    if beds.get("not"):
        parts.append(_("not %(beds)s") % {"beds": ", ".join(beds["not"])})
    return "; ".join(parts)


def _successions(entry: Entry, _units: UnitSystem) -> str:
    return _(str(entry.get("successions", 1)))


def _quantity(entry: Entry, units: UnitSystem) -> str:
    for key in ("mass_g", "quantity_kg", "quantity_l", "quantity_m"):
        if key in entry:
            record = schema.SEED_LOT if key == "mass_g" else schema.STOCK
            return with_unit(record, key, entry[key], units)
    if "count" in entry:
        return _("%(n)s seeds") % {"n": _shown(entry["count"])}
    return _("%(n)s pieces") % {"n": _shown(entry["pieces"])} if "pieces" in entry else ""


def _test(entry: Entry, _units: UnitSystem) -> str:
    test = entry.get("germination_test")
    return _("%(sprouted)s of %(sown)s") % test if test else ""


def _rule(entry: Entry, _units: UnitSystem) -> str:
    pair = entry.get("together") or entry.get("apart") or ("", "")
    words = _("%(a)s beside %(b)s") if "together" in entry else _("%(a)s apart from %(b)s")
    return words % {"a": crop_word(pair[0]), "b": crop_word(pair[1])}


def _stood(entry: Entry, _units: UnitSystem) -> str:
    return _shown((*(crop_word(name) for name in entry.get("crops", ())), *entry.get("families", ())))


def _paid(entry: Entry, _units: UnitSystem) -> str:
    return _("yes") if entry.get("paid") else ""


L = gettext_lazy

SECTIONS: tuple[Section, ...] = (
    Section(
        "site", ("site",), L("Site"), schema.SITE, is_list=False, skip=frozenset({"features"}),
        intro=L("Where the garden is. Latitude, longitude and elevation set sun and seasons."),
    ),
    Section(
        "features", ("site", "features"), L("Features"), schema.FEATURE, is_list=True,
        columns=((L("Code"), plain("code")), (L("Kind"), word("kind")), (L("Name"), plain("name"))),
        intro=L("Buildings, trees, fences, paths and pipes: what else is on the site, and may cast shade."),
    ),
    Section(
        "season", ("season",), L("Season"), schema.SEASON, is_list=False,
        intro=L("Which twelve months are planned, and how sure you want to be."),
    ),
    Section(
        "beds", ("beds",), L("Beds"), schema.BED, is_list=True,
        columns=(
            (L("Code"), plain("code")), (L("Name"), plain("name")), (L("Size"), _size),
            (L("Soil"), word("texture")), (L("Purpose"), plain("use")),
        ),
        intro=L("Each piece of ground planted as one, measured from its peg."),
    ),
    Section(
        "wishes", ("wishes",), L("Wishes"), schema.WISH, is_list=True,
        columns=(
            (L("Crop"), word("crop")), (L("Variety"), _variety), (L("Amount"), amount_words),
            (L("Sowings"), _successions), (L("Priority"), plain("priority")), (L("Beds"), _where),
        ),
        intro=L("What is wanted, how much of it, and how much it matters: 5 must have, 1 nice to have."),
    ),
    Section(
        "neighbours", ("neighbours",), L("Neighbours"), schema.NEIGHBOUR, is_list=True,
        columns=((L("Rule"), _rule), (L("Reason"), plain("reason"))),
        intro=L("Your own rules on what stands beside what. They overrule the evidence of the catalogue."),
    ),
    Section(
        "history", ("history",), L("History"), schema.HISTORY, is_list=True,
        columns=((L("Bed"), plain("bed")), (L("Year"), plain("year")), (L("Stood there"), _stood)),
        intro=L("What stood where, so that families move round. A family alone will do."),
    ),
    Section(
        "people", ("people",), L("People and hours"), schema.HANDS, is_list=True,
        columns=(
            (L("Name"), plain("name")), (L("Hours a week"), plain("hours_per_week")),
            (L("From"), plain("start")), (L("To"), plain("end")), (L("Paid"), _paid),
        ),
        intro=L("Hours promised by a person or a whole group."),
    ),
    Section(
        "seed-drawer", ("seed_drawer",), L("Seed drawer"), schema.SEED_LOT, is_list=True,
        columns=(
            (L("Code"), plain("code")), (L("Crop"), word("crop")), (L("Variety"), plain("variety")),
            (L("Packed for"), plain("packed_year")), (L("Left"), _quantity), (L("Sprouted"), _test),
        ),
        intro=L("Seed on hand, lot by lot; the order list takes from it first."),
    ),
    Section(
        "stock", ("stock",), L("Materials"), schema.STOCK, is_list=True,
        columns=((L("Material"), plain("material")), (L("Amount"), _quantity)),
        intro=L("Compost, mulch, canes and netting on hand."),
    ),
    Section(
        "goals", ("goals",), L("Goals"), schema.GOALS, is_list=False,
        intro=L("What the season is for beyond the wishes, and when little can be done."),
    ),
)  # fmt: skip


def _others() -> Iterator[Section]:
    """Sections of the schema that have none of their own above, and what is left of the book."""
    known = {section.path[0] for section in SECTIONS} | {"weather", "garden_book"}
    left: list[Field] = []
    for each in schema.GARDEN_BOOK.fields:
        if each.key in known:
            continue
        slug, kind = each.key.replace("_", "-"), each.kind
        if isinstance(kind, Record):
            yield Section(slug, (each.key,), _lazy(each), kind, is_list=False, intro=L(each.meaning))
        elif isinstance(kind, ListOf) and isinstance(kind.item, Record):
            columns = tuple((_lazy(field), plain(field.key)) for field in kind.item.fields[:4])
            yield Section(
                slug,
                (each.key,),
                _lazy(each),
                kind.item,
                is_list=True,
                columns=columns,
                intro=L(each.meaning),
            )
        else:
            left.append(each)
    yield Section("notes", (), L("Notes"), Record("notes", tuple(left)), is_list=False)


def _lazy(each: Field) -> Promise:
    return L(label_of(each))


ALL_SECTIONS: tuple[Section, ...] = (*SECTIONS, *_others())
BY_SLUG: Mapping[str, Section] = {section.slug: section for section in ALL_SECTIONS}

__all__ = ["ALL_SECTIONS", "BY_SLUG", "Section", "amount_words", "with_unit"]
