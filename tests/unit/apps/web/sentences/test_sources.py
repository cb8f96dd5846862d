"""Every sentence that the engine, the store and the catalogue can put on a page has a German pattern.

The words of each sentence between its holes are looked for among the patterns. A sentence that was
changed is named here with the place it stands at: change its pattern in
`src/bedwright/apps/web/locale/de/sentences` with it.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from bedwright.apps.web.project import messages
from bedwright.apps.web.sentences.files import entries
from bedwright.engine.placement.words import GROUP_WORDS

PACKAGE = Path(messages.__file__).resolve().parents[3]
HOLE = re.compile(r"\{[^{}]*\}")
BREAK = re.compile(r"\{[^{}]*\}|(?<=[.!?]) ")
"""Between the words of one sentence that no hole parts."""

SPOKEN_ON_PAGES = (
    "engine/pipeline",
    "engine/placement",
    "engine/timing",
    "engine/soil/heat.py",
    "engine/soil/lead.py",
    "engine/soil/manure.py",
    "engine/soil/safety.py",
    "engine/soil/side_dressing.py",
    "engine/work/traits.py",
    "store/book",
    "store/weather",
    "service/compare.py",
    "apps/web/gardens/views_book.py",
    "apps/web/gardens/views_weather.py",
    "apps/web/gardens/weather.py",
    "apps/web/season/making.py",
    "apps/web/season/taking_up.py",
)
"""Of other modules only numbers reach a page; their sentences stand on papers and in commands."""

NOT_ON_PAGES = {
    "engine/timing/sources.py": "citations stay in the language of their document",
    "engine/placement/sources.py": "citations stay in the language of their document",
    **dict.fromkeys(
        (
            "engine/placement/check.py",
            "engine/placement/check_ground.py",
            "engine/placement/check_lead.py",
            "engine/placement/check_reach.py",
            "engine/placement/check_rows.py",
            "engine/placement/check_settled.py",
            "engine/placement/check_violation.py",
            "engine/placement/check_wishes.py",
        ),
        "a plan that breaks a rule is a fault of the program, told to its makers",
    ),
    "engine/placement/terms.py": "what the weights mean is told by the documents",
    "store/book/document.py": "writes the book",
    "store/book/json_schema.py": "the schema for editors of text",
    "store/book/reference.py": "the guide in docs",
    "store/book/write.py": "writes the book",
    "store/weather/writing.py": "writes a record",
    "store/weather/headers.py": "names of columns",
}
"""Modules without a sentence for pages, and why."""

KEPT_IN_ENGLISH: dict[str, str] = {
    **dict.fromkeys(GROUP_WORDS.values(), "families have words in `german.py`"),
    **dict.fromkeys(
        ("left side", "right side", "near end", "far end"), "sides of a drawing, on papers only"
    ),
    **dict.fromkeys(
        (
            "very tender", "another date", "in vessel", "static aerated pile", "in ground", "no soil test",
            "herbicide residue", "poisonous parts", "above several-sources level", "above screening level",
            "above removal level", "compost dust", "local rules", "soil nutrient", "WateringWay | None",
            "Way | None",
        ),
        "keys of the program",
    ),
    **dict.fromkeys(
        ("other planting", "other bed"), "counted things have words in `german.py`"
    ),
    "numbers name sources that are not listed": "a fault of the program",
    **dict.fromkeys(
        (
            "US OSHA, Using the Heat Index (undated): moderate 91, high 103, very high 115 °F",
            "US OSHA, Using the Heat Index (undated",
            "pot test of WSU Extension (8 March 2011) and OSU Small Farms (autumn 2009",
            "Rutgers FS1218 (date not noted",
            "Alberta Agriculture (undated); see the crop's own sources",
            "GHCN-Daily, NOAA National Centers for Environmental Information",
            "screening level", "test every vegetable soil", "text as of",
            "a rule for organic growers, used as a guide",
        ),
        "the rule or source of a caution: citations stay in the language of their document",
    ),
    **dict.fromkeys(
        (
            "lead screening level mg/kg", "days from raw manure to harvest", "days from",
            "0.1 lb N per 100 sq ft; at most 1 lb of 27 to 30 % per 100 ft of row",
        ),
        "where a number of a caution or feed comes from, on papers only",
    ),
    **dict.fromkeys(
        (
            "Another extension office feeds carrots 4 to 6 weeks after sowing (UGA, 2021",
            "Another extension office feeds beets 4 to 6 weeks after sowing (UGA, 2021",
            "unfed: nitrogen now lowers the crop", "No published time for feeding",
            "was read; feed only if the leaves turn pale",
        ),
        "notes of the feeding sheet, on papers only",
    ),
    **dict.fromkeys(
        (
            "clean, oil and count the tools", "write labels for the rows that come next",
            "sort the seed drawer, and set up a germination test of ten seeds on damp paper",
            "wash trays and pots", "enter harvest weights and hours in the log",
            (
                "In the wet leave beds and beans alone: trodden soil packs, and wet leaves spread disease "
                "(common practice, no source"
            ),
        ),
        "jobs for a wet day in the pack of a workday, on papers only",
    ),
    **dict.fromkeys(
        (
            "Plan %d could not be made",  "No sign of life could be given",
            "%d tasks of a worker that has died are taken up again",
        ),
        "lines of the server's own log",
    ),
    **dict.fromkeys(
        ("application/yaml; charset=utf-8", "text/plain; charset=utf-8", 'attachment; filename="'),
        "heads of answers",
    ),
    **dict.fromkeys(
        ("Nothing is different", "stay as they were"), "the command that compares plans"
    ),
    **dict.fromkeys(
        (
            "quoted scalar|flow sequence|flow mapping|expected ',' or", "'\\\\t' that cannot start",
            "that cannot start any token", "mapping values are not allowed",
            "unexpected end of stream|quoted scalar", "expected ',' or|flow sequence|flow mapping",
            "could not find expected ':'",
            "expected <block end>|block mapping|block collection|block sequence",
        ),
        "what the reader of YAML says, by which its faults are known",
    ),
}  # fmt: skip
"""Words that no pattern holds, and why."""

FAULTS = frozenset({"ValueError", "TypeError", "AssertionError", "KeyError", "RuntimeError"})
"""Raised at mistakes of the program."""


def modules() -> Iterator[Path]:
    for name in SPOKEN_ON_PAGES:
        path = PACKAGE / name
        yield from (path.rglob("*.py") if path.is_dir() else (path,))


def told_to_makers(node: ast.AST) -> bool:
    if not isinstance(node, ast.Raise) or not isinstance(node.exc, ast.Call):
        return False
    return isinstance(node.exc.func, ast.Name) and node.exc.func.id in FAULTS


def is_docstring(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def sentences(node: ast.AST) -> Iterator[tuple[int, str]]:
    """Texts in a tree with the line they stand on; holes of f-strings as `{}`."""
    if is_docstring(node) or told_to_makers(node):
        return
    if isinstance(node, ast.JoinedStr):
        parts = [part.value if isinstance(part, ast.Constant) else "{}" for part in node.values]
        yield node.lineno, "".join(map(str, parts))
        for part in node.values:
            if isinstance(part, ast.FormattedValue):
                yield from sentences(part.value)
        return
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.lineno, node.value
    for child in ast.iter_child_nodes(node):
        yield from sentences(child)


def words_between_holes(text: str) -> Iterator[str]:
    """Pieces of two words or more: single words are keys as often as they are words."""
    for piece in BREAK.split(text):
        stripped = piece.strip(" .,;:()")
        if re.search(r"[a-z]{2,}[^a-z_]* [^a-z]*[a-z]{2,}", stripped) and "\n" not in stripped:
            yield stripped


def known_words() -> str:
    patterns = ["\0".join(HOLE.split(english)) for _part, english, _german in entries("de")]
    return "\n".join([*patterns, *messages.translations("de")])


def test_every_sentence_in_the_sources_has_a_german_pattern() -> None:
    known = known_words()
    missing = []
    for path in modules():
        place = path.relative_to(PACKAGE).as_posix()
        if place in NOT_ON_PAGES:
            continue
        for line, text in sentences(ast.parse(path.read_text(encoding="utf-8"))):
            missing += [
                f"{place}:{line}: {words}"
                for words in words_between_holes(text)
                if words not in known and words not in KEPT_IN_ENGLISH
            ]
    assert not missing, "no German pattern for:\n" + "\n".join(missing)


def test_every_module_left_out_is_there() -> None:
    assert [name for name in NOT_ON_PAGES if not (PACKAGE / name).is_file()] == []
