"""Names in a book that must be known elsewhere: crops, families, beds, time zones."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from bedwright.model.crop import Catalogue
from bedwright.store.book.fault import Faults
from bedwright.store.book.near import nearest, nearest_hint, offer
from bedwright.store.book.nodes import quoted
from bedwright.store.book.read import Value

CropNamed = Callable[[str], str | None]
"""The catalogue's name for a name or synonym; None where it is not known."""


MOST_BEDS_NAMED = 12
"""A hint names no more beds than fit on a line."""

NearestCrops = Callable[[str], Sequence[str]]
"""The catalogue's names most like a name that is not known, best first."""


@dataclass(frozen=True, slots=True)
class KnownCrops:
    """The crops and families of a catalogue, and how a name is looked up in it."""

    catalogue: Catalogue
    named: CropNamed | None
    nearest: NearestCrops | None = None

    def crop(self, entry: Value, faults: Faults) -> str:
        """The catalogue's name of a crop; after adding a fault, the name as written."""
        name = str(entry.value)
        found = self._named(name)
        if found is None:
            alike = self.nearest(name) if self.nearest else nearest(name, self.catalogue.crops)
            hint = offer(alike) or "See the list of crops for the names."
            faults.at(entry, entry.where, quoted(name), "a crop of the catalogue", hint)
        return found or name

    def crops(self, entries: tuple[Value, ...], faults: Faults) -> tuple[str, ...]:
        """Several crops."""
        return tuple(self.crop(entry, faults) for entry in entries)

    def families(self, entries: tuple[Value, ...], faults: Faults) -> tuple[str, ...]:
        """Botanical families, with the catalogue's spelling."""
        known = {crop.family.casefold(): crop.family for crop in self.catalogue.crops.values()}
        found: list[str] = []
        for entry in entries:
            name = str(entry.value)
            family = known.get(name.casefold())
            if family is None:
                hint = offer(self._families_called(name)) or nearest_hint(name, sorted(known.values()))
                hint = hint or f"The families are {', '.join(sorted(set(known.values())))}."
                faults.at(entry, entry.where, quoted(name), "a botanical family of the catalogue", hint)
            found.append(family or name)
        return tuple(found)

    def _families_called(self, name: str) -> list[str]:
        """Families that gardeners call so: `legumes`, `brassica`."""
        plain = _plain(name).removesuffix(" family").removesuffix("s")
        return sorted(
            {
                crop.family
                for crop in self.catalogue.crops.values()
                if plain in crop.rotation_group.split(" / ")
            }
        )

    def _named(self, name: str) -> str | None:
        if name in self.catalogue.crops:
            return name
        if self.named is not None:
            return self.named(name)
        plain = " ".join(name.split()).casefold()
        return next((known for known in self.catalogue.crops if known.casefold() == plain), None)


@dataclass(frozen=True, slots=True)
class KnownMaterials:
    """Materials that can be bought, by their names and synonyms."""

    names: Mapping[str, str] | None
    """Name used in the calculations by every name it may be written with; None: any will do."""

    def material(self, entry: Value, faults: Faults) -> str:
        """The name used in the calculations; after adding a fault, the name as written."""
        name = str(entry.value)
        if self.names is None:
            return name
        found = self.names.get(name) or {_plain(known): kept for known, kept in self.names.items()}.get(
            _plain(name)
        )
        if found is None:
            hint = nearest_hint(name, self.names)
            faults.at(entry, entry.where, quoted(name), "a material that is reckoned with", hint)
        return found or name


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


def known_beds(entries: tuple[Value, ...], codes: dict[str, Value], faults: Faults) -> None:
    """Add a fault for every bed code that no bed has."""
    for entry in entries:
        code = str(entry.value)
        if code not in codes:
            hint = nearest_hint(code, codes) or f"The beds are {', '.join(list(codes)[:MOST_BEDS_NAMED])}."
            hint = hint if codes else ""
            faults.at(entry, entry.where, quoted(code), "the code of a bed of this book", hint)


def known_time_zone(entry: Value, faults: Faults) -> ZoneInfo | None:
    """The time zone of that name; None after adding a fault."""
    name = str(entry.value)
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        hint = nearest_hint(name, sorted(available_timezones()))
        faults.at(entry, entry.where, quoted(name), "a time zone of the IANA list, as Europe/London", hint)
        return None
