"""YAML text turned into plain nodes that know their line and column.

Built straight from the parser's events: one pass, no recursion, and no more memory than
the text itself needs. Values stay text here; what they mean is decided by the schema, so
that nothing is guessed from how a value happens to look.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, NoReturn

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError
from ruamel.yaml.reader import ReaderError

from bedwright.model.bounds import BOOK_DEPTH, BOOK_VALUES
from bedwright.model.problem import Problem
from bedwright.store.book.fault import Faults


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value as written; `plain` is False inside quotation marks or a text block."""

    line: int
    column: int
    text: str
    plain: bool


@dataclass(slots=True)
class Sequence:
    """A list."""

    line: int
    column: int
    items: list[Node] = field(default_factory=list)
    n_values: int = 1


@dataclass(slots=True)
class Mapping:
    """Keys with values, in order; every key once."""

    line: int
    column: int
    entries: dict[str, tuple[Scalar, Node]] = field(default_factory=dict)
    n_values: int = 1
    pending_key: Scalar | None = None
    """The key whose value comes next while the text is being read."""


Node = Scalar | Sequence | Mapping


def read_nodes(text: str, faults: Faults) -> Node:
    """The one document in a YAML 1.2 text.

    Parameters
    ----------
    text
        The whole text.
    faults
        Receives repeated keys and explicit tags, which do not stop the reading.

    Raises
    ------
    BadDocumentError
        If the text is not YAML, holds no value or several documents, or nests or repeats
        itself beyond `BOOK_DEPTH` and `BOOK_VALUES`.
    """
    composer = _Composer(faults)
    for event in _events(text, faults):
        composer.take(event)
    if composer.root is None:
        faults.stop(_nothing(faults.file))
    return composer.root


def _events(text: str, faults: Faults) -> Iterator[Any]:
    """The parser's events; `Any` because the parser has no usable types."""
    line = 1
    try:
        for event in YAML(typ="safe", pure=True).parse(text):
            line = event.start_mark.line + 1
            yield event
    except ReaderError as error:
        faults.stop(_unprintable(text, error, faults.file))
    except MarkedYAMLError as error:
        faults.stop(_syntax_problem(error, faults.file))
    except Exception:
        # On malformed escapes and directives the parser raises all sorts.
        hint = "The mistake is on this line or just after it."
        faults.stop(Problem(faults.file, line, None, "the text", "text that is not YAML", "YAML text", hint))


class _Composer:
    """Builds nodes from events, keeping the open lists and mappings on a stack."""

    def __init__(self, faults: Faults) -> None:
        self.faults = faults
        self.root: Node | None = None
        self._open: list[Sequence | Mapping] = []
        self._open_anchors: list[str | None] = []
        self._anchors: dict[str, Node] = {}
        self._n_values = 0
        self._n_documents = 0

    def take(self, event: Any) -> None:
        """Take the next event."""
        kind = type(event).__name__
        line, column = event.start_mark.line + 1, event.start_mark.column + 1
        if kind == "ScalarEvent":
            self._refuse_tag(event, line, column)
            scalar = Scalar(line, column, event.value, event.style is None or event.style == "")
            if event.anchor:
                self._anchors[event.anchor] = scalar
            self._place(scalar, 1)
        elif kind in {"SequenceStartEvent", "MappingStartEvent"}:
            self._refuse_tag(event, line, column)
            self._start(event, line, column)
        elif kind in {"SequenceEndEvent", "MappingEndEvent"}:
            node, anchor = self._open.pop(), self._open_anchors.pop()
            if anchor:
                self._anchors[anchor] = node
            if self._open:
                self._open[-1].n_values += node.n_values
        elif kind == "AliasEvent":
            self._alias(event.anchor, line, column)
        elif kind == "DocumentStartEvent":
            self._n_documents += 1
            if self._n_documents > 1:
                self._stop(line, column, "a second document", "one document", "Remove the line `---`.")

    def _start(self, event: Any, line: int, column: int) -> None:
        node: Sequence | Mapping
        node = (
            Sequence(line, column) if type(event).__name__ == "SequenceStartEvent" else Mapping(line, column)
        )
        if len(self._open) >= BOOK_DEPTH.high:
            self._stop(
                line, column, f"more than {BOOK_DEPTH.high:g} lists or keys inside each other", "fewer"
            )
        self._place(node, 1)
        self._open.append(node)
        self._open_anchors.append(event.anchor)

    def _alias(self, name: str, line: int, column: int) -> None:
        target = self._anchors.get(name)
        if target is None:
            hint = f"Mark the value to be repeated with &{name} before it is used."
            self._stop(line, column, f"*{name}", "a name marked earlier in the file", hint)
        n_values = 1 if isinstance(target, Scalar) else target.n_values
        self._place(target, n_values, Scalar(line, column, f"*{name}", True))

    def _place(self, node: Node, n_values: int, written: Scalar | None = None) -> None:
        """Put a node where it belongs; `written` is the alias that stands for it."""
        at = written or node
        self._n_values += n_values
        if self._n_values not in BOOK_VALUES:
            self._stop(at.line, at.column, "more values than any garden needs", str(BOOK_VALUES))
        if not self._open:
            self.root = node
            return
        holder = self._open[-1]
        if not isinstance(node, Sequence | Mapping) or written:
            holder.n_values += n_values
        if isinstance(holder, Sequence):
            holder.items.append(node)
        elif holder.pending_key is None:
            if not isinstance(node, Scalar):
                self._stop(at.line, at.column, "a list or mapping as a key", "a word before the colon")
            holder.pending_key = Scalar(at.line, at.column, node.text, node.plain)
        else:
            self._enter(holder, holder.pending_key, node)

    def _enter(self, holder: Mapping, key: Scalar, node: Node) -> None:
        holder.pending_key = None
        earlier = holder.entries.get(key.text)
        if earlier is None:
            holder.entries[key.text] = (key, node)
        else:
            expected = f"each key once; the first is on line {earlier[0].line}"
            self.faults.at(
                key, key.text, f"the key {quoted(key.text)} again", expected, "Remove one of the two."
            )

    def _refuse_tag(self, event: Any, line: int, column: int) -> None:
        if event.tag is not None:
            place = Scalar(line, column, "", True)
            hint = "Remove the word that starts with an exclamation mark."
            self.faults.at(place, "a tag", str(event.tag), "values without tags", hint)

    def _stop(self, line: int, column: int, got: str, expected: str, hint: str = "") -> NoReturn:
        self.faults.stop(Problem(self.faults.file, line, column, "the text", got, expected, hint))


