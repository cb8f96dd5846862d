from dataclasses import replace

from bedwright.model.season import BedDaylight
from bedwright.papers import climate_chart
from bedwright.papers.climate_pages import climate_data
from bedwright.papers.typesetting import typeset
from tests.plans import climate, demo_plan
from tests.unit.papers.pdf_reading import words_of


def test_the_chart_comes_as_svg_and_as_png() -> None:
    assert b"<svg" in climate_chart(climate())[:200]
    assert climate_chart(climate(), "png", units="us").startswith(b"\x89PNG")


def test_the_chart_is_the_same_bytes_every_time() -> None:
    assert climate_chart(climate()) == climate_chart(climate())


def test_the_page_shows_frost_at_every_chance_the_months_and_the_confidence() -> None:
    plan = demo_plan()
    assert plan.climate is not None
    words = words_of(typeset("climate", climate_data(plan, plan.climate, "a4", "metric"), plan.made_on))
    for said in (
        "2 Apr",
        "22 May",
        "90 %",
        "Thirty years",
        "1 of 30",
        "180 days",
        "Dec",
    ):
        assert said in words


def test_a_difference_of_temperature_is_converted_without_the_offset() -> None:
    plan = demo_plan()
    assert plan.climate is not None
    notes = climate_data(plan, plan.climate, "letter", "us")["notes"]
    assert any("3.6 °F colder" in note for note in notes)


def test_daily_light_stands_bed_by_bed_with_the_clear_sky_in_brackets() -> None:
    plan = demo_plan()
    assert plan.climate is not None
    lit = replace(
        plan, daylight=(BedDaylight("A", (42.4,) * 12, (23.6,) * 12), BedDaylight("B", (7.0,) * 12, ()))
    )
    data = climate_data(lit, plan.climate, "a4", "metric")
    assert [row[:2] for row in data["daylight"]] == [["A", "24 (42)"], ["B", "(7)"]]
    assert "Daily light on the beds" in words_of(typeset("climate", data, plan.made_on))
