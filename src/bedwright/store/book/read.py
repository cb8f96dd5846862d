"""Nodes read against the schema: plain values with their place, and every fault."""

from __future__ import annotations

import re
from collections.abc import Sequence as Items
from dataclasses import dataclass, field
from datetime import date
from typing import Final, TypeVar, overload

from bedwright.model.units import Unit
from bedwright.store.book.fault import Faults
from bedwright.store.book.kinds import (
    Choice,
    Day,
    Either,
    Flag,
    Group,
    Kind,
    ListOf,
    MonthDay,
    Number,
    Position,
    Record,
    Text,
    Written,
    count_in_words,
    expected,
    keys_of,
    spellings,
)
from bedwright.store.book.near import nearest_hint
from bedwright.store.book.nodes import Mapping, Node, Scalar, Sequence, quoted
from bedwright.store.book.number import read_number

OneValue = Number | Text | Choice | Flag | Day | MonthDay
"""Kinds written as a single scalar."""

T = TypeVar("T")
D = TypeVar("D")

_DAY = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_MONTH_DAY = re.compile(r"([0-9]{2})-([0-9]{2})")
_A_COMMON_YEAR: Final = 2027
_JOINERS = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}"
"""Signs without a shape of their own that some scripts need."""
_NOTHING = frozenset({"", "~", "null", "Null", "NULL"})
_FLAGS = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}


@dataclass(frozen=True, slots=True)
class Value:
    """One value with the place it was written at."""

    value: object
    line: int
    column: int
    where: str


@dataclass(slots=True)
class Row:
    """A record as read. Values with faults are left out, and `sound` is then False."""

    line: int
    column: int
    where: str
    values: dict[str, Value] = field(default_factory=dict)
    sound: bool = True

    def __contains__(self, key: str) -> bool:
        return key in self.values

    def one(self, key: str, kind: type[T]) -> T:
        """The value of a key that a sound row always has."""
        value = self.values[key].value
        if not isinstance(value, kind):
            raise TypeError(f"{self.where}.{key} was read as {type(value).__name__}")
        return value

    @overload
    def maybe(self, key: str, kind: type[T]) -> T | None: ...
    @overload
    def maybe(self, key: str, kind: type[T], left_out: D) -> T | D: ...
    def maybe(self, key: str, kind: type[T], left_out: object = None) -> object:
        """The value of a key, or what holds where it is left out."""
        return self.one(key, kind) if key in self.values else left_out

    def each(self, key: str) -> tuple[Value, ...]:
        """Entries of a list with their places; none where the list is left out."""
        if key not in self.values:
            return ()
        entries = self.one(key, tuple)
        return tuple(entry for entry in entries if isinstance(entry, Value))

    def items(self, key: str, kind: type[T]) -> tuple[T, ...]:
        """Entries of a list of one kind."""
        return tuple(entry.value for entry in self.each(key) if isinstance(entry.value, kind))

    def rows(self, key: str) -> tuple[Row, ...]:
        """Entries of a list of records."""
        return self.items(key, Row)