def quoted(text: str, longest: int = 60) -> str:
    """Text in quotation marks on one line, cut where it is long."""
    flat = " ".join("".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text).split())
    return f'"{flat}"' if len(flat) <= longest else f'"{flat[:longest]}…"'


def _nothing(file: str) -> Problem:
    return Problem(file, None, None, "the file", "no values", "a garden book", "Start with the key `site:`.")


_LEFT_OPEN = r"quoted scalar|flow sequence|flow mapping|expected ',' or"
_SYNTAX: tuple[tuple[str, str, str], ...] = (
    (r"'\\t' that cannot start", "a tab", "Indent with spaces; tabs are not allowed."),
    (r"tab", "a tab", "Indent with spaces; tabs are not allowed."),
    (r"that cannot start any token", "a sign YAML keeps for itself", "Put the text into quotation marks."),
    (
        r"mapping values are not allowed",
        "a colon where no key can stand",
        "Put text that contains a colon into quotation marks, and indent keys of one entry alike.",
    ),
    (
        r"unexpected end of stream|quoted scalar",
        "quotation marks that are not closed",
        "Close the quotation marks on the same line.",
    ),
    (
        r"expected ',' or|flow sequence|flow mapping",
        "an unfinished list or record in brackets",
        "Close every bracket and put a comma and a space between entries.",
    ),
    (
        r"could not find expected ':'",
        "a line without a colon",
        "Write `key: value`, with a space after the colon.",
    ),
    (
        r"expected <block end>|block mapping|block collection|block sequence",
        "a line that does not fit the lines above it",
        "Indent keys of one entry alike, and start each entry of a list with `- `.",
    ),
)


def _syntax_problem(error: MarkedYAMLError, file: str) -> Problem:
    words = " ".join(str(part) for part in (error.problem, error.context) if part)
    mark = error.problem_mark or error.context_mark
    if error.context_mark and re.search(_LEFT_OPEN, words):
        # Where it was opened helps; where the parser gave up is often the end of the file.
        mark = error.context_mark
    line = mark.line + 1 if mark else None
    column = mark.column + 1 if mark else None
    for pattern, got, hint in _SYNTAX:
        if re.search(pattern, words):
            return Problem(file, line, column, "the text", got, "YAML text", hint)
    return Problem(file, line, column, "the text", words or "text that is not YAML", "YAML text")


def _unprintable(text: str, error: ReaderError, file: str) -> Problem:
    position = error.position if isinstance(error.position, int) else 0
    before = text[:position]
    line, column = before.count("\n") + 1, position - (before.rfind("\n") + 1) + 1
    return Problem(
        file, line, column, "the text", "a character that cannot be printed", "plain text",
        "Save the file as plain text in UTF-8.",
    )  # fmt: skip
