"""Sentences with holes, found again and written in German."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from django.template import engines
from django.utils import translation

from bedwright.apps.web.sentences import in_language, pieces_of
from bedwright.apps.web.sentences.files import entries, entries_of
from bedwright.apps.web.sentences.german import KINDS, listed
from bedwright.apps.web.sentences.patterns import UnknownKindError, table_of
from bedwright.apps.web.sentences.speaking import LANGUAGES


@pytest.fixture
def german() -> Iterator[None]:
    with translation.override("de"):
        yield


def test_a_file_of_pairs_is_read_with_parts_and_without_what_has_no_translation() -> None:
    text = (
        '# a comment\nmsgid ""\nmsgstr "Language: de\\n"\n\n'
        'msgid "One \\"two\\" "\n"three."\nmsgstr "Eins."\n\n'
        'msgctxt "tone"\nmsgid "loud"\nmsgstr "laut"\n\nmsgid "Not yet."\nmsgstr ""\n'
    )
    assert list(entries_of(text)) == [("", 'One "two" three.', "Eins."), ("tone", "loud", "laut")]


@pytest.mark.parametrize(
    ("english", "german_words"),
    [
        ("3 plants by 5 May 2027.", "3 Pflanzen bis 5. Mai 2027."),
        ("1 plant by 12 December.", "1 Pflanze bis 12. Dezember."),
        ("Beside tomato, carrot and bok choy: 1.5 %.", "Neben Tomate, Möhre und Pak Choi: 1,5 %."),
        ("Beside Onion: -0.25 %.", "Neben Zwiebel: -0,25 %."),
        ("Loud, quiet.", None),
        ("Told: loud; soft.", "Gesagt: laut; leise."),
        ("Told: loud; odd.", None),
        ("Bed {A}.", None),
    ],
)
@pytest.mark.usefixtures("german")
def test_holes_are_written_as_the_language_has_them(english: str, german_words: str | None) -> None:
    pairs = [
        ("", "{plants} by {day}.", "{plants} bis {day}."),
        ("", "Beside {crops:crop*}: {n:number} %.", "Neben {crops}: {n} %."),
        ("", "Told: {tone;}.", "Gesagt: {tone}."),
        ("tone", "loud", "laut"),
        ("tone", "soft", "leise"),
    ]
    assert table_of(pairs, KINDS, listed).find(english) == german_words


def test_a_hole_of_no_known_kind_is_a_fault() -> None:
    with pytest.raises(UnknownKindError, match=r"colour in A \{colour\} bed"):
        table_of([("", "A {colour} bed", "x")], KINDS, listed).find("A red bed")


def test_of_several_patterns_that_fit_the_one_that_says_most_is_taken() -> None:
    pairs = [("", "Bed {text}.", "Beet {text}."), ("", "Bed {text} is lost.", "Beet {text} ist verloren.")]
    assert table_of(pairs, KINDS, listed).find("Bed A is lost.") == "Beet A ist verloren."


def test_english_pages_show_sentences_as_they_are() -> None:
    with translation.override("en-gb"):
        assert in_language("As planned before. No such sentence.") == "As planned before. No such sentence."


@pytest.mark.usefixtures("german")
def test_what_no_pattern_knows_stays_english_and_is_marked_so() -> None:
    text = "As planned before. Bed <A> does something new. 2 rows to set out."
    assert [piece.english for piece in pieces_of(text)] == [False, True, False]
    page = engines["django"].from_string("{{ text|spoken }} {{ text|spoken_plain }}").render({"text": text})
    assert page == (
        'Wie zuvor geplant. <span lang="en">Bed &lt;A&gt; does something new.</span> 2 Reihen abzustecken. '
        "Wie zuvor geplant. Bed &lt;A&gt; does something new. 2 Reihen abzustecken."
    )


def test_every_pair_has_holes_of_known_kinds_and_no_hole_of_its_own() -> None:
    written = re.compile(r"\{(\w+)[^}]*\}")
    pairs = list(entries("de"))
    for _part, english, german_words in pairs:
        assert set(written.findall(german_words)) <= set(written.findall(english)), english
    for part in {part for part, _english, _german in pairs} - {""}:
        LANGUAGES["de"].part(part, "no such words at all.")
    assert LANGUAGES["de"].find("no such sentence at all") is None


def test_no_sentence_is_given_twice() -> None:
    keys = [(part, english) for part, english, _german in entries("de")]
    assert {key for key in keys if keys.count(key) > 1} == set()


@pytest.mark.usefixtures("german")
def test_nothing_is_said_of_no_text() -> None:
    assert (
        engines["django"].from_string("{{ text|spoken }}{{ text|spoken_plain }}").render({"text": None}) == ""
    )
