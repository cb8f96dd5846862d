"""The sheet of one crop shows every fact with its source, in either set of units."""

from __future__ import annotations

import pytest

from bedwright.catalogue import crop_sheet, load_catalogue
from bedwright.catalogue.sheet import SHEET_WIDTH, fact_value
from bedwright.model.book import UnitSystem, Variety
from bedwright.model.crop import Fact, with_packet

CATALOGUE = load_catalogue()


def test_every_source_of_the_crop_is_cited() -> None:
    crop = CATALOGUE.crops["tomato"]
    sheet = crop_sheet(crop, CATALOGUE, "metric")
    for fact in crop.facts:
        assert f"{fact.source_id}: " in sheet


@pytest.mark.parametrize("units", ["metric", "us"])
def test_no_line_is_too_long_for_any_crop(units: UnitSystem) -> None:
    for crop in CATALOGUE.crops.values():
        lines = crop_sheet(crop, CATALOGUE, units).splitlines()
        assert max(map(len, lines)) <= SHEET_WIDTH
        assert not any(line != line.rstrip() for line in lines)


def test_each_quantity_in_use_is_marked_once() -> None:
    crop = CATALOGUE.crops["carrot"]
    marked = [line for line in crop_sheet(crop, CATALOGUE, "metric").splitlines() if line.startswith("  * ")]
    assert len(marked) == sum(fact.used for fact in crop.facts)


def test_a_value_left_aside_says_why() -> None:
    text = " ".join(crop_sheet(CATALOGUE.crops["garlic"], CATALOGUE, "metric").split())
    assert "left aside: an average over" in text


def test_a_packet_value_is_shown_in_use() -> None:
    crop = with_packet(CATALOGUE.crops["carrot"], Variety("Early Short", sow_depth_mm=7))
    assert "  * 7 mm" in crop_sheet(crop, CATALOGUE, "metric")


@pytest.mark.parametrize(
    ("unit", "low", "high", "metric", "us"),
    [
        # Exact definitions: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.45359237 kg.
        ("cm", 5.08, 7.62, "5.08 to 7.62 cm", "2 to 3 in"),
        ("mm", 12.7, 12.7, "12.7 mm", "0.5 in"),
        ("m", 0.3048, 0.6096, "0.305 to 0.61 m", "1 to 2 ft"),
        ("degC", 0, 35, "0 to 35 °C", "32 to 95 °F"),
        ("degC", -40, -40, "-40 °C", "-40 °F"),
        ("kg/m", 1.48816, 1.48816, "1.49 kg per m of row", "1 lb per ft of row"),
        ("kg/plant", 0.45359237, 0.45359237, "0.454 kg a plant", "1 lb a plant"),
        ("1/g", 335.1, 335.1, "335 seeds per g", "9500 seeds per oz"),
        ("kg/ha", 112.0851, 112.0851, "112 kg/ha", "100 lb per acre"),
        ("percent", 75, 75, "75 %", "75 %"),
        ("days", 60, 60, "60 days", "60 days"),
    ],
)
def test_values_read_in_metric_and_in_us_units(
    unit: str, low: float, high: float, metric: str, us: str
) -> None:
    fact = Fact("quantity", low, high, "", unit, "MEMORY", "locator", "memory", used=True)
    assert fact_value(fact, "metric") == metric
    assert fact_value(fact, "us") == us


def test_a_maturity_says_from_which_day_it_counts() -> None:
    fact = Fact("days_to_maturity", 70, 90, "setting out", "days", "MEMORY", "x", "memory", used=True)
    assert fact_value(fact, "metric") == "70 to 90 days from setting out"
