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
