"""Pairs of sentences, read from .po files: one for each area of the pages, `locale/<language>/sentences`.

`msgid` is the English sentence with its holes, `msgstr` the other language's; `msgctxt` names the part of
a sentence that a pair belongs to, and is left out where it is a whole sentence.

Source
------
GNU gettext manual, section "The Format of PO Files"; of it only comments, `msgctxt`, `msgid` and `msgstr`.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

LOCALES = Path(__file__).resolve().parent.parent / "locale"
_FIELD = re.compile(r'^(msgctxt|msgid|msgstr)\s+(".*")$')

Entry = tuple[str, str, str]
"""Part of a sentence or "", English, other language."""


def entries(language: str) -> Iterator[Entry]:
    """Every pair of a language, file by file."""
    for path in sorted((LOCALES / language / "sentences").glob("*.po")):
        yield from entries_of(path.read_text(encoding="utf-8"))


def entries_of(text: str) -> Iterator[Entry]:
    """The pairs of one file; its header and what has no translation yet are left out."""
    fields: dict[str, str] = {}
    last = ""
    for line in [*text.splitlines(), ""]:
        found = _FIELD.match(line)
        if found:
            last = found[1]
            fields[last] = ast.literal_eval(found[2])
        elif line.startswith('"'):
            fields[last] += ast.literal_eval(line)
        elif not line.strip() and fields:
            part = fields.get("msgctxt", "")
            if fields.get("msgstr") and (fields["msgid"] or part):
                yield part, fields["msgid"], fields["msgstr"]
            fields = {}
