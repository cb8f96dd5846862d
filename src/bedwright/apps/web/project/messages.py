"""Texts of the pages: gathered from the sources, and translations compiled, without outside tools.

`python -m bedwright.apps.web.project.messages` writes each language's `django.mo` from all
`.po` files beside it, and lists what has no translation yet.

Source
------
The layout of .po and .mo files: GNU gettext manual, sections "The Format of PO Files" and
"The Format of GNU MO Files".
"""

from __future__ import annotations

import ast
import os
import re
import struct
import sys
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

WEB = Path(__file__).resolve().parent.parent
LOCALES = WEB / "locale"
_CALLS = frozenset({"_", "L", "gettext", "gettext_lazy", "gettext_noop", "ngettext", "ngettext_lazy"})
_MAGIC = 0x950412DE
_ENTRY = re.compile(r'^(msgid|msgid_plural|msgstr(?:\[\d\])?)\s+(".*")$')

Message = tuple[str, str]
"""Singular and plural; the plural is empty where there is none."""


def texts_of_python(source: str) -> Iterator[Message]:
    """Texts that a Python source marks for translation."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _CALLS:
            given = [arg.value for arg in node.args if isinstance(arg, ast.Constant)]
            words = [word for word in given if isinstance(word, str)]
            if words:
                plural = words[1] if node.func.id.startswith("ngettext") and len(words) > 1 else ""
                yield words[0], plural


def texts_of_template(source: str) -> Iterator[Message]:
    """Texts that a template marks for translation, as Django itself reads it."""
    from django.template import engines  # noqa: PLC0415 - needs the settings
    from django.template.backends.django import DjangoTemplates  # noqa: PLC0415
    from django.templatetags.i18n import BlockTranslateNode, TranslateNode  # noqa: PLC0415

    engine = engines["django"]
    if not isinstance(engine, DjangoTemplates):  # pragma: no cover  # the only one there is
        raise TypeError
    nodes = engine.engine.from_string(source).nodelist
    for node in nodes.get_nodes_by_type(TranslateNode):
        if not isinstance(node, TranslateNode):  # pragma: no cover  # for the type checker
            continue
        text = node.filter_expression.var
        literal = getattr(text, "literal", text)
        if isinstance(literal, str) and not getattr(text, "lookups", None):
            # Django looks it up so, since what it finds may hold places to fill in.
            yield literal.replace("%", "%%"), ""
    for node in nodes.get_nodes_by_type(BlockTranslateNode):
        if not isinstance(node, BlockTranslateNode):  # pragma: no cover  # for the type checker
            continue
        singular, _names = node.render_token_list(node.singular)
        plural = node.render_token_list(node.plural)[0] if node.plural else ""
        yield singular, plural


def all_texts() -> dict[str, str]:
    """Every text of the pages that can be translated, with its plural."""
    found: dict[str, str] = {}
    for path in sorted(WEB.rglob("*.py")):
        if "migrations" not in path.parts:
            found.update(texts_of_python(path.read_text(encoding="utf-8")))
    for path in sorted(WEB.rglob("*.html")):
        found.update(texts_of_template(path.read_text(encoding="utf-8")))
    found.update(dict.fromkeys(_words_of_records(), ""))
    return found


def _words_of_records() -> Iterator[str]:
    """Words that come from the schema of the book and from records, and are shown as they are."""
    from typing import get_args  # noqa: PLC0415

    from bedwright.apps.web.gardens.crop_words import catalogue_words  # noqa: PLC0415
    from bedwright.apps.web.gardens.entry.words import all_words  # noqa: PLC0415 - needs the settings
    from bedwright.model.book import Way  # noqa: PLC0415
    from bedwright.model.crop import CropKind  # noqa: PLC0415
    from bedwright.model.progress import Stage  # noqa: PLC0415

    yield from all_words()
    yield from catalogue_words()
    for words in (Way, CropKind, Stage):
        yield from get_args(words)


def read_po(text: str) -> dict[str, tuple[str, ...]]:
    """Translations by their text; the entry for "" is the header."""
    entries: dict[str, tuple[str, ...]] = {}
    fields: dict[str, str] = {}
    last = ""
    for line in [*text.splitlines(), ""]:
        match = _ENTRY.match(line)
        if match:
            last = match[1]
            fields[last] = ast.literal_eval(match[2])
        elif line.startswith('"'):
            fields[last] += ast.literal_eval(line)
        elif not line.strip() and "msgid" in fields:
            strings = tuple(value for key, value in fields.items() if key.startswith("msgstr"))
            key = fields["msgid"]
            if fields.get("msgid_plural"):
                key += "\0" + fields["msgid_plural"]
            entries[key] = strings
            fields = {}
    return entries


def translations(language: str) -> dict[str, tuple[str, ...]]:
    """All translations of a language, from every .po file of it; empty ones are left out."""
    merged: dict[str, tuple[str, ...]] = {}
    for path in sorted((LOCALES / language / "LC_MESSAGES").glob("*.po")):
        entries = read_po(path.read_text(encoding="utf-8"))
        merged.update({key: texts for key, texts in entries.items() if all(texts)})
    return merged


def mo_bytes(entries: Mapping[str, tuple[str, ...]]) -> bytes:
    """Translations as a .mo file; the same entries give the same bytes."""
    pairs = sorted((key.encode(), "\0".join(texts).encode()) for key, texts in entries.items())
    n = len(pairs)
    head_bytes, row_bytes = 28, 8
    at = head_bytes + 2 * n * row_bytes
    tables: list[bytes] = []
    body = b""
    for column in (0, 1):
        rows = b""
        for pair in pairs:
            rows += struct.pack("<II", len(pair[column]), at + len(body))
            body += pair[column] + b"\0"
        tables.append(rows)
    head = struct.pack(
        "<7I", _MAGIC, 0, n, head_bytes, head_bytes + n * row_bytes, 0, head_bytes + 2 * n * row_bytes
    )
    return head + tables[0] + tables[1] + body


def untranslated(language: str) -> list[str]:
    """Texts without a translation."""
    known = translations(language)
    keys = {f"{text}\0{plural}" if plural else text for text, plural in all_texts().items() if text}
    return sorted(key for key in keys if key not in known)


def main() -> int:
    """As a command; see `compile_all`."""
    with tempfile.TemporaryDirectory() as folder:
        # The settings make a data folder; none is wanted here.
        os.environ["BEDWRIGHT_DATA"] = folder
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bedwright.apps.web.project.settings")
        import django  # noqa: PLC0415

        django.setup()
        return compile_all()


def compile_all() -> int:
    """Write every language's file and list what is missing; 1 if anything is."""
    missing = 0
    for folder in sorted(LOCALES.glob("*/LC_MESSAGES")):
        language = folder.parent.name
        (folder / "django.mo").write_bytes(mo_bytes(translations(language)))
        for key in untranslated(language):
            missing += 1
            sys.stdout.write(f"{language}: {key!r}\n")
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main())
