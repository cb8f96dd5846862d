"""Filters of templates: `{{ reason.text|spoken }}`, built into every template."""

from __future__ import annotations

from collections.abc import Iterable

from django.template import Library
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString
from django.utils.translation import gettext

from bedwright.apps.web.sentences.quantities import COUNTS, words_of
from bedwright.apps.web.sentences.speaking import in_language, pieces_of, value_in_language
from bedwright.model.source import Origin

register = Library()


@register.filter
def spoken(text: object) -> SafeString:
    """A sentence of the engine in the language of the page; what stays English is marked as English."""
    return format_html_join(
        " ",
        "{}",
        (
            (format_html('<span lang="en">{}</span>', piece.text) if piece.english else piece.text,)
            for piece in pieces_of("" if text is None else str(text))
        ),
    )


@register.filter
def spoken_plain(text: object) -> str:
    """The same without marks, for attributes and drawings."""
    return in_language("" if text is None else str(text))


@register.filter
def spoken_value(text: object) -> str:
    """What a problem got, or where it is: what people typed stays as it is."""
    return value_in_language("" if text is None else str(text))


@register.filter
def quantity_words(origin: Origin) -> str:
    """What a number of a planting says."""
    return words_of(origin.quantity)


@register.filter
def count_of(origin: Origin) -> float | str | None:
    """The number itself, where it is a plain count."""
    return origin.value if origin.quantity in COUNTS else None


@register.filter
def crop_name(name: str) -> str:
    """A crop by its name in the language of the page."""
    return gettext(name) if name else ""


@register.filter
def crop_names(names: Iterable[str]) -> str:
    """Several, one after another."""
    return ", ".join(map(crop_name, names))
