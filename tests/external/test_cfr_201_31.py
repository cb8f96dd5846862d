"""Least germination of vegetable seed against 7 CFR 201.31.

Source of every figure: US Code of Federal Regulations, title 7, section 201.31, Minimum
germination standards for vegetable seeds in interstate commerce, which include hard seed;
text of 59 FR 64491 (14 December 1994) read at law.lawstack.com. Part 201 was revised by
85 FR 40571 (2020); whether these figures changed was not checked.
"""

from __future__ import annotations

import pytest

from bedwright.catalogue import load_catalogue

CATALOGUE = load_catalogue()

# Row of the regulation in brackets where its name differs from the catalogue's.
PERCENT = {
    "artichoke": 60,
    "asparagus": 70,
    "bush bean": 70,  # bean, garden
    "pole bean": 70,  # bean, garden
    "lima bean": 70,
    "broad bean": 75,
    "beet": 65,
    "broccoli": 75,
    "brussels sprouts": 70,
    "cabbage": 75,
    "carrot": 55,
    "cauliflower": 75,
    "celery": 55,
    "chard": 65,
    "chives": 50,
    "collards": 80,
    "sweet corn": 75,
    "cucumber": 80,
    "dill": 60,
    "eggplant": 60,
    "kale": 75,
    "kohlrabi": 75,
    "leek": 60,
    "lettuce": 80,
    "melon": 75,  # muskmelon
    "mustard": 75,  # mustard, India
    "okra": 50,
    "onion": 70,
    "scallion": 70,  # onion, Welsh
    "bok choy": 75,  # pak-choi
    "parsley": 60,
    "parsnip": 60,
    "pea": 80,
    "sweet pepper": 55,
    "pumpkin": 75,
    "radish": 75,
    "rhubarb": 60,
    "rutabaga": 75,
    "sage": 60,
    "spinach": 60,
    "summer squash": 75,  # squash
    "winter squash": 75,  # squash
    "tomato": 75,
    "tomatillo": 50,  # tomato, husk
    "turnip": 80,
    "watermelon": 70,
}


@pytest.mark.parametrize("crop", PERCENT)
def test_the_least_germination_is_that_of_the_regulation(crop: str) -> None:
    assert CATALOGUE.crops[crop].federal_germination_pct == PERCENT[crop]


@pytest.mark.parametrize("crop", sorted(set(CATALOGUE.crops) - set(PERCENT)))
def test_a_crop_the_regulation_does_not_name_has_no_federal_figure(crop: str) -> None:
    assert CATALOGUE.crops[crop].federal_germination_pct is None
