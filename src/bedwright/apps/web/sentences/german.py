"""Days, numbers, counted things and names in German."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType

from django.utils.translation import gettext as _

from bedwright.apps.web.sentences.patterns import Kind

_MONTHS: Mapping[str, str] = dict(
    zip(
        (
            "January", "February", "March", "April", "May", "June", "July", "August", "September",
            "October", "November", "December",
        ),
        (
            "Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September",
            "Oktober", "November", "Dezember",
        ),
        strict=True,
    )
)  # fmt: skip
_MONTH = "(?:" + "|".join(_MONTHS) + ")"
_DAY = rf"(?:\d{{1,2}} )?{_MONTH}(?: \d{{4}})?"
_ISO_DAY = r"\d{4}-\d{2}-\d{2}"
_NUMBER = r"[-+]?\d+(?:\.\d+)?(?:e[-+]?\d+)?"

_UNIT = r"(?:g|kg|L|mm|cm|m|°C|oz|lb|US gal|in|ft|°F|g/m²|lb per 1000 ft²)"
_AMOUNT = rf"{_NUMBER}(?: to {_NUMBER})? {_UNIT}"
_MEASURED = rf"{_AMOUNT}(?: \({_AMOUNT}\))?"

_FAMILIES: Mapping[str, str] = MappingProxyType(
    {
        "onion family": "Zwiebelgewächse",
        "cabbage family": "Kohlgewächse",
        "potato and tomato family": "Kartoffel- und Tomatengewächse",
        "cucumber and squash family": "Gurken- und Kürbisgewächse",
        "pea and bean family": "Erbsen- und Bohnengewächse",
        "carrot family": "Möhrengewächse",
        "beet and spinach family": "Rüben- und Spinatgewächse",
        "lettuce and daisy family": "Salat- und Korbblütengewächse",
        "maize and grain family": "Mais- und Getreidegewächse",
        "mallow family": "Malvengewächse",
        "mint family": "Minzengewächse",
        "bindweed family": "Windengewächse",
        "borage group": "Raublattgewächse",
        "buckwheat group": "Knöterichgewächse",
        "nasturtium group": "Kapuzinerkressengewächse",
        "perennial group": "mehrjährige Kulturen",
        # Keys of the catalogue, as the key of hatches names them.
        "allium": "Zwiebelgewächse",
        "brassica": "Kohlgewächse",
        "solanum": "Kartoffel- und Tomatengewächse",
        "cucurbit": "Gurken- und Kürbisgewächse",
        "legume": "Erbsen- und Bohnengewächse",
        "umbel": "Möhrengewächse",
        "chenopod": "Rüben- und Spinatgewächse",
        "composite": "Salat- und Korbblütengewächse",
        "grass": "Mais- und Getreidegewächse",
        "mallow": "Malvengewächse",
        "convolvulus": "Windengewächse",
        "borage": "Raublattgewächse",
        "buckwheat": "Knöterichgewächse",
        "nasturtium": "Kapuzinerkressengewächse",
        "perennial": "mehrjährige Kulturen",
    }
)
"""Words for a group of the rotation, in the case of subject and object."""

_COUNTED: Mapping[str, tuple[str, str, str]] = MappingProxyType(
    {
        "plants": ("plant", "Pflanze", "Pflanzen"),
        "rows": ("row", "Reihe", "Reihen"),
        "days": ("day", "Tag", "Tage"),
        "days_dative": ("day", "Tag", "Tagen"),
        "weeks": ("week", "Woche", "Wochen"),
        "weeks_dative": ("week", "Woche", "Wochen"),
        "years": ("year", "Jahr", "Jahre"),
        "years_dative": ("year", "Jahr", "Jahren"),
        "seeds": ("seed", "Samen", "Samen"),
        "trays": ("tray", "Schale", "Schalen"),
        "barrows": ("barrow", "Schubkarre", "Schubkarren"),
        "sacks": ("sack", "Sack", "Säcke"),
        "bags": ("bag", "Beutel", "Beutel"),
        "jobs": ("job", "Arbeit", "Arbeiten"),
        "points": ("point", "Punkt", "Punkte"),
        "other_beds": ("other bed", "weiteres Beet", "weitere Beete"),
        "other_plantings": ("other planting", "anderer Satz ist", "andere Sätze sind"),
    }
)
"""The English noun of one; the German of one and of several."""


def as_it_is(text: str) -> str:
    """Codes, names and whatever people typed."""
    return text


def number(text: str) -> str:
    """With the comma of the language."""
    return text.replace(".", ",")


def percentage(text: str) -> str:
    """84 %."""
    return number(text.rstrip("% ")) + " %"


def day(text: str) -> str:
    """3. Mai 2027."""
    return " ".join(_MONTHS.get(one, f"{one}." if len(one) < 3 else one) for one in text.split(" "))


def iso_day(text: str) -> str:
    """3. Mai 2027, from 2027-05-03."""
    year, month, day_number = (int(part) for part in text.split("-"))
    return f"{day_number}. {list(_MONTHS.values())[month - 1]} {year}" if 1 <= month <= 12 else text


def _span(text: str) -> str:
    return " bis ".join(day(one) for one in text.split(" to "))


def _month_span(text: str) -> str:
    return " bis ".join(_MONTHS[one] for one in text.split(" to "))


def crop(text: str) -> str | None:
    """A crop by its German name, with its variety as typed behind it."""
    words = (text[:1].lower() + text[1:]).split(" ")
    for n_words in range(len(words), 0, -1):
        english = " ".join(words[:n_words])
        german = _(english)
        if german != english or english in _ALIKE:
            return " ".join([german, *text.split(" ")[n_words:]])
    return None if re.search(r"[.;:]", text) else text


_ALIKE = frozenset(("okra", "dill"))


def plant_part(text: str) -> str | None:
    """A part of a plant, as the pages call it."""
    german = _(text)
    return None if german == text else german


def numbers(text: str) -> str:
    """Numbers among signs and units."""
    return re.sub(r"(?<=\d)\.(?=\d)", ",", text)


def measured(text: str) -> str:
    """An amount in one unit, and behind it in another."""
    return numbers(text).replace(" to ", " bis ").replace("lb per 1000 ft²", "lb je 1000 ft²")


def _cups(text: str) -> str:
    """Kitchen measures, with quarters as fractions."""
    amount, unit = text.rsplit(" ", maxsplit=1)
    if unit.startswith("cup"):
        return f"{amount} {'Tassen' if unit == 'cups' else 'Tasse'}"
    return f"{amount} Esslöffel"


def _counting(english: str, one: str, many: str) -> Kind:
    def write(text: str) -> str:
        amount = text.split(" ", maxsplit=1)[0]
        return f"{number(amount)} {one if amount in ('1', '1.0') else many}"

    return Kind(rf"{_NUMBER} {english}s?", write)


def _family(text: str) -> str | None:
    """A group of the rotation; one without words of its own keeps its name."""
    known = _FAMILIES.get(text.split(" / ", maxsplit=1)[0])
    if known is None and text.endswith(" group"):
        return f"Gruppe {text.removesuffix(' group')}"
    return known


def _kind(regex: str, write: Callable[[str], str | None]) -> Kind:
    return Kind(regex, write)


KINDS: Mapping[str, Kind] = MappingProxyType(
    {
        "text": _kind(".+?", as_it_is),
        "name": _kind(r"[^.:;]+?", as_it_is),
        "code": _kind(r"[A-Za-z0-9][A-Za-z0-9 ._/#-]*?", as_it_is),
        "bed": _kind(r"[A-Za-z][A-Za-z0-9-]{0,5}", as_it_is),
        "time": _kind(r"\d{1,2}:\d{2}", as_it_is),
        "word": _kind(r"[^\s,;:()]+", as_it_is),
        "number": _kind(_NUMBER, number),
        "numbers": _kind(r"[-+\d][-+\d., ]*", numbers),
        "measure": _kind(rf"{_NUMBER}(?: to {_NUMBER})?", lambda text: number(text).replace(" to ", " bis ")),
        "measured": _kind(_MEASURED, measured),
        "cups": _kind(r"\d*[¼½¾]? (?:cups?|tablespoons?)", _cups),
        "percent": _kind(rf"{_NUMBER} ?%", percentage),
        "day": _kind(_DAY, day),
        "iso": _kind(_ISO_DAY, iso_day),
        "span": _kind(rf"{_DAY} to {_DAY}", _span),
        "month": _kind(_MONTH, lambda text: _MONTHS[text]),
        "months": _kind(f"{_MONTH}(?: to {_MONTH})?", _month_span),
        "crop": _kind(".+?", crop),
        "plant_part": _kind(r"[^.;]+?", plant_part),
        "family": _kind(".+?", _family),
        **{name: _counting(*words) for name, words in _COUNTED.items()},
    }
)


def listed(parts: list[str]) -> str:
    """Eins, zwei und drei."""
    return " und ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else "".join(parts)
