"""The printed list of keys, made from the schema.

`python -m bedwright.store.book.reference docs/garden-book.md` renews the part of the guide
below the marker; without a file the list is printed.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from bedwright.model.units import Unit, twins_of
from bedwright.store.book.kinds import Either, Field, Kind, ListOf, Record, expected, unit_of
from bedwright.store.book.schema import GARDEN_BOOK

MARKER = "<!-- The part below is made by `python -m bedwright.store.book.reference docs/garden-book.md`. -->"


def reference() -> str:
    """Every record of the garden book with its keys, as Markdown."""
    return "\n".join(_sections()) + "\n"


def renewed(guide: str) -> str:
    """The guide with the part below the marker made anew.

    Raises
    ------
    ValueError
        If the guide has no marker.
    """
    intro, marker, _ = guide.partition(MARKER)
    if not marker:
        raise ValueError("the guide has no marker line")
    return f"{intro}{MARKER}\n\n{reference()}"


def main(arguments: list[str]) -> int:
    """Renew the guide named first, or print the list; returns the exit code."""
    if arguments:
        path = Path(arguments[0])
        path.write_text(renewed(path.read_text(encoding="utf-8")), encoding="utf-8")
    else:
        sys.stdout.write(reference())
    return 0


def _sections() -> Iterator[str]:
    yield "## Every key"
    for path, record in _records("", GARDEN_BOOK):
        yield ""
        yield f"### {f'`{path}`' if path else 'The whole book'}"
        yield ""
        yield "| key | meaning | expected | if left out |"
        yield "| --- | --- | --- | --- |"
        for field in record.fields:
            yield _row(field, record)
        for group in record.groups:
            yield ""
            yield f"Give {group}."
        yield from _twins(record)


def _records(path: str, record: Record) -> Iterator[tuple[str, Record]]:
    yield path, record
    for field in record.fields:
        below, mark = _record_in(field.kind)
        if below is not None:
            yield from _records(f"{path}.{field.key}{mark}".lstrip("."), below)


def _record_in(kind: Kind) -> tuple[Record | None, str]:
    if isinstance(kind, Record):
        return kind, ""
    if isinstance(kind, ListOf) and isinstance(kind.item, Record):
        return kind.item, "[]"
    if isinstance(kind, Either) and isinstance(kind.full, Record):
        return kind.full, ""
    return None, ""


def _row(field: Field, record: Record) -> str:
    grouped = any(field.key in group.keys for group in record.groups)
    left_out = (
        "**required**" if field.required else field.left_out or ("see below" if grouped else "not known")
    )
    return f"| `{field.key}` | {field.meaning} | {expected(field.kind)} | {left_out} |"


def _twins(record: Record) -> Iterator[str]:
    """A line for each unit that other units may stand for."""
    by_unit: dict[Unit, list[str]] = {}
    for field in record.fields:
        unit = unit_of(field)
        if unit is not None:
            by_unit.setdefault(unit, []).append(f"`{field.key}`")
    for unit, keys in by_unit.items():
        others = " or ".join(f"`_{twin.suffix}`" for twin in twins_of(unit))
        yield ""
        yield f"Other units: {', '.join(keys)} may be written with {others} in place of `_{unit.suffix}`."


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
