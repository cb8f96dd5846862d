"""Finished texts, sentence by sentence, in the language of the page."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from django.utils.translation import get_language, gettext

from bedwright.apps.web.sentences import german
from bedwright.apps.web.sentences.files import entries
from bedwright.apps.web.sentences.patterns import Table, table_of

LANGUAGES: Mapping[str, Table] = MappingProxyType(
    {"de": table_of(entries("de"), german.KINDS, german.listed)}
)
_BOUNDARY = re.compile(r"(?<=[.!?]) (?=[^a-z])")
_MOST_KEPT = 8192


@dataclass(frozen=True, slots=True)
class Piece:
    """Some sentences of a text."""

    text: str
    english: bool
    """As it was, on a page of another language."""


def pieces_of(text: str) -> tuple[Piece, ...]:
    """A text in the language of the page, with what stayed English apart."""
    language = _language()
    return (Piece(text, english=False),) if language is None else _pieces(text, language)


def in_language(text: str) -> str:
    """The same as one plain text, for places that cannot mark a language."""
    return " ".join(piece.text for piece in pieces_of(text))


def value_in_language(text: str) -> str:
    """What a problem got, or where: words of ours in the language of the page, anything typed as it is."""
    found = part_in_language("got", text)
    if found is None:
        # A word that people typed is not translated, though a page may have a word like it.
        return in_language(text) if text.endswith(".") else text
    return found


def part_in_language(part: str, text: str) -> str | None:
    """Words that are less than a sentence; None where they are not known as such a part."""
    language = _language()
    return text if language is None else LANGUAGES[language].part(part, text)


def _language() -> str | None:
    """The language of the page; None where sentences stay as they are."""
    language = (get_language() or "en").split("-", maxsplit=1)[0]
    return language if language in LANGUAGES else None


@lru_cache(maxsize=_MOST_KEPT)
def _pieces(text: str, language: str) -> tuple[Piece, ...]:
    table = LANGUAGES[language]
    whole = text.strip()
    if not whole:
        return (Piece(text, english=False),)
    found: list[Piece] = []
    for piece in _one_by_one(table, _BOUNDARY.split(whole)):
        if found and found[-1].english == piece.english:
            found[-1] = Piece(f"{found[-1].text} {piece.text}", piece.english)
        else:
            found.append(piece)
    return tuple(found)


def _one_by_one(table: Table, sentences: list[str]) -> Iterator[Piece]:
    """The longest run of sentences that a pattern knows, then what follows it."""
    at = 0
    while at < len(sentences):
        for end in range(len(sentences), at, -1):
            written = _written(table, " ".join(sentences[at:end]))
            if written is not None:
                yield Piece(written, english=False)
                at = end
                break
        else:
            yield Piece(sentences[at], english=True)
            at += 1


def _written(table: Table, sentence: str) -> str | None:
    """By a pattern, or else as the pages' own texts are translated: help of a form stands in problems too."""
    written = table.find(sentence)
    if written is None and (own := gettext(sentence)) != sentence:
        written = own
    return written
