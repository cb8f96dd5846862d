from dataclasses import replace
from typing import Any

from bedwright.papers.cards import cards_data
from bedwright.papers.typesetting import typeset
from tests.plans import demo_plan
from tests.unit.papers.pdf_reading import words_of


def _card(crop: str, units: str = "metric") -> dict[str, Any]:
    cards = cards_data(demo_plan(), "a4", units)["cards"]  # type: ignore[arg-type]
    return next(card for card in cards if card["crop"] == crop)


def _line(card: dict[str, Any], label: str) -> str:
    line = next(line for line in card["lines"] if line["label"] == label)
    return " ".join([line["text"], *line["more"]])


def test_every_crop_planted_has_one_card() -> None:
    plan = demo_plan()
    names = [card["crop"] for card in cards_data(plan, "a4", "metric")["cards"]]
    assert names == sorted({p.crop.name for p in plan.plantings})


def test_a_published_depth_and_a_different_practice_both_stand_with_their_source() -> None:
    told = _line(_card("carrot"), "How deep")
    assert "6 mm deep" in told
    assert "[1]" in told
    assert "12 mm (common practice, no source)" in told
    assert _card("carrot")["notes"][0].startswith("1  Invented Growers' Bulletin 12")


def test_a_value_from_memory_is_marked_as_a_first_guess() -> None:
    assert "(first guess)" in _line(_card("carrot"), "How far apart")


def test_poisonous_parts_are_named_with_a_caution_and_never_promised_away() -> None:
    tomato = _card("tomato")
    assert "leaves; stems" in _line(tomato, "Poisonous or irritating")
    assert any("poisonous" in caution["text"] for caution in tomato["cautions"])
    assert all(caution["source"] for caution in tomato["cautions"])
    assert "no promise" in _line(_card("beet"), "Poisonous parts")


def test_crops_on_canes_get_the_caution_to_cap_them() -> None:
    assert any("Cap the tops" in caution["text"] for caution in _card("tomato")["cautions"])
    assert not any("Cap the tops" in caution["text"] for caution in _card("beet")["cautions"])


def test_broad_beans_warn_of_favism() -> None:
    plan = demo_plan()
    bean = replace(plan.plantings[2].crop, name="broad bean", latin_name="Vicia faba")
    cards = cards_data(replace(plan, plantings=(replace(plan.plantings[2], crop=bean),)), "a4", "metric")[
        "cards"
    ]
    assert "favism" in cards[0]["cautions"][0]["text"]


def test_cards_can_be_read_in_inches() -> None:
    assert "¼ in deep" in _line(_card("carrot", "us"), "How deep")


def test_every_card_can_be_selected_on_the_page() -> None:
    plan = demo_plan()
    words = words_of(typeset("cards", cards_data(plan, "letter", "us"), plan.made_on))
    for planting in plan.plantings:
        assert planting.crop.name in words
    assert "Local rules" in words
