"""Texts and their translations."""

from __future__ import annotations

import gettext
import io
import re

from django.template import engines
from django.utils import translation
from hypothesis import given
from hypothesis import strategies as st

from bedwright.apps.web.project import messages


def test_every_text_has_a_german_translation() -> None:
    assert messages.untranslated("de") == []


def test_the_compiled_translations_are_up_to_date() -> None:
    compiled = messages.LOCALES / "de" / "LC_MESSAGES" / "django.mo"
    assert compiled.read_bytes() == messages.mo_bytes(messages.translations("de")), (
        "run python -m bedwright.apps.web.project.messages"
    )


def test_translations_keep_the_places_that_are_filled_in() -> None:
    place = re.compile(r"%\(\w+\)[sd]|\{\w+\}|%%")
    wrong = []
    for key, texts in messages.translations("de").items():
        if not key:
            continue
        wanted = {frozenset(place.findall(part)) for part in key.split("\0")}
        wrong += [key for text in texts if frozenset(place.findall(text)) not in wanted]
    assert wrong == []


def test_a_page_speaks_german_where_german_is_asked_for() -> None:
    with translation.override("de"):
        assert translation.gettext("Wishes") == "Wünsche"
        one, many = (translation.ngettext("%(n)s crop", "%(n)s crops", n) % {"n": n} for n in (1, 3))
    assert (one, many) == ("1 Kultur", "3 Kulturen")


def test_a_percent_sign_in_a_template_is_looked_up_as_django_does() -> None:
    source = '{% load i18n %}{% translate "up to enough in 80 %" %}'
    ((text, _plural),) = messages.texts_of_template(source)
    assert text in messages.translations("de")
    with translation.override("de"):
        assert engines["django"].from_string(source).render() == "bis genug in 80 %"


WORDS = st.text(st.characters(exclude_characters="\0", exclude_categories=["Cs"]), max_size=20)


@given(st.dictionaries(WORDS.filter(bool), WORDS.filter(bool), max_size=20))
def test_what_is_compiled_is_what_pythons_own_reader_finds(entries: dict[str, str]) -> None:
    # Python's gettext module is the authority on the format here.
    head = {"": ("Content-Type: text/plain; charset=UTF-8\n",)}
    compiled = messages.mo_bytes(head | {key: (text,) for key, text in entries.items()})
    read = gettext.GNUTranslations(io.BytesIO(compiled))
    assert {key: read.gettext(key) for key in entries} == entries
