from __future__ import annotations

from django.http import QueryDict
from django.utils import translation

from bedwright.apps.web.field.local_measures import LocalMeasures
from bedwright.apps.web.gardens.crop_words import as_in_book, as_shown, crop_word
from bedwright.apps.web.gardens.entry.boxes import boxes_of
from bedwright.apps.web.gardens.entry.posted import entry_of
from bedwright.apps.web.gardens.reading import catalogue
from bedwright.apps.web.gardens.surroundings import surroundings_of_new
from bedwright.store.book import schema


def test_every_crop_has_a_german_name_of_its_own() -> None:
    with translation.override("de"):
        words = [crop_word(name) for name in catalogue().crops]
    assert len(set(words)) == len(words)
    assert "Möhre" in words


def test_a_crop_typed_in_german_is_kept_under_the_name_of_the_catalogue() -> None:
    boxes = boxes_of(
        schema.HISTORY, {"bed": "A", "year": 2026, "crops": ("carrot", "kale")}, surroundings_of_new()
    )
    data = QueryDict(mutable=True)
    data.update({"bed": "A", "year": "2026", "crops": "möhre, Rote Bete, quince"})
    with translation.override("de"):
        assert entry_of(boxes, data, "de")["crops"] == ("carrot", "beet", "quince")
        assert as_in_book("note", "Möhre") == "Möhre"
        assert as_shown("crop", "carrot") == "Möhre"
        for name in catalogue().crops:
            assert as_in_book("crop", as_shown("crop", name)) == name


def test_the_catalogue_is_searched_in_the_language_of_the_page() -> None:
    from bedwright.apps.web.gardens.crop_facts import matching  # noqa: PLC0415

    with translation.override("de"):
        assert [crop.name for crop in matching(catalogue().crops.values(), "möhr", "", None)] == ["carrot"]


def test_lengths_in_the_field_have_the_decimal_sign_of_the_language() -> None:
    with translation.override("de"):
        assert LocalMeasures("metric").place(3.2) == "3,20 m"
        assert LocalMeasures("metric").spacing(0.075) == "7,5 cm"
    with translation.override("en"):
        assert LocalMeasures("metric").place(3.2) == "3.20 m"
