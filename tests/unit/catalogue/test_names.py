"""Crops are found by British and American names."""

from __future__ import annotations

import pytest

from bedwright.catalogue import crop_named, load_catalogue, nearest_crops
from bedwright.catalogue.names import ALIASES

CATALOGUE = load_catalogue()


@pytest.mark.parametrize(
    ("said", "crop"),
    [
        ("courgette", "summer squash"),
        ("Zucchini", "summer squash"),
        ("aubergine", "eggplant"),
        ("rocket", "arugula"),
        ("Coriander", "cilantro"),
        ("swede", "rutabaga"),
        ("beetroot", "beet"),
        ("Spring onions", "scallion"),
        ("pak choi", "bok choy"),
        ("French bean", "bush bean"),
        ("climbing French beans", "pole bean"),
        ("sweetcorn", "sweet corn"),
        ("Sweet-Corn", "sweet corn"),
        ("tomatoes", "tomato"),
        ("Potatoes", "potato"),
        ("radishes", "radish"),
        ("strawberries", "strawberry"),
        ("  TOMATO ", "tomato"),
        ("peas", "pea"),
        ("chives", "chives"),
        ("fava bean", "broad bean"),
    ],
)
def test_a_crop_is_found_by_another_name(said: str, crop: str) -> None:
    found = crop_named(said, CATALOGUE)
    assert found is not None
    assert found.name == crop


@pytest.mark.parametrize("said", ["", "triffid", "runner bean", "s"])
def test_an_unknown_name_gives_no_crop(said: str) -> None:
    assert crop_named(said, CATALOGUE) is None


def test_a_misspelt_name_gives_the_nearest_crops_first() -> None:
    assert nearest_crops("tomatoe plant", CATALOGUE)[0] == "tomato"
    assert nearest_crops("brocoli", CATALOGUE)[0] == "broccoli"
    assert nearest_crops("courgete", CATALOGUE)[0] == "summer squash"


def test_nothing_is_near_a_word_like_no_crop() -> None:
    assert nearest_crops("xxxxqqqq", CATALOGUE) == ()


def test_a_known_name_is_its_own_nearest() -> None:
    assert nearest_crops("Aubergines", CATALOGUE) == ("eggplant",)


def test_every_other_name_leads_to_a_crop_and_hides_none() -> None:
    assert set(ALIASES.values()) <= set(CATALOGUE.crops)
    assert not set(ALIASES) & set(CATALOGUE.crops)
