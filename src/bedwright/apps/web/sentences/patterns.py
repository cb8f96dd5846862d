"""Sentences with holes: recognised in one language, written in another."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

Pairs = Sequence[tuple[str, str]]
"""English sentence with holes, and the same in another language."""

_HOLE = re.compile(r"\{([a-z_]+)(\d*)(?::([a-z_]+))?([*;,?]?)\}")
_WORD = re.compile(r"[A-Za-z']+")
_NO_WORD = ""


class UnknownKindError(KeyError):
    """A hole of a pattern is of no known kind."""


@dataclass(frozen=True, slots=True)
class Kind:
    """What may stand in a hole, and how it is written in the other language."""

    regex: str
    """Matches it, without groups that capture."""
    write: Callable[[str], str | None]
    """None where it is no such thing after all: then the whole pattern does not fit."""


@dataclass(frozen=True, slots=True)
class _Pattern:
    regex: re.Pattern[str]
    holes: tuple[tuple[str, Kind], ...]
    there: str
    n_literal: int
    """Letters that are no hole: of several patterns that fit, the one that says most is taken."""
    words: frozenset[str]


class Table:
    """Pairs that are searched by a word of the sentence.

    Parameters
    ----------
    pairs
        Sentences with holes as `{name}`, `{name:kind}`; without a kind the name is the kind, less a number
        at its end. A mark after it makes a list: `*` as "A, B and C", `,` and `;` as written; `?` lets the
        hole be empty.
    kinds
        By name. It is read when a sentence is first sought, so that kinds may hold tables in turn.
    """

    def __init__(self, pairs: Pairs, kinds: Mapping[str, Kind], joining: Callable[[list[str]], str]) -> None:
        self._pairs, self._kinds, self._joining = tuple(pairs), kinds, joining
        self._by_word: dict[str, list[_Pattern]] | None = None

    def find(self, sentence: str) -> str | None:
        """The sentence in the other language; None where no pattern fits it."""
        for pattern in self._candidates(sentence):
            match = pattern.regex.fullmatch(sentence)
            if match is None:
                continue
            written = _written(pattern, match)
            if written is not None:
                return written
        return None

    def part(self, name: str, text: str) -> str | None:
        """A part of a sentence that stands alone, such as what a problem got."""
        return self._kinds[name].write(text)

    def _candidates(self, sentence: str) -> list[_Pattern]:
        if self._by_word is None:
            self._by_word = _by_rarest_word([self._compiled(here, there) for here, there in self._pairs])
        words = {_NO_WORD, *_WORD.findall(sentence)}
        found = [pattern for word in words for pattern in self._by_word.get(word, ())]
        return sorted(found, key=lambda pattern: -pattern.n_literal)

    def _compiled(self, here: str, there: str) -> _Pattern:
        parts, holes, literals, at = [], [], [], 0
        for number, hole in enumerate(_HOLE.finditer(here)):
            literals.append(here[at : hole.start()])
            name, digits, kind_name, mark = hole.groups()
            kind = self._kind(kind_name or name, mark, here)
            parts += [re.escape(literals[-1]), f"(?P<h{number}>{kind.regex})"]
            holes.append((name + digits, kind))
            at = hole.end()
        literals.append(here[at:])
        parts.append(re.escape(literals[-1]))
        return _Pattern(
            regex=re.compile("".join(parts), re.DOTALL),
            holes=tuple(holes),
            there=there,
            n_literal=sum(map(len, literals)),
            words=frozenset(_whole_words(literals)),
        )

    def _kind(self, name: str, mark: str, here: str) -> Kind:
        try:
            kind = self._kinds[name]
        except KeyError:
            raise UnknownKindError(f"{name} in {here}") from None
        if mark == "?":
            return Kind(f"(?:{kind.regex})?", lambda text: kind.write(text) if text else "")
        if mark == "*":
            return Kind(".+?", lambda text: _listed(text, ", ", kind, self._joining))
        if mark:
            return Kind(".+?", lambda text: _listed(text, f"{mark} ", kind, f"{mark} ".join))
        return kind


def _listed(
    text: str, separator: str, kind: Kind, joining: Callable[[list[str]], str], last: str = " and "
) -> str | None:
    """Each entry of a list on its own; None where one is not of the kind."""
    parts = text.split(separator)
    if separator == ", " and joining is not ", ".join and last in parts[-1]:
        parts[-1:] = parts[-1].rsplit(last, maxsplit=1)
    written = [kind.write(part) if re.fullmatch(kind.regex, part, re.DOTALL) else None for part in parts]
    known = [part for part in written if part is not None]
    return joining(known) if len(known) == len(parts) else None


def _written(pattern: _Pattern, match: re.Match[str]) -> str | None:
    values: dict[str, str] = {}
    for number, (name, kind) in enumerate(pattern.holes):
        value = kind.write(match[f"h{number}"])
        if value is None:
            return None
        values[name] = value
    return pattern.there.format_map(values)


def _whole_words(literals: Iterable[str]) -> Iterable[str]:
    """Words that stand free of holes, so that they are words of the sentence too."""
    pieces = list(literals)
    for number, piece in enumerate(pieces):
        for word in _WORD.finditer(piece):
            joins_before = word.start() == 0 and number > 0
            joins_after = word.end() == len(piece) and number < len(pieces) - 1
            if not joins_before and not joins_after:
                yield word[0]


def _by_rarest_word(patterns: Sequence[_Pattern]) -> dict[str, list[_Pattern]]:
    counts = Counter(word for pattern in patterns for word in pattern.words)
    found: dict[str, list[_Pattern]] = {}
    for pattern in patterns:
        rarest = min(pattern.words, key=lambda word: (counts[word], -len(word), word), default=_NO_WORD)
        found.setdefault(rarest, []).append(pattern)
    return found


def table_of(
    entries: Iterable[tuple[str, str, str]],
    kinds: Mapping[str, Kind],
    joining: Callable[[list[str]], str],
) -> Table:
    """Sentences of a language, with parts of sentences as further kinds of holes.

    Parameters
    ----------
    entries
        Part or "", English, other language.
    kinds
        What the language knows besides: numbers, days, names.
    joining
        Several things in a row, as the language lists them.
    """
    pairs: dict[str, list[tuple[str, str]]] = {}
    for part, here, there in entries:
        pairs.setdefault(part, []).append((here, there))
    whole = pairs.pop("", [])
    known = dict(kinds)
    for part, of_part in pairs.items():
        known[part] = Kind(".*?", Table(of_part, known, joining).find)
    return Table(whole, known, joining)