class SchemaReader:
    """Reads nodes of one file against kinds, adding every fault to `faults`."""

    def __init__(self, faults: Faults) -> None:
        self.faults = faults

    def row(self, node: Node, record: Record, where: str) -> Row:
        """A record; keys with faults are left out."""
        n_faults = len(self.faults)
        row = Row(node.line, node.column, where)
        if isinstance(node, Mapping):
            for name, (key, below) in node.entries.items():
                self._entry(row, record, name, key, below)
            self._missing(row, node, record)
            for group in record.groups:
                self._group(row, node, record, group)
        else:
            lists = [one.key for one in record.fields if isinstance(one.kind, ListOf)]
            hint = "Write its keys as `key: value`, indented below it."
            if isinstance(node, Sequence) and lists:
                example = f"{lists[0]}: [A, B]"
                hint = f"Say which list it is: write `{example}` below it."
            self.faults.at(node, where or "the file", described(node), expected(record), hint)
        row.sound = len(self.faults) == n_faults
        return row

    def _entry(self, row: Row, record: Record, name: str, key: Scalar, node: Node) -> None:
        path = f"{row.where}.{name}" if row.where else name
        written = keys_of(record).get(name)
        if written is None:
            self._unknown_key(record, key, path if name.isprintable() else row.where)
            return
        if written.field.key in row.values:
            got = f"`{name}` beside the same in another unit"
            self.faults.at(key, path, got, "one of them", "Remove one of the two.")
            return
        value = self.value(node, written.field.kind, path, written)
        if value is not None:
            row.values[written.field.key] = value

    def _unknown_key(self, record: Record, key: Scalar, path: str) -> None:
        if key.text == "<<":
            hint = "Write the values out; merging is not part of YAML 1.2."
            self.faults.at(key, path, "a merge key", f"keys of a {record.name}", hint)
            return
        keys = [field.key for field in record.fields]
        hint = nearest_hint(key.text, list(keys_of(record)))
        if key.text.isdigit():
            hint = "Within braces a comma begins the next key: write a point in place of a decimal comma."
        got = f"the key {quoted(key.text)}"
        self.faults.at(key, path, got, "one of " + ", ".join(keys), hint)

    def _missing(self, row: Row, node: Mapping, record: Record) -> None:
        for wanted in record.fields:
            if wanted.required and not _is_written(wanted.key, node, record):
                path = f"{row.where}.{wanted.key}" if row.where else wanted.key
                hint = f"{wanted.meaning} It is never guessed: add the key."
                self.faults.at(node, path, "nothing", expected(wanted.kind), hint)

    def _group(self, row: Row, node: Mapping, record: Record, group: Group) -> None:
        n_written = sum(_is_written(key, node, record) for key in group.keys)
        if group.low <= n_written <= group.high:
            return
        given = [key for key in group.keys if _is_written(key, node, record)]
        got = " and ".join(f"`{key}`" for key in given) or "none of them"
        self.faults.at(node, row.where or "the file", got, str(group))

    def value(self, node: Node, kind: Kind, where: str, written: Written | None = None) -> Value | None:
        """The value of a node; None after adding a fault."""
        while isinstance(kind, Either):
            kind = _chosen(node, kind)
        found: object | None
        match kind:
            case Record():
                found = self.row(node, kind, where)
            case ListOf():
                found = self._list(node, kind, where, written)
            case Position():
                found = self._position(node, kind, where, written)
            case _:
                found = self._scalar(node, kind, where, written)
        return None if found is None else Value(found, node.line, node.column, where)

    def _scalar(
        self, node: Node, kind: OneValue, where: str, written: Written | None
    ) -> float | str | date | tuple[int, int] | None:
        unit = _unit(written)
        if not isinstance(node, Scalar):
            self.faults.at(node, where, described(node), expected(kind, unit))
            return None
        if node.plain and node.text in _NOTHING:
            hint = "Write a value, or remove the key."
            self.faults.at(node, where, "nothing", expected(kind, unit), hint)
            return None
        match kind:
            case Number():
                return read_number(node, kind, where, self.faults, written)
            case Text():
                return self._text(node, kind, where)
            case Choice() | Flag():
                return self._word(node, kind, where)
            case _:
                return self._calendar(node, kind, where)

    def _word(self, node: Scalar, kind: Choice | Flag, where: str) -> str | bool | None:
        if isinstance(kind, Choice):
            return self._choice(node, kind, where)
        if node.plain and node.text in _FLAGS:
            return _FLAGS[node.text]
        self.faults.at(node, where, described(node), expected(kind))
        return None

    def _calendar(self, node: Scalar, kind: Day | MonthDay, where: str) -> date | tuple[int, int] | None:
        return self._day(node, kind, where) if isinstance(kind, Day) else self._month_day(node, where)

    def _text(self, node: Scalar, kind: Text, where: str) -> str | None:
        # A space that does not break, as word processors put it, is a space.
        text = node.text.replace("\N{NO-BREAK SPACE}", " ").strip()
        hint = ""
        if node.plain and text in _FLAGS:
            hint = "Put the word into quotation marks if it is meant as text."
        elif not kind.lines and len(text.splitlines()) > 1:
            hint = "Write it on one line."
        elif not all(c.isprintable() or c in _JOINERS or (kind.lines and c == "\n") for c in text):
            hint = "Remove characters that cannot be printed."
        elif len(text) in kind.length and re.fullmatch(kind.pattern or r"(?s:.+)", text):
            return text
        self.faults.at(node, where, quoted(node.text), expected(kind), hint)
        return None

    def _choice(self, node: Scalar, kind: Choice, where: str) -> str | None:
        text = " ".join(node.text.split()).lower()
        if text in kind.options:
            return text
        hint = nearest_hint(text, kind.options)
        self.faults.at(node, where, quoted(node.text), expected(kind), hint)
        return None

    def _day(self, node: Scalar, kind: Day, where: str) -> date | None:
        match = _DAY.fullmatch(node.text)
        hint = "Write year-month-day with two digits for month and day."
        if match:
            year, month, day = (int(part) for part in match.groups())
            try:
                found = date(year, month, day)
            except ValueError:
                hint = "There is no such day in the calendar."
            else:
                if year in kind.years:
                    return found
                hint = "Check the year."
        self.faults.at(node, where, quoted(node.text), expected(kind), hint)
        return None

    def _month_day(self, node: Scalar, where: str) -> tuple[int, int] | None:
        match = _MONTH_DAY.fullmatch(node.text)
        hint = "Write two digits for the month, a hyphen, two digits for the day."
        if match:
            month, day = int(match[1]), int(match[2])
            try:
                date(_A_COMMON_YEAR, month, day)
            except ValueError:
                hint = "There is no such day in every year."
            else:
                return (month, day)
        self.faults.at(node, where, quoted(node.text), expected(MonthDay()), hint)
        return None

    def _position(
        self, node: Node, kind: Position, where: str, written: Written | None
    ) -> tuple[float, float] | None:
        if not isinstance(node, Sequence) or len(node.items) != 2:
            self.faults.at(
                node, where, described(node), expected(kind, _unit(written)), "Write both, as in [3.5, 12]."
            )
            return None
        number = Number(kind.bounds)
        numbers = [self.value(item, number, f"{where}[{n}]", written) for n, item in enumerate(node.items, 1)]
        values = [found.value for found in numbers if found is not None and isinstance(found.value, float)]
        return (values[0], values[1]) if len(values) == 2 else None

    def _list(
        self, node: Node, kind: ListOf, where: str, written: Written | None
    ) -> tuple[Value, ...] | None:
        if not isinstance(node, Sequence):
            hint = "Start each entry on its own line with `- `, or write [one, two]."
            self.faults.at(node, where, described(node), expected(kind, _unit(written)), hint)
            return None
        if len(node.items) not in kind.count:
            self.faults.at(node, where, described(node), count_in_words(kind.count))
            if len(node.items) > kind.count.high:
                return None
        entries = [
            self.value(item, kind.item, f"{where}[{n}]", written) for n, item in enumerate(node.items, 1)
        ]
        found = tuple(entry for entry in entries if entry is not None)
        if kind.unique:
            self._repeats(found)
        return found

    def _repeats(self, entries: Items[Value]) -> None:
        seen: set[object] = set()
        for entry in entries:
            if entry.value in seen:
                self.faults.at(entry, entry.where, f"{entry.value} again", "each entry once")
            seen.add(entry.value)


def _unit(written: Written | None) -> Unit | None:
    return written.unit if written else None


def _is_written(key: str, node: Mapping, record: Record) -> bool:
    wanted = next(field for field in record.fields if field.key == key)
    return any(name in node.entries for name, _ in spellings(wanted))


def _chosen(node: Node, kind: Either) -> Kind:
    """The kind a node is meant as: a record for a mapping, a word where the word is known."""
    if isinstance(node, Mapping) and isinstance(kind.full, Record):
        return kind.full
    if isinstance(node, Sequence) and isinstance(kind.full, ListOf):
        return kind.full
    if isinstance(node, Scalar) and isinstance(kind.full, Choice):
        is_word = re.search(r"[A-Za-z]{2}", node.text) is not None and node.text not in _FLAGS
        return kind.full if is_word else kind.short
    return kind.short


def described(node: Node) -> str:
    """What stands in the text, in a few words."""
    if isinstance(node, Sequence):
        return f"a list of {len(node.items)}"
    if isinstance(node, Mapping):
        return "keys with values"
    if node.plain:
        return "nothing" if node.text in _NOTHING else quoted(node.text).strip('"')
    return quoted(node.text)
